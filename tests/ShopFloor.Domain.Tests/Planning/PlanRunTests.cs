using ShopFloor.Domain.Common;
using ShopFloor.Domain.Planning;

namespace ShopFloor.Domain.Tests.Planning;

public sealed class PlanRunTests
{
    private static readonly DateTimeOffset Start = RandomShop.Monday;
    private static readonly JobId One = JobId.From(new Guid(1, 0, 0x7000, 0x80, 0, 0, 0, 0, 0, 0, 0));
    private static readonly JobId Two = JobId.From(new Guid(2, 0, 0x7000, 0x80, 0, 0, 0, 0, 0, 0, 0));

    [Fact]
    public void One_server_makes_it_and_its_share_is_that_of_its_time()
    {
        var run = PlanRun.Ask(default, 100, null, Start).Value;
        Assert.True(run.Claim(Start.AddSeconds(10)));
        Assert.False(run.Claim(Start.AddSeconds(11)));
        run.Hear("fewest late hours", Start.AddSeconds(35));
        Assert.Equal(0.25, run.Share, 6);
        run.Hear("fewest late hours", Start.AddSeconds(500));
        Assert.Equal(1, run.Share, 6);
        Assert.True(run.IsAlive(Start.AddSeconds(559)));
        Assert.False(run.IsAlive(Start.AddSeconds(560)));
        run.End(PlanRunState.Finished, Start.AddSeconds(600));
        Assert.False(run.IsAlive(Start.AddSeconds(600)));
    }

    [Fact]
    public void An_ended_run_is_not_made_again() => Assert.False(Ended().Claim(Start.AddSeconds(2)));

    [Fact]
    public void What_was_said_of_a_job_can_be_forgotten()
    {
        var run = Ended();
        run.Explain(
            [new PlanLeftOut(One, "J-1", "why"), new PlanLeftOut(Two, "J-2", "why")],
            [new PlanGranted(One, "J-1", "Door panels of Ada"), new PlanGranted(Two, "J-2", "other")],
            []
        );
        run.Forget([One]);
        Assert.Equal(Two, Assert.Single(run.Granted).Job);
        Assert.Equal(Two, Assert.Single(run.LeftOut).Job);
    }

    [Fact]
    public void A_wished_beginning_that_has_passed_wishes_nothing()
    {
        var wish = new OperationWish("10", At: Start);
        Assert.Equal(Start, wish.BeginsAt(Start));
        Assert.Null(wish.BeginsAt(Start.AddMinutes(1)));
    }

    [Fact]
    public void Hours_that_are_given_leave_the_rest_of_the_shop_as_it_is()
    {
        var hours = ShopHours.Of(default);
        var closed = new DaysOff(new DateOnly(2026, 12, 24), new DateOnly(2026, 12, 31), "Winter");
        string[] places = ["bay", "paint"];
        Assert.True(
            hours
                .Change(
                    new ShopHours.Details(
                        WeekHours.Usual.Texts,
                        [closed],
                        new Dictionary<string, string> { ["paint"] = "hall" },
                        3,
                        new Dictionary<string, int> { ["bay"] = 4 }
                    ),
                    places
                )
                .IsSuccess
        );
        Assert.True(hours.Change(new ShopHours.Details(WeekHours.Usual.Texts, null, null, null), places).IsSuccess);
        Assert.Equal((4, "hall", 3), (hours.HoldsAtOnce("bay"), hours.RoomOf("paint"), hours.HandsOnACar));
        Assert.True(hours.IsClosed(new DateOnly(2026, 12, 25)));
        var refused = hours.Change(
            new ShopHours.Details(WeekHours.Usual.Texts, null, new Dictionary<string, string> { ["moon"] = "x" }, null),
            places
        );
        Assert.Contains("it has bay, paint", refused.Failure!.Sentence, StringComparison.Ordinal);
    }

    private static PlanRun Ended()
    {
        var run = PlanRun.Ask(default, 5, null, Start).Value;
        run.End(PlanRunState.Cancelled, Start.AddSeconds(1));
        return run;
    }
}
