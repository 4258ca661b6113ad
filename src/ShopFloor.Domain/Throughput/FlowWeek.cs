using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Throughput;

/// <summary>One week of the shop's flow; the numbers are those of the figures of the same name.</summary>
/// <param name="Monday">Its first local day.</param>
/// <param name="InHand">At its end, or now.</param>
public sealed record FlowWeek(DateOnly Monday, int TakenIn, int Finished, int InHand)
{
    /// <summary>How many weeks are looked at together.</summary>
    public const int Count = 12;

    /// <summary>First day of the earliest week that is looked at, for a range that ends on a day.</summary>
    public static DateOnly FirstMonday(DateOnly lastDay) => MondayOf(lastDay).AddDays(-7 * (Count - 1));

    public static DateOnly MondayOf(DateOnly day) => day.AddDays(-(((int)day.DayOfWeek + 6) % 7));

    /// <summary>The weeks up to the one that holds a day, oldest first; weeks that have not begun are left out.</summary>
    public static IReadOnlyList<FlowWeek> Of(
        IReadOnlyCollection<CarStay> stays,
        DateOnly lastDay,
        DateTimeOffset now,
        Shop shop
    ) =>
        [
            .. Enumerable
                .Range(0, Count)
                .Select(i => ShopWeek.Starting(FirstMonday(lastDay).AddDays(7 * i), shop))
                .Where(w => w.From <= now)
                .Select(w => Of(stays, w, now < w.To ? now : w.To)),
        ];

    private static FlowWeek Of(IReadOnlyCollection<CarStay> stays, ShopWeek week, DateTimeOffset asOf)
    {
        int Within(Func<CarStay, DateTimeOffset?> instant) =>
            stays.Count(s => instant(s) is { } at && week.Contains(at) && at <= asOf);
        return new FlowWeek(
            week.FirstDay,
            Within(s => s.InAt),
            Within(s => s.FinishedAt),
            stays.Count(s => s.IsInHand(asOf))
        );
    }
}
