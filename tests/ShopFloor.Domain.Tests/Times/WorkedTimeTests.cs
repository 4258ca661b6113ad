using CsCheck;
using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Tests.Times;

public sealed class WorkedTimeTests
{
    private static readonly DateTimeOffset Start = new(2026, 3, 2, 8, 0, 0, TimeSpan.Zero);

    [Theory]
    [InlineData("08:00:00", "08:25:00", 25)]
    [InlineData("08:00:59", "08:01:00", 1)]
    [InlineData("08:00:00", "08:00:59", 0)]
    [InlineData("08:30:00", "08:10:00", 0)]
    public void A_spell_counts_from_the_minute_on_the_clock_to_the_minute_on_the_clock(
        string from,
        string to,
        long minutes
    )
    {
        Assert.Equal(minutes, WorkedTime.Minutes(At(from), At(to)));
    }

    [Fact]
    public void Spells_that_follow_one_another_add_up_to_the_whole_however_they_are_cut() =>
        Gen.Int[0, 86_400_000]
            .List[2, 12]
            .Sample(cuts =>
            {
                var at = cuts.Order().Select(ms => Start.AddMilliseconds(ms)).ToList();
                var parts = at.Zip(at.Skip(1), WorkedTime.Minutes).Sum();
                Assert.Equal(WorkedTime.Minutes(at[0], at[^1]), parts);
            });

    [Fact]
    public void A_spell_over_the_end_of_a_week_counts_in_each_week_its_own_part() =>
        Gen.Select(Gen.Int[0, 86_400_000], Gen.Int[0, 86_400_000], Gen.Int[0, 1440])
            .Sample(
                (a, b, minute) =>
                {
                    var (from, to) = (Start.AddMilliseconds(Math.Min(a, b)), Start.AddMilliseconds(Math.Max(a, b)));
                    var (first, cut, last) = (Start.AddDays(-7), Start.AddMinutes(minute), Start.AddDays(7));
                    Assert.Equal(
                        WorkedTime.Minutes(from, to),
                        WorkedTime.Minutes(from, to, first, cut) + WorkedTime.Minutes(from, to, cut, last)
                    );
                }
            );

    private static DateTimeOffset At(string time) =>
        new DateTimeOffset(Start.Date, TimeSpan.Zero)
        + TimeSpan.Parse(time, System.Globalization.CultureInfo.InvariantCulture);
}
