namespace ShopFloor.Domain.Routing;

/// <summary>What the build-sequence check says of a job as it stands, in words.</summary>
/// <param name="CanFinish">Null where the limit was reached: nothing is known.</param>
/// <param name="Order">One order of the remaining operations that works.</param>
/// <param name="Sentences">What people read.</param>
/// <param name="PointsOfNoReturn">Operations that close a way for good, each with what must be done before.</param>
public sealed record JobOutlook(
    bool? CanFinish,
    IReadOnlyList<string> Order,
    IReadOnlyList<string> Sentences,
    IReadOnlyList<string> PointsOfNoReturn
)
{
    public static JobOutlook Of(Job job)
    {
        ArgumentNullException.ThrowIfNull(job);
        var plan = JobSequence.PlanAfter(job, null, default, job.OpenWays);
        var result = SequenceCheck.Run(plan);
        return new JobOutlook(result.CanFinish, result.Order, InWords(job, plan, result), NoReturn(job));
    }

    private static IReadOnlyList<string> InWords(Job job, SequencePlan plan, SequenceResult result)
    {
        if (result.CanFinish is null)
        {
            return
            [
                "It could not be proven within the search limit whether the rest can be finished. Nothing is refused for that; look at the ways yourself before closing one.",
            ];
        }

        if (result.CanFinish is true)
        {
            return plan.Operations.Count == 0 ? ["Everything is done."]
                : plan.Operations.Count == 1 ? [$"Only {result.Order[0]} is left."]
                : [$"The rest can be finished. One order that works: {string.Join(" → ", result.Order)}."];
        }

        return
        [
            "From here the job cannot be finished as it stands.",
            .. (result.DeadEnd?.Reasons ?? [])
                .Where(r => r.Code == "accessWay")
                .Take(5)
                .Select(r => job.Operation(r.Operation!)!)
                .Select(o => $"{o.Code} {o.Title} is left without {Missing(job, o)}."),
            "Put rework on the route that opens the way again, or set what cannot be done to not needed.",
        ];
    }

    /// <summary>The ways it lacks now; where none is closed yet but the order closes it, all it needs.</summary>
    private static string Missing(Job job, Operation operation)
    {
        var closed = operation.Route.NeedsOpen.Where(w => !job.OpenWays.Contains(w)).ToList();
        return string.Join(" or ", (closed.Count > 0 ? closed : operation.Route.NeedsOpen).Select(job.WayTitle));
    }

    private static List<string> NoReturn(Job job)
    {
        var left = job.Operations.Where(o => !o.IsOver).ToList();
        var found = new List<string>();
        foreach (var closer in left.Where(o => o.BegunAt is null))
        {
            foreach (
                var way in closer.Route.Closes.Where(w => !left.Exists(o => o != closer && o.Route.Opens.Contains(w)))
            )
            {
                var first = left.Where(o => o != closer && o.Route.NeedsOpen.Contains(way))
                    .Select(o => o.Code)
                    .ToList();
                if (first.Count > 0)
                {
                    found.Add(
                        $"{closer.Code} {closer.Title} ends this for good: {job.WayTitle(way)}. Before it: {string.Join(", ", first)}."
                    );
                }
            }
        }

        return found;
    }
}
