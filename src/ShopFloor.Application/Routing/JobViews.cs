using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Routing;

/// <summary>Turns jobs into what people see.</summary>
public static class JobViews
{
    public static OperationView Of(
        Job job,
        Operation operation,
        GateFacts facts,
        IReadOnlyDictionary<string, decimal>? estimates = null
    )
    {
        var state = job.StateOf(operation, facts);
        var isFree = state is OperationState.Waiting or OperationState.Ready;
        return new OperationView(
            operation.Code,
            operation.Title,
            operation.Phase,
            operation.Skill,
            operation.Place,
            state,
            operation.IsUnderWay,
            job.State == JobState.Open
                && isFree
                && !operation.IsInspection
                && facts.OpenHoldLines.All(l => l.Operation != operation.Code),
            !operation.IsOver && job.WaitsForSignOff(operation, facts),
            [.. job.Gates(operation, facts).Select(g => new GateView(g.Code, g.IsMet, g.Text, g.Operation))],
            isFree ? job.Blockers(operation, facts) : [],
            operation.Route.HotWork,
            operation.Route.Instruction,
            operation.Route.Caution,
            operation.Route.CureMinutes,
            operation.BegunAt,
            operation.FinishedAt,
            operation.Progress == OperationProgress.Done && operation.DoneBeforeOn is null
                ? facts.Name(operation.FinishedByWorker)
                : null,
            operation.DoneBeforeOn,
            UndoUntil(operation, facts),
            operation.NotNeededReason,
            operation.CurrentHold is { } hold
                ? new HoldView(
                    hold.Reason.Code,
                    hold.Reason.Title,
                    hold.Note,
                    facts.Name(hold.By),
                    hold.From,
                    hold.Photo
                )
                : null,
            [
                .. operation
                    .Running.OrderBy(t => t.StartedAt)
                    .Select(t => new RunningView(t.Person, facts.Name(t.Worker), t.StartedAt)),
            ],
            operation.Minutes(facts.Now),
            estimates is not null && estimates.TryGetValue(operation.Code, out var hours) ? hours : null,
            operation.Mends,
            operation.Route.Figures,
            operation.Route.NeedsOpen,
            operation.Route.Pictures,
            operation.Route.PaintOrSolvent
        );
    }

    public static IReadOnlyList<StripCell> Strip(Job job, GateFacts facts) =>
        [
            .. job.Operations.Select(o => new StripCell(
                o.Code,
                o.Title,
                o.Phase,
                job.StateOf(o, facts),
                o.Progress == OperationProgress.NotNeeded
            )),
        ];

    /// <summary>What the car waits for from outside the floor (signature, part, inspection, cure, isolation) or because of a hold; earlier operations are no news.</summary>
    public static IReadOnlyList<string> WaitsFor(Job job, GateFacts facts)
    {
        if (job.State != JobState.Open)
        {
            return [];
        }

        var holds = job
            .Operations.Where(o => o.CurrentHold is not null)
            .Select(o => $"{o.Code} is on hold: {o.CurrentHold!.Words()}.");
        var gates = job
            .Operations.Where(o =>
                o.Progress is OperationProgress.NotBegun or OperationProgress.Paused
                && o.Route.After.All(code => job.Operation(code)!.IsOver)
            )
            .SelectMany(o => job.Gates(o, facts))
            .Where(g => !g.IsMet && g.Kind is not (GateKind.Operation or GateKind.AccessWay))
            .Select(g => g.Text);
        string[] unpaid = JobWaits.PaymentWords(job, facts) is { } words ? [words] : [];
        return
        [
            .. facts
                .FailedSinceSignOff.Select(JobWaits.FailedWords)
                .Concat(holds)
                .Concat(gates)
                .Concat(unpaid)
                .Distinct(),
        ];
    }

    private static DateTimeOffset? UndoUntil(Operation operation, GateFacts facts) =>
        operation.Progress == OperationProgress.Done
        && operation.DoneBeforeOn is null
        && operation.FinishRecordedAt is { } at
        && facts.Now <= at + Job.UndoWindow
            ? at + Job.UndoWindow
            : null;
}
