using ShopFloor.Domain.Routing;

namespace ShopFloor.Domain.Tests.Routing;

/// <summary>The rules of the build-sequence check tried out literally: every order, no reductions. For small networks only.</summary>
internal static class BruteForce
{
    public static bool CanFinish(SequencePlan plan) =>
        !HasCircle(plan) && Finish(plan, [.. plan.Done], OpenAfterDone(plan));

    /// <summary>Each step is allowed, and at the end everything is done (or nothing more can be).</summary>
    public static bool Ends(SequencePlan plan, IReadOnlyList<string> order, bool finished)
    {
        var done = plan.Done.ToList();
        var open = OpenAfterDone(plan);
        foreach (var id in order)
        {
            var operation = plan.Operations.Single(o => o.Id == id);
            if (done.Contains(id) || !MayBeDone(operation, done, open))
            {
                return false;
            }

            open = Do(operation, open);
            done.Add(id);
        }

        return finished
            ? done.Count == plan.Operations.Count
            : done.Count < plan.Operations.Count
                && !plan.Operations.Any(o => !done.Contains(o.Id) && MayBeDone(o, done, open));
    }

    private static bool Finish(SequencePlan plan, List<string> done, HashSet<string> open)
    {
        if (done.Count == plan.Operations.Count)
        {
            return true;
        }

        return plan.Operations.Any(o =>
            !done.Contains(o.Id) && MayBeDone(o, done, open) && Finish(plan, [.. done, o.Id], Do(o, open))
        );
    }

    private static bool MayBeDone(SequenceOperation operation, List<string> done, HashSet<string> open) =>
        operation.After.All(done.Contains) && operation.NeedsOpen.All(open.Contains);

    private static HashSet<string> Do(SequenceOperation operation, HashSet<string> open) =>
        [.. open.Except(operation.Closes).Union(operation.Opens)];

    private static HashSet<string> OpenAfterDone(SequencePlan plan) =>
        plan.Done.Aggregate(plan.OpenWays.ToHashSet(), (open, id) => Do(plan.Operations.Single(o => o.Id == id), open));

    private static bool HasCircle(SequencePlan plan)
    {
        var rest = plan.Operations.ToList();
        while (rest.RemoveAll(o => !rest.Any(r => o.After.Contains(r.Id))) > 0) { }

        return rest.Count > 0;
    }
}
