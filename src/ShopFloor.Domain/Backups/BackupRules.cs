using System.Globalization;

namespace ShopFloor.Domain.Backups;

/// <summary>Why a backup was made.</summary>
public enum BackupReason
{
    /// <summary>A day has gone by.</summary>
    Daily,

    /// <summary>The owner asked for it.</summary>
    Asked,

    /// <summary>A newer program is about to change the database.</summary>
    BeforeUpgrade,
}

/// <summary>How often a shop is backed up, how long backups are kept, and when their absence is a worry.</summary>
/// <remarks>Daily, weekly and monthly backups, each kept longer than the one before: common practice, no source. The figures are ours.</remarks>
public static class BackupRules
{
    public const int KeptDays = 7;
    public const int KeptWeeks = 5;
    public const int KeptMonths = 12;

    /// <summary>The next one is due so long after the last good one.</summary>
    public static TimeSpan Interval { get; } = TimeSpan.FromHours(24);

    /// <summary>A shop whose last good backup is older is warned: one night may fail, not two.</summary>
    public static TimeSpan OldAfter { get; } = TimeSpan.FromHours(48);

    public static bool IsDue(DateTimeOffset? lastGood, DateTimeOffset now) =>
        lastGood is not { } last || now - last >= Interval;

    /// <param name="lastGood">When the last good one was made; null when there is none.</param>
    /// <param name="since">Since when there is anything to lose.</param>
    public static bool IsOld(DateTimeOffset? lastGood, DateTimeOffset since, DateTimeOffset now) =>
        now - (lastGood ?? since) > OldAfter;

    /// <summary>
    /// Those that may go: of the last <see cref="KeptDays"/> days all stay, of each of the last <see cref="KeptWeeks"/> weeks (ISO 8601) and
    /// <see cref="KeptMonths"/> months the newest, and the newest of all whatever its age. Weeks and months are those of UTC.
    /// </summary>
    public static IReadOnlyList<DateTimeOffset> MayGo(IReadOnlyCollection<DateTimeOffset> made, DateTimeOffset now)
    {
        var newestFirst = made.OrderDescending().ToList();
        HashSet<DateTimeOffset> kept = [.. newestFirst.Take(1)];
        kept.UnionWith(newestFirst.Where(m => now - m <= TimeSpan.FromDays(KeptDays)));
        kept.UnionWith(NewestOfEach(newestFirst, WeekOf, m => now - m <= TimeSpan.FromDays(7 * KeptWeeks)));
        kept.UnionWith(NewestOfEach(newestFirst, MonthOf, m => MonthOf(m) > MonthOf(now) - KeptMonths));
        return [.. newestFirst.Where(m => !kept.Contains(m))];
    }

    private static IEnumerable<DateTimeOffset> NewestOfEach(
        IEnumerable<DateTimeOffset> newestFirst,
        Func<DateTimeOffset, int> period,
        Func<DateTimeOffset, bool> isRecent
    ) => newestFirst.Where(isRecent).GroupBy(period).Select(g => g.First());

    private static int WeekOf(DateTimeOffset at) =>
        (ISOWeek.GetYear(at.UtcDateTime) * 100) + ISOWeek.GetWeekOfYear(at.UtcDateTime);

    private static int MonthOf(DateTimeOffset at) => (at.UtcDateTime.Year * 12) + at.UtcDateTime.Month;
}
