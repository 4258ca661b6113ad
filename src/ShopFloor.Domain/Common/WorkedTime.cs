namespace ShopFloor.Domain.Common;

/// <summary>How long somebody worked, in whole minutes: the one rule for job pages, time sheets, costs and the owner's week.</summary>
/// <remarks>
/// A spell counts from the minute on the clock in which it began to the minute in which it ended. Spells that follow one another add up to the whole,
/// and a spell cut at midnight or at the end of a week to its parts; rounding each spell for itself would lose up to a minute every time.
/// Common practice, no source.
/// </remarks>
public static class WorkedTime
{
    /// <summary>Whole minutes between two instants; 0 where the end lies before the start.</summary>
    public static long Minutes(DateTimeOffset from, DateTimeOffset until) =>
        Math.Max(0, MinuteOf(until) - MinuteOf(from));

    /// <summary>Whole minutes of a spell that lie within a window.</summary>
    public static long Minutes(
        DateTimeOffset from,
        DateTimeOffset until,
        DateTimeOffset windowFrom,
        DateTimeOffset windowTo
    ) => Minutes(from > windowFrom ? from : windowFrom, until < windowTo ? until : windowTo);

    internal static long MinuteOf(DateTimeOffset at) => at.UtcTicks / TimeSpan.TicksPerMinute;
}
