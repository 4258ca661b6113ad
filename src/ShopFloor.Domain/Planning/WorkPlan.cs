namespace ShopFloor.Domain.Planning;

/// <summary>When, by whom and where an operation is done.</summary>
/// <param name="Task">Place of the operation in <see cref="PlanProblem.Tasks"/>.</param>
/// <param name="Start">First quarter hour.</param>
/// <param name="End">First quarter hour after it.</param>
/// <param name="Person">Place in <see cref="PlanProblem.People"/>.</param>
/// <param name="Place">Place in <see cref="PlanProblem.Places"/>.</param>
public sealed record PlanEntry(int Task, int Start, int End, int Person, int Place);

/// <summary>What a plan is judged by, in this order.</summary>
/// <param name="LateSlots">Quarter hours by which jobs end after their promised days, each times its job's weight.</param>
/// <param name="BaySlots">Quarter hours for which cars keep their bays.</param>
/// <param name="Moved">Operations that lie on another day than in the last plan.</param>
public sealed record PlanMeasure(long LateSlots, long BaySlots, int Moved) : IComparable<PlanMeasure>
{
    public int CompareTo(PlanMeasure? other) =>
        other is null ? 1 : (LateSlots, BaySlots, Moved).CompareTo((other.LateSlots, other.BaySlots, other.Moved));

    public static bool operator <(PlanMeasure left, PlanMeasure right) => left?.CompareTo(right) < 0;

    public static bool operator >(PlanMeasure left, PlanMeasure right) => left?.CompareTo(right) > 0;

    public static bool operator <=(PlanMeasure left, PlanMeasure right) => left is null || left.CompareTo(right) <= 0;

    public static bool operator >=(PlanMeasure left, PlanMeasure right) => right is null || left?.CompareTo(right) >= 0;

    public static PlanMeasure Of(PlanProblem problem, IReadOnlyList<PlanEntry> entries)
    {
        ArgumentNullException.ThrowIfNull(problem);
        ArgumentNullException.ThrowIfNull(entries);
        long late = 0;
        long bay = 0;
        foreach (var job in entries.GroupBy(e => problem.Tasks[e.Task].Job))
        {
            var facts = problem.Jobs[job.Key];
            late += (long)facts.Weight * Late(facts, job.Max(e => e.End));
            if (BaySpan(problem, job.Key, job) is { } span)
            {
                bay += span.End - span.Start;
            }
        }

        var moved = entries.Count(e =>
            problem.Tasks[e.Task].Planned is { } before
            && problem.Axis.DayIndexOf(Math.Min(before, problem.Axis.Slots - 1)) != problem.Axis.DayIndexOf(e.Start)
        );
        return new PlanMeasure(late, bay, moved);
    }

    /// <summary>Quarter hours by which a job is late that ends there.</summary>
    public static int Late(PlanJob job, int end)
    {
        ArgumentNullException.ThrowIfNull(job);
        return job.DueSlot is { } due ? Math.Max(0, end - due) : 0;
    }

    /// <summary>From when to when a car keeps its bay, and which; null where the job keeps none.</summary>
    public static (int Start, int End, int Bay)? BaySpan(PlanProblem problem, int job, IEnumerable<PlanEntry> entries)
    {
        ArgumentNullException.ThrowIfNull(problem);
        var facts = problem.Jobs[job];
        var there = entries.Where(e => problem.Places[e.Place].Kind == "bay").ToList();
        return !facts.HoldsBay || there.Count == 0
            ? null
            : (facts.Bay is null ? there.Min(e => e.Start) : 0, there.Max(e => e.End), there[0].Place);
    }
}

/// <summary>A plan that keeps the rules, and how good it is known to be.</summary>
/// <param name="Entries">One for each operation that could be planned.</param>
/// <param name="LateBound">No plan that ends within the quarter hours looked at has fewer late ones than this.</param>
/// <param name="BayBound">No plan with as few late quarter hours keeps bays for less; null where nothing is known.</param>
public sealed record WorkPlan(IReadOnlyList<PlanEntry> Entries, PlanMeasure Measure, long LateBound, long? BayBound);
