using ShopFloor.Domain.Common;
using ShopFloor.Domain.Planning;

namespace ShopFloor.Domain.Tests.Planning;

public sealed class WorkAxisTests
{
    [Fact]
    public void Nights_and_breaks_take_no_room_and_a_cure_runs_by_the_clock()
    {
        var day = new DateOnly(2026, 3, 2);
        var start = new DateTimeOffset(2026, 3, 2, 8, 0, 0, TimeSpan.Zero);
        var axis = WorkAxis.Of(
            start.AddMinutes(20),
            [
                (day, [new OpenSpan(start, start.AddHours(4)), new OpenSpan(start.AddHours(4.5), start.AddHours(8.5))]),
                (day.AddDays(1), []),
                (day.AddDays(2), [new OpenSpan(start.AddDays(2), start.AddDays(2).AddHours(4))]),
            ]
        );

        // Two quarter hours of the first day have begun already.
        Assert.Equal(30 + 16, axis.Slots);
        Assert.Equal(2, axis.Days.Count);
        Assert.Equal(start.AddMinutes(30), axis.StartOf(0));
        Assert.Equal(start.AddHours(4.5), axis.StartOf(14));
        Assert.Equal(start.AddHours(4), axis.EndOf(14));
        Assert.Equal(30, axis.EndOfDay(day.AddDays(1)));
        Assert.Equal(30, axis.StartOfDay(day.AddDays(1)));
        Assert.Equal(axis.Slots, axis.StartOfDay(day.AddDays(9)));
        Assert.Equal(0, axis.EndOfDay(day.AddDays(-1)));

        // Twelve hours after half past four in the afternoon it is half past four at night: the next open quarter hour is two days on.
        Assert.Equal(30, axis.AfterRest(30, 720));
        Assert.Equal(14, axis.AfterRest(10, 60));
        Assert.Equal(10, axis.AfterRest(10, 0));
    }

    [Fact]
    public void A_day_on_which_the_clocks_change_has_the_hours_its_clock_shows()
    {
        var zone = TimeZoneInfo.FindSystemTimeZoneById("Europe/Berlin");
        var sunday = new DateOnly(2026, 3, 29);
        DateTimeOffset At(int hour) => LocalClock.InstantOf(zone, sunday, new TimeOnly(hour, 0));
        var axis = WorkAxis.Of(At(0), [(sunday, [new OpenSpan(At(1), At(5))])]);

        // From 1:00 to 5:00 on the night on which 2:00 becomes 3:00 there are three hours.
        Assert.Equal(12, axis.Slots);
    }

    [Theory]
    [InlineData("08:00-12:00 12:30-16:30", "08:00-12:00 12:30-16:30")]
    [InlineData("8:00 - 12:00, 13:00–17:00", "08:00-12:00 13:00-17:00")]
    [InlineData("", "")]
    public void Hours_are_read_as_people_write_them(string text, string read) =>
        Assert.Equal(read, WeekHours.Text(WeekHours.Read([text, "", "", "", "", "", null], "hours").Value.Days[0]));

    [Theory]
    [InlineData("8-12", "'8-12' is not a span of hours")]
    [InlineData("12:00-08:00", "ends before it begins")]
    [InlineData("08:00-12:00 11:00-13:00", "begins before 08:00-12:00 has ended")]
    [InlineData("01:00-02:00 03:00-04:00 05:00-06:00 07:00-08:00 09:00-10:00", "at most 4 spans")]
    public void Hours_that_cannot_be_are_explained(string text, string said)
    {
        var failure = Assert.IsType<Failure.Invalid>(WeekHours.Read(["", text, "", "", "", "", ""], "hours").Failure);
        Assert.Contains(failure.Errors, e => e.Path == "hours[1]" && e.Text.Contains(said, StringComparison.Ordinal));
    }

    [Fact]
    public void Days_off_the_wrong_way_round_are_explained() =>
        Assert.Contains(
            "lies before the first",
            DaysOff
                .ReadList([new DaysOff(new DateOnly(2026, 3, 9), new DateOnly(2026, 3, 2), null)], "away")
                .Failure!.Sentence,
            StringComparison.Ordinal
        );
}
