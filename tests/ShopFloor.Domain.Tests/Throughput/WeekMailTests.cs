using System.Globalization;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Throughput;

namespace ShopFloor.Domain.Tests.Throughput;

/// <summary>When an owner's week is due by mail.</summary>
public sealed class WeekMailTests
{
    private static readonly PersonId Person = PersonId.From(new Guid("01950000-0000-7000-8000-0000000000aa"));
    private static readonly DateOnly Monday = new(2026, 6, 1);

    [Theory]
    [InlineData("Europe/Berlin", "2026-06-01T04:59:59Z", false)]
    [InlineData("Europe/Berlin", "2026-06-01T05:00:00Z", true)]
    [InlineData("America/Los_Angeles", "2026-06-01T13:59:59Z", false)]
    [InlineData("America/Los_Angeles", "2026-06-01T14:00:00Z", true)]
    [InlineData("America/Los_Angeles", "2026-06-08T06:59:59Z", true)] // still Sunday there
    [InlineData("America/Los_Angeles", "2026-06-08T07:00:00Z", false)] // Monday's first minute, before the hour
    public void It_is_due_from_seven_on_monday_by_the_shops_clock_until_the_week_ends(
        string zone,
        string now,
        bool isDue
    )
    {
        var wish = On(At("2026-05-20T12:00:00Z"));
        Assert.Equal(isDue ? Monday : null, wish.DueOn(At(now), ShopIn(zone)));
    }

    [Fact]
    public void It_is_off_until_it_is_asked_for_and_who_asks_after_the_hour_gets_the_next_monday()
    {
        var shop = ShopIn("Europe/Berlin");
        Assert.False(WeekMailWish.Of(Person).IsOn);
        Assert.Null(WeekMailWish.Of(Person).DueOn(At("2026-06-01T12:00:00Z"), shop));
        var late = On(At("2026-06-01T05:00:01Z"));
        Assert.Null(late.DueOn(At("2026-06-05T12:00:00Z"), shop));
        Assert.Equal(Monday.AddDays(7), late.DueOn(At("2026-06-08T05:00:00Z"), shop));
        var off = On(At("2026-05-20T12:00:00Z"));
        Assert.True(off.Change(false, null, At("2026-05-21T12:00:00Z")).IsSuccess);
        Assert.Null(off.DueOn(At("2026-06-01T12:00:00Z"), shop));
    }

    [Fact]
    public void Another_hour_counts_from_the_next_look_and_does_not_begin_the_wish_anew()
    {
        var shop = ShopIn("Europe/Berlin");
        var wish = On(At("2026-05-20T12:00:00Z"));
        Assert.True(wish.Change(true, 15, At("2026-06-01T06:00:00Z")).IsSuccess);
        Assert.Null(wish.DueOn(At("2026-06-01T12:59:00Z"), shop));
        Assert.Equal(Monday, wish.DueOn(At("2026-06-01T13:00:00Z"), shop));
        Assert.True(wish.Change(true, 9, At("2026-06-01T08:00:00Z")).IsSuccess);
        Assert.Equal(Monday, wish.DueOn(At("2026-06-01T08:00:00Z"), shop));
        foreach (var hour in new[] { -1, 24 })
        {
            Assert.Equal("hour", Assert.IsType<Failure.Invalid>(wish.Change(true, hour, Later).Failure).Errors[0].Path);
        }

        Assert.Equal(9, wish.Hour);
    }

    [Fact]
    public void A_mail_tells_of_the_week_before_the_monday_or_of_the_last_one_that_is_over()
    {
        var id = WeekMailId.From(new Guid("01950000-0000-7000-8000-0000000000ab"));
        Assert.Equal(new DateOnly(2026, 5, 25), WeekMail.Due(id, Person, Monday, Later).Start);
        Assert.Equal(new DateOnly(2026, 5, 25), WeekMail.Asked(id, Person, Monday.AddDays(6), Later).Start);
        Assert.Equal(Monday, WeekMail.Asked(id, Person, Monday.AddDays(7), Later).Start);
        Assert.Null(WeekMail.Asked(id, Person, Monday, Later).DueOn);
    }

    private static readonly DateTimeOffset Later = At("2026-06-02T08:00:00Z");

    private static WeekMailWish On(DateTimeOffset at)
    {
        var wish = WeekMailWish.Of(Person);
        Assert.True(wish.Change(true, null, at).IsSuccess);
        return wish;
    }

    private static Shop ShopIn(string zone) =>
        Shop.Create(
            ShopId.From(new Guid("01950000-0000-7000-8000-0000000000ff")),
            new Shop.Details("Sample shop", null, null, null, null, null, null, zone, "mm", null, false),
            "EUR"
        ).Value;

    private static DateTimeOffset At(string text) => DateTimeOffset.Parse(text, CultureInfo.InvariantCulture);
}
