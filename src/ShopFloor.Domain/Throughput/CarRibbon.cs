using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Throughput;

/// <summary>A stretch of a car's time in one phase: worked on, or waiting for one thing.</summary>
/// <param name="WaitingFor">Null where somebody was on it.</param>
public sealed record RibbonPart(Phase Phase, string? WaitingFor, DateTimeOffset From, DateTimeOffset Until)
{
    public long Minutes => WorkedTime.Minutes(From, Until);
}

/// <summary>Cuts a car's time in hand into parts without gap or overlap, on whole minutes.</summary>
public static class CarRibbon
{
    /// <summary>What is said where nobody was on the car and nothing else is recorded: nights, free days, the queue.</summary>
    public const string NobodyOnIt = "nobody on it (nights, free days, queue)";

    public static IReadOnlyList<RibbonPart> Of(CarLog car, DateTimeOffset from, DateTimeOffset to)
    {
        ArgumentNullException.ThrowIfNull(car);
        if (car.InAt is not { } since || car.MinutesInHand(from, to) == 0)
        {
            return [];
        }

        var start = Math.Max(WorkedTime.MinuteOf(since), WorkedTime.MinuteOf(from));
        var end = Math.Min(WorkedTime.MinuteOf(car.EndAt ?? to), WorkedTime.MinuteOf(to));
        var worked = car
            .Steps.SelectMany(s => s.Spells)
            .Select(s => new Stretch(Minute(s.From), Minute(s.Until, end)))
            .ToList();
        var waits = car
            .Waits.OrderBy(w => w.Rank)
            .ThenBy(w => w.From)
            .Select(w => (w.Cause, Stretch: new Stretch(Minute(w.From), Minute(w.Until, end))))
            .ToList();
        var steps = car.Steps.Select(s => (s.Phase, Over: Minute(s.OverAt, long.MaxValue))).ToList();
        var cuts = worked
            .Concat(waits.Select(w => w.Stretch))
            .SelectMany(s => new[] { s.From, s.Until })
            .Concat(steps.Select(s => s.Over))
            .Where(m => m > start && m < end)
            .Append(start)
            .Append(end)
            .Distinct()
            .Order()
            .ToList();
        var parts = new List<RibbonPart>();
        for (var i = 0; i + 1 < cuts.Count; i++)
        {
            var (a, b) = (cuts[i], cuts[i + 1]);
            var phase = steps.Where(s => s.Over > a).Select(s => (Phase?)s.Phase).FirstOrDefault() ?? Phase.SignOff;
            var cause = worked.Exists(w => w.Holds(a))
                ? null
                : waits.Where(w => w.Stretch.Holds(a)).Select(w => w.Cause).FirstOrDefault() ?? NobodyOnIt;
            if (parts is [.., var last] && last.Phase == phase && last.WaitingFor == cause)
            {
                parts[^1] = last with { Until = At(b) };
            }
            else
            {
                parts.Add(new RibbonPart(phase, cause, At(a), At(b)));
            }
        }

        return parts;
    }

    private static long Minute(DateTimeOffset at) => WorkedTime.MinuteOf(at);

    private static long Minute(DateTimeOffset? at, long otherwise) => at is { } a ? WorkedTime.MinuteOf(a) : otherwise;

    private static DateTimeOffset At(long minute) => new(minute * TimeSpan.TicksPerMinute, TimeSpan.Zero);

    private readonly record struct Stretch(long From, long Until)
    {
        public bool Holds(long minute) => minute >= From && minute < Until;
    }
}
