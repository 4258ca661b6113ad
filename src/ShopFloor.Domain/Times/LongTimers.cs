using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Times;

/// <summary>When a running timer is taken for forgotten: past the end of the shift in which it began, or after more hours than the shop has set. Common practice, no source.</summary>
public static class LongTimers
{
    public const int LeastHours = 1;
    public const int MostHours = 24;
    public const int UsualHours = 10;

    /// <summary>How long before the end of the shift people are reminded of it.</summary>
    public static readonly TimeSpan Reminder = TimeSpan.FromMinutes(10);

    /// <summary>From when on its person is asked about a running timer.</summary>
    /// <param name="startedAt">By the device.</param>
    /// <param name="confirmedAt">When its person last said that they are still on it; null where they did not.</param>
    /// <param name="shop">Whose hours count.</param>
    public static DateTimeOffset AskFrom(DateTimeOffset startedAt, DateTimeOffset? confirmedAt, Shop shop)
    {
        var from = confirmedAt is { } said && said > startedAt ? said : startedAt;
        var byHours = from.AddHours(shop.LongTimerHours);
        return NextShiftEnd(from, shop) is { } end && end < byHours ? end : byHours;
    }

    /// <summary>The first end of a shift after an instant; null where the shop has set none.</summary>
    public static DateTimeOffset? NextShiftEnd(DateTimeOffset after, Shop shop)
    {
        if (shop.ShiftEndsAt is not { } time)
        {
            return null;
        }

        var day = shop.LocalDay(after);
        var end = shop.InstantOf(day, time);
        return end > after ? end : shop.InstantOf(day.AddDays(1), time);
    }

    /// <summary>The first instant after a start at which the shop's clock showed a time of day: what somebody means who says "I stopped at five".</summary>
    public static DateTimeOffset FirstAfter(DateTimeOffset start, TimeOnly time, Shop shop)
    {
        var day = shop.LocalDay(start);
        var at = shop.InstantOf(day, time);
        return at >= start ? at : shop.InstantOf(day.AddDays(1), time);
    }
}
