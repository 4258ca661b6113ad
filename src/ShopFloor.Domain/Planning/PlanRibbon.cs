using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Planning;

/// <summary>One open day of a car.</summary>
/// <param name="Phase">The phase of most of the day's work; null where nothing is done on it.</param>
/// <param name="Waits">What it waits for on a day without work; null on others.</param>
/// <param name="Slots">Quarter hours of work on that day.</param>
public sealed record RibbonDay(DateOnly Day, Phase? Phase, string? Waits, int Slots);

/// <summary>A car's days by phase, with what it waits for in between.</summary>
public static class PlanRibbon
{
    /// <param name="entries">Those of one job.</param>
    /// <returns>From the axis' first day to that of its last operation.</returns>
    public static IReadOnlyList<RibbonDay> Of(PlanProblem problem, IReadOnlyList<PlanEntry> entries)
    {
        ArgumentNullException.ThrowIfNull(problem);
        ArgumentNullException.ThrowIfNull(entries);
        if (entries.Count == 0)
        {
            return [];
        }

        var last = problem.Axis.DayIndexOf(entries.Max(e => e.End) - 1);
        return [.. problem.Axis.Days.Take(last + 1).Select(d => Day(problem, entries, d))];
    }

    private static RibbonDay Day(PlanProblem problem, IReadOnlyList<PlanEntry> entries, WorkDay day)
    {
        var work = entries
            .Select(e => (Entry: e, Slots: Math.Min(e.End, day.EndSlot) - Math.Max(e.Start, day.FirstSlot)))
            .Where(w => w.Slots > 0)
            .ToList();
        if (work.Count > 0)
        {
            var phase = work.GroupBy(w => problem.Tasks[w.Entry.Task].Phase).MaxBy(g => g.Sum(w => w.Slots))!.Key;
            return new RibbonDay(day.Day, phase, null, work.Sum(w => w.Slots));
        }

        var next = entries.Where(e => e.Start >= day.EndSlot).MinBy(e => e.Start)!;
        var task = problem.Tasks[next.Task];
        var byTask = entries.ToDictionary(e => e.Task);
        var cure = task.Before.Any(b =>
            b.RestMinutes > 0
            && byTask.TryGetValue(b.Task, out var before)
            && problem.Axis.AfterRest(before.End, b.RestMinutes) > day.FirstSlot
        );
        return new RibbonDay(
            day.Day,
            null,
            cure ? "the cure"
                : task.Earliest > day.FirstSlot ? task.Awaits ?? "its day"
                : "people and places that are at other cars",
            0
        );
    }
}
