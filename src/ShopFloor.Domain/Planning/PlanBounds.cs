namespace ShopFloor.Domain.Planning;

/// <summary>What no plan can beat, by looking at each job alone: the longest chain of what must follow one another.</summary>
public static class PlanBounds
{
    /// <summary>The earliest quarter hour at which each operation can be over, by its own earliest beginning and what comes before it.</summary>
    /// <returns>One for each operation; operations that wait for one another in a circle keep their own earliest end.</returns>
    public static IReadOnlyList<int> EarliestEnds(PlanProblem problem)
    {
        ArgumentNullException.ThrowIfNull(problem);
        return Ends(
            problem,
            (t, rest) => Math.Max(problem.Tasks[t].Fixed ?? problem.Tasks[t].Earliest, rest),
            withRest: true
        );
    }

    /// <summary>Least quarter hours between the beginning of a job's first operation in the bay and the end of its last; 0 for a job that keeps no bay.</summary>
    public static int LeastInBay(PlanProblem problem, int job)
    {
        ArgumentNullException.ThrowIfNull(problem);
        var facts = problem.Jobs[job];
        var there = problem
            .Tasks.Index()
            .Where(t => t.Item.Job == job && t.Item.Places.Any(p => problem.Places[p].Kind == "bay"))
            .Select(t => t.Index)
            .ToHashSet();
        if (!facts.HoldsBay || there.Count == 0)
        {
            return 0;
        }

        var work = (there.Sum(t => problem.Tasks[t].Slots) + problem.MostHandsOnACar - 1) / problem.MostHandsOnACar;
        var ends = facts.Bay is null
            ? Ends(
                problem,
                (t, before) => there.Contains(t) || before > 0 ? before : -problem.Tasks[t].Slots,
                withRest: false
            )
            : EarliestEnds(problem);
        return Math.Max(work, there.Max(t => ends[t]));
    }

    private static int[] Ends(PlanProblem problem, Func<int, int, int> start, bool withRest)
    {
        var ends = new int[problem.Tasks.Count];
        var state = new byte[problem.Tasks.Count];
        for (var t = 0; t < ends.Length; t++)
        {
            Visit(t);
        }

        return ends;

        int Visit(int t)
        {
            if (state[t] == 0)
            {
                state[t] = 1;
                var before = problem
                    .Tasks[t]
                    .Before.Select(b =>
                        withRest ? Math.Max(0, problem.Axis.AfterRest(Visit(b.Task), b.RestMinutes)) : Visit(b.Task)
                    )
                    .DefaultIfEmpty(0)
                    .Max();
                ends[t] = Math.Max(0, start(t, Math.Max(0, before)) + problem.Tasks[t].Slots);
                state[t] = 2;
            }

            return ends[t];
        }
    }
}
