using System.Globalization;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Times;

namespace ShopFloor.Domain.Tests.Times;

public sealed class LongTimersTests
{
    [Theory]
    // A shift that ends at 17:00 in Berlin (UTC+1 in March): asked then, or after ten hours, whichever comes first.
    [InlineData("17:00", 10, "2026-03-02T07:00Z", "2026-03-02T16:00Z")]
    [InlineData("17:00", 4, "2026-03-02T07:00Z", "2026-03-02T11:00Z")]
    [InlineData("17:00", 10, "2026-03-02T17:00Z", "2026-03-03T03:00Z")]
    [InlineData("", 10, "2026-03-02T07:00Z", "2026-03-02T17:00Z")]
    // The night in which the clocks skip 02:00 to 03:00: a shift that ends at 02:30 ends when the clocks show 03:00.
    [InlineData("02:30", 10, "2026-03-28T22:00Z", "2026-03-29T01:00Z")]
    public void A_timer_is_asked_about_past_its_shift_or_after_the_shops_hours(
        string shiftEnd,
        int hours,
        string started,
        string asked
    )
    {
        Assert.Equal(At(asked), LongTimers.AskFrom(At(started), null, ShopOf(shiftEnd, hours)));
    }

    [Fact]
    public void Whoever_says_that_they_are_still_on_it_is_asked_again_later()
    {
        var shop = ShopOf("17:00", 10);
        var started = At("2026-03-02T07:00Z");
        var said = At("2026-03-02T16:05Z");

        Assert.Equal(At("2026-03-03T02:05Z"), LongTimers.AskFrom(started, said, shop));
    }

    [Theory]
    [InlineData("2026-03-02T07:30Z", "17:00", "2026-03-02T16:00Z")]
    [InlineData("2026-03-02T21:30Z", "06:00", "2026-03-03T05:00Z")]
    public void A_time_of_day_means_the_first_one_after_the_start(string start, string clock, string means)
    {
        var time = TimeOnly.Parse(clock, CultureInfo.InvariantCulture);
        Assert.Equal(At(means), LongTimers.FirstAfter(At(start), time, ShopOf("", 10)));
    }

    [Theory]
    [InlineData("25:00", 10, "shiftEndsAt")]
    [InlineData("5 pm", 10, "shiftEndsAt")]
    [InlineData("17:00", 0, "longTimerHours")]
    [InlineData("17:00", 25, "longTimerHours")]
    public void Hours_that_cannot_be_are_refused_at_their_field(string shiftEnd, int hours, string field)
    {
        var failure = Assert.IsType<Failure.Invalid>(Made(shiftEnd, hours).Failure);
        Assert.Equal(field, Assert.Single(failure.Errors).Path);
    }

    internal static Shop ShopOf(string shiftEnd, int hours) => Made(shiftEnd, hours).Value;

    private static Outcome<Shop> Made(string shiftEnd, int hours) =>
        Shop.Create(
            ShopId.From(new Guid("00000000-0000-7000-8000-0000000000ff")),
            new Shop.Details(
                "Test Works",
                null,
                null,
                null,
                null,
                null,
                null,
                "Europe/Berlin",
                "mm",
                null,
                false,
                null,
                hours,
                shiftEnd
            ),
            "EUR"
        );

    private static DateTimeOffset At(string text) => DateTimeOffset.Parse(text, CultureInfo.InvariantCulture);
}
