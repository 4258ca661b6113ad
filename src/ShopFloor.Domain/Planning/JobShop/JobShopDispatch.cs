namespace ShopFloor.Domain.Planning.JobShop;

/// <summary>
/// A valid plan at once: active schedules of Giffler and Thompson (Algorithms for solving production-scheduling problems, Operations Research 8, 1960)
/// by several plain rules; the best of them is taken.
/// </summary>
public static class JobShopDispatch
{
    private delegate (long First, long Second) Rule(long start, int minutes, long workLeft, int stepsLeft);

    /// <summary>What is served first among those that compete: lowest figure wins.</summary>
    private static readonly Rule[] Rules =
    [
        static (_, minutes, left, _) => (-left, minutes),
        static (start, _, left, _) => (start, -left),
        static (_, minutes, left, _) => (minutes, -left),
        static (_, minutes, _, steps) => (-steps, minutes),
    ];

    public static JobShopPlan Best(JobShopProblem problem) =>
        Rules.Select(rule => Plan(problem, rule)).MinBy(p => p.Makespan(problem))!;

    private static JobShopPlan Plan(JobShopProblem problem, Rule rule)
    {
        var jobs = problem.Jobs;
        var starts = jobs.Select(j => new long[j.Steps.Count]).ToArray();
        var next = new int[jobs.Count];
        var jobFree = new long[jobs.Count];
        var resourceFree = new long[problem.ResourceCount];
        var workLeft = jobs.Select(j => j.Steps.Sum(s => (long)s.Minutes)).ToArray();
        var open = Enumerable.Range(0, jobs.Count).Where(j => jobs[j].Steps.Count > 0).ToList();
        while (open.Count > 0)
        {
            var (first, firstEnd) = (-1, long.MaxValue);
            foreach (var j in open)
            {
                var end = StartOf(j) + jobs[j].Steps[next[j]].Minutes;
                if (end < firstEnd)
                {
                    (first, firstEnd) = (j, end);
                }
            }

            // The one that could end first fixes the resource; all that could begin on it before that end compete.
            var resource = problem.ResourceOf[first][next[first]];
            var (chosen, best) = (first, Priority(first));
            foreach (var j in open)
            {
                if (problem.ResourceOf[j][next[j]] == resource && StartOf(j) < firstEnd)
                {
                    var priority = Priority(j);
                    if (priority.CompareTo(best) < 0)
                    {
                        (chosen, best) = (j, priority);
                    }
                }
            }

            var start = StartOf(chosen);
            var minutes = jobs[chosen].Steps[next[chosen]].Minutes;
            starts[chosen][next[chosen]] = start;
            jobFree[chosen] = resourceFree[resource] = start + minutes;
            workLeft[chosen] -= minutes;
            if (++next[chosen] == jobs[chosen].Steps.Count)
            {
                open.Remove(chosen);
            }
        }

        return new JobShopPlan(starts);

        long StartOf(int j) => Math.Max(jobFree[j], resourceFree[problem.ResourceOf[j][next[j]]]);

        (long, long) Priority(int j) =>
            rule(StartOf(j), jobs[j].Steps[next[j]].Minutes, workLeft[j], jobs[j].Steps.Count - next[j]);
    }
}
