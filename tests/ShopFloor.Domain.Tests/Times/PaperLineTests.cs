using ShopFloor.Domain.Common;
using ShopFloor.Domain.Times;

namespace ShopFloor.Domain.Tests.Times;

public sealed class PaperLineTests
{
    // Berlin is two hours ahead in May.
    private static readonly DateTimeOffset Now = new(2026, 5, 6, 12, 0, 0, TimeSpan.Zero);
    private static readonly DateOnly Today = new(2026, 5, 6);
    private static readonly Shop Shop = LongTimersTests.ShopOf("", 10);

    [Theory]
    [InlineData("09:10", "11:30", "2026-05-06T07:10Z", "2026-05-06T09:30Z")]
    [InlineData("09:10", null, "2026-05-06T07:10Z", null)]
    [InlineData(null, "11:30", null, "2026-05-06T09:30Z")]
    [InlineData(" 00:00 ", "00:00", "2026-05-05T22:00Z", "2026-05-05T22:00Z")]
    public void Times_are_read_by_the_shops_clock(string? began, string? ended, string? start, string? end)
    {
        var line = PaperLine.Read(Today, began, ended, false, Shop, Now).Value;

        Assert.Equal(start is null ? null : At(start), line.Start);
        Assert.Equal(end is null ? null : At(end), line.End);
    }

    [Fact]
    public void An_end_earlier_than_the_beginning_is_of_the_next_day()
    {
        var line = PaperLine.Read(Today.AddDays(-1), "22:30", "01:15", true, Shop, Now).Value;

        Assert.Equal(new DateTimeOffset(2026, 5, 5, 23, 15, 0, TimeSpan.Zero), line.End);
        Assert.True(line.IsDone);
    }

    [Theory]
    [InlineData(0, null, null, false, "beganAtClock")]
    [InlineData(0, "", " ", false, "beganAtClock")]
    [InlineData(0, "9:10", null, false, "beganAtClock")]
    [InlineData(0, "09:10", "25:00", false, "endedAtClock")]
    [InlineData(0, "14:01", null, false, "beganAtClock")]
    [InlineData(0, "13:00", "14:01", false, "endedAtClock")]
    [InlineData(0, "13:00", "12:00", false, "endedAtClock")]
    [InlineData(0, "09:10", null, true, "endedAtClock")]
    [InlineData(-32, "09:10", "10:00", false, "on")]
    public void What_cannot_stand_on_the_paper_is_said_at_its_field(
        int day,
        string? began,
        string? ended,
        bool isDone,
        string path
    )
    {
        var failure = PaperLine.Read(Today.AddDays(day), began, ended, isDone, Shop, Now).Failure;

        var invalid = Assert.IsType<Failure.Invalid>(failure);
        Assert.Equal([path], invalid.Errors.Select(e => e.Path));
    }

    [Fact]
    public void A_line_without_a_day_is_refused() =>
        Assert.IsType<Failure.Invalid>(PaperLine.Read(null, "09:10", "10:00", false, Shop, Now).Failure);

    private static DateTimeOffset At(string text) =>
        DateTimeOffset.Parse(text, System.Globalization.CultureInfo.InvariantCulture);
}
