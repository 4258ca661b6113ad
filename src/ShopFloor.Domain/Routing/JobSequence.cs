using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Routing;

/// <summary>The build-sequence check on a running job: would what follows still be finishable?</summary>
internal static class JobSequence
{
    /// <summary>What an operation would be after the change that is looked at.</summary>
    public enum Stage
    {
        NotBegun,
        UnderWay,
        Over,
    }

    /// <summary>Why the change would build the car into a corner, or null where it would not (or where that could not be shown within the limit: only a proven dead end refuses).</summary>
    /// <remarks>Where the owner has already let the job into a dead end, no further step is blamed for it: the job's page says what is lost and rework opens it again.</remarks>
    public static Reason? DeadEndAfter(Job job, Operation changed, Stage stage, IReadOnlyCollection<string> openWays)
    {
        var result = SequenceCheck.Run(PlanAfter(job, changed, stage, openWays));
        if (
            result.CanFinish is not false
            || SequenceCheck.Run(PlanAfter(job, null, default, job.OpenWays)).CanFinish is false
        )
        {
            return null;
        }

        var losers = (result.DeadEnd?.Reasons ?? [])
            .Where(r => r.Code == "accessWay")
            .Select(r => job.Operation(r.Operation!)!)
            .ToList();
        var shut = job.OpenWays.Except(openWays).ToHashSet(StringComparer.Ordinal);
        var hit = losers.Find(o => o != changed && o.Route.NeedsOpen.Any(shut.Contains));
        if (hit is null)
        {
            var lost = losers.FirstOrDefault() ?? changed;
            return new Reason(
                "buildSequence",
                $"After this the job could not be finished: whatever is done next, {lost.Code} {lost.Title} would be left without "
                    + $"{string.Join(" or ", lost.Route.NeedsOpen.Select(job.WayTitle))}. Look at the order on the job's page.",
                lost.Code
            );
        }

        var way = hit.Route.NeedsOpen.First(shut.Contains);
        var first = losers
            .Where(o => o != changed && o.Route.NeedsOpen.Contains(way))
            .Select(o => $"{o.Code} {o.Title}")
            .Take(3);
        return new Reason(
            "buildSequence",
            $"After this the job could not be finished: {hit.Code} {hit.Title} needs {job.WayTitle(way)}, which would stay closed. "
                + $"Do {string.Join(", then ", first)} first.",
            hit.Code
        );
    }

    /// <summary>The remaining operations as the check sees them: one under way has closed its ways already and opens its own at its end.</summary>
    public static SequencePlan PlanAfter(Job job, Operation? changed, Stage stage, IReadOnlyCollection<string> openWays)
    {
        Stage StageOf(Operation o) =>
            o == changed ? stage
            : o.IsOver ? Stage.Over
            : o.IsUnderWay ? Stage.UnderWay
            : Stage.NotBegun;
        return PlanOf(job.Operations.Select(o => (o.Route, StageOf(o))), openWays);
    }

    /// <summary>The same for operations of which each has its stage.</summary>
    public static SequencePlan PlanOf(
        IEnumerable<(RouteOperation Route, Stage Stage)> operations,
        IEnumerable<string> openWays
    )
    {
        var left = operations.Where(o => o.Stage != Stage.Over).ToList();
        var codes = left.Select(o => o.Route.Code).ToHashSet(StringComparer.Ordinal);
        return new SequencePlan(
            [.. openWays],
            [
                .. left.Select(o =>
                {
                    var under = o.Stage == Stage.UnderWay;
                    var before = o
                        .Route.After.Concat(o.Route.Gates.Where(g => g.Kind == GateKind.Cure).Select(g => g.Operation!))
                        .Where(codes.Contains)
                        .Distinct(StringComparer.Ordinal);
                    return new SequenceOperation(
                        o.Route.Code,
                        under ? [] : [.. before],
                        under ? [.. o.Route.NeedsOpen.Except(o.Route.Closes)] : o.Route.NeedsOpen,
                        under ? [] : o.Route.Closes,
                        o.Route.Opens
                    );
                }),
            ],
            []
        );
    }
}
