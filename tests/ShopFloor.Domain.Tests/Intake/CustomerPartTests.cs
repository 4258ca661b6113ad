using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using static ShopFloor.Domain.Tests.Intake.Sample;

namespace ShopFloor.Domain.Tests.Intake;

public class CustomerPartTests
{
    [Fact]
    public void A_part_needs_a_name_and_a_day() =>
        Assert.Equal(["what", "dueOn"], PathsOf(Promise(new CustomerPartDetails(" "))));

    [Theory]
    [InlineData("1900-01-01", false)]
    [InlineData("2025-02-28", false)]
    [InlineData("2025-03-01", true)]
    [InlineData("2028-03-02", true)]
    [InlineData("2028-03-03", false)]
    public void The_promised_day_lies_between_a_year_ago_and_two_years_ahead(string day, bool isTaken)
    {
        var outcome = Promise(
            new CustomerPartDetails(
                "Door panels",
                DueOn: DateOnly.Parse(day, System.Globalization.CultureInfo.InvariantCulture)
            )
        );

        Assert.Equal(isTaken, outcome.IsSuccess);
        if (!isTaken)
        {
            Assert.Equal(["dueOn"], PathsOf(outcome));
        }
    }

    [Fact]
    public void A_part_is_late_from_the_day_after_its_day_until_it_arrives()
    {
        var part = Promise(new CustomerPartDetails("Door panels", "door-panels", Today)).Value;

        Assert.False(part.IsLate(Today));
        Assert.True(part.IsLate(Today.AddDays(1)));
        Assert.True(part.Arrive(At).IsSuccess);
        Assert.False(part.IsLate(Today.AddDays(1)));
    }

    [Fact]
    public void An_arrived_part_neither_arrives_again_nor_changes_nor_drops_out()
    {
        var part = Promise(new CustomerPartDetails("Door panels", DueOn: Today)).Value;
        part.Arrive(At);

        Assert.Equal(["arrived"], CodesOf(part.Arrive(At)));
        Assert.Equal(["arrived"], CodesOf(part.Drop()));
        Assert.Equal(["arrived"], CodesOf(part.Change(new CustomerPartDetails("Seats", DueOn: Today), Today)));
    }

    [Fact]
    public void A_part_is_missed_once_when_its_day_has_passed_or_the_work_stands_still_for_it()
    {
        var late = Promise(new CustomerPartDetails("Door panels", "door-panels", Today)).Value;
        Assert.False(late.Miss(isStandingStill: false, Today, At));
        Assert.True(late.Miss(isStandingStill: false, Today.AddDays(1), At));
        Assert.False(late.Miss(isStandingStill: true, Today.AddDays(2), At.AddDays(1)));
        Assert.Equal(At, late.MissedAt);

        var needed = Promise(new CustomerPartDetails("Seats", "seats", Today.AddDays(9))).Value;
        Assert.True(needed.Miss(isStandingStill: true, Today, At));
        Assert.False(needed.Miss(isStandingStill: false, Today.AddDays(10), At));

        var here = Promise(new CustomerPartDetails("Seats", "seats", Today)).Value;
        here.Arrive(At);
        Assert.False(here.Miss(isStandingStill: true, Today.AddDays(1), At));
    }

    [Fact]
    public void A_dropped_part_does_not_arrive()
    {
        var part = Promise(new CustomerPartDetails("Door panels", DueOn: Today)).Value;

        Assert.True(part.Drop().IsSuccess);
        Assert.Equal(["dropped"], CodesOf(part.Arrive(At)));
    }

    private static Outcome<CustomerPart> Promise(CustomerPartDetails details) =>
        CustomerPart.Promise(Ids.New<CustomerPartId>(At), Ids.New<JobId>(At), details, Today);
}
