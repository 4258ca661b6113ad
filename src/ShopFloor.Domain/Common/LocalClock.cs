namespace ShopFloor.Domain.Common;

/// <summary>From the clock on the wall to instants.</summary>
public static class LocalClock
{
    /// <summary>The instant at which a zone's clock shows a time of day: the first one that exists where the clocks skip it, the first of two where they show it twice.</summary>
    public static DateTimeOffset InstantOf(TimeZoneInfo zone, DateOnly day, TimeOnly time)
    {
        var local = day.ToDateTime(time);
        while (zone.IsInvalidTime(local))
        {
            local = local.AddMinutes(15);
        }

        var offset = zone.IsAmbiguousTime(local) ? zone.GetAmbiguousTimeOffsets(local).Max() : zone.GetUtcOffset(local);
        return new DateTimeOffset(local, offset).ToUniversalTime();
    }
}
