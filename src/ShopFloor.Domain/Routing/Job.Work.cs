using ShopFloor.Domain.Common;
using ShopFloor.Domain.HotWork;

namespace ShopFloor.Domain.Routing;

/// <content>Work on the floor: start, stop, finish, and the short undo.</content>
public sealed partial class Job
{
    /// <summary>How long after a finish, by the server's clock, a mistaken tap may be taken back.</summary>
    public static readonly TimeSpan UndoWindow = TimeSpan.FromMinutes(2);

    /// <summary>A command's own data: who, when by the device, and an id for a time entry if one is made.</summary>
    public readonly record struct Tap(Worker Worker, DateTimeOffset At, TimeEntryId NewEntry);

    /// <summary>Every gate of an operation, met or not.</summary>
    public IReadOnlyList<GateAnswer> Gates(Operation operation, GateFacts facts) =>
        Gatekeeper.Answers(this, operation, facts);

    /// <summary>Gates that the shop itself lifts at the moment it begins: they do not hide that a part is missing.</summary>
    private static readonly HashSet<GateKind> LiftedAtTheStart =
    [
        GateKind.Permit,
        GateKind.FireWatch,
        GateKind.Fumes,
        GateKind.QualifiedPerson,
        GateKind.SecondPerson,
    ];

    /// <summary>The work has come to where it needs this part of the customer: some operation could begin but for it, and perhaps for other parts of the customer.</summary>
    public bool StandsStillFor(string part, GateFacts facts) =>
        State == JobState.Open
        && Operations.Any(o =>
            !o.IsOver
            && !o.IsUnderWay
            && o.Route.Gates.Any(g => g.Kind == GateKind.CustomerPart && g.Part == part)
            && Gates(o, facts).All(g => g.IsMet || g.Kind == GateKind.CustomerPart || LiftedAtTheStart.Contains(g.Kind))
        );

    /// <summary>Why it cannot be started now, its own state left aside; empty where it can.</summary>
    public IReadOnlyList<Reason> Blockers(Operation operation, GateFacts facts)
    {
        var unmet = Gates(operation, facts).Where(g => !g.IsMet).ToList();
        var earlier = unmet.Where(g => g.Kind == GateKind.Operation).Select(g => g.Operation).ToHashSet();

        // An operation that is waited for anyway need not be named again for its cure, its hold point or the way it opens.
        var reasons = unmet
            .Where(g =>
                g.Kind is not (GateKind.Cure or GateKind.HoldPoint or GateKind.AccessWay)
                || g.Operation is null
                || !earlier.Contains(g.Operation)
            )
            .Select(g => new Reason(g.Code, g.Text, g.Operation))
            .ToList();
        if (reasons.Count > 0 || operation.IsUnderWay)
        {
            return reasons;
        }

        reasons.AddRange(WaysHeldAgainst(operation));
        if (
            reasons.Count == 0
            && operation.Override is null
            && operation.Route.Closes.Count > 0
            && JobSequence.DeadEndAfter(this, operation, JobSequence.Stage.UnderWay, Closed(operation)) is { } dead
        )
        {
            reasons.Add(dead);
        }

        return reasons;
    }

    /// <summary>How an operation stands, as people see it.</summary>
    public OperationState StateOf(Operation operation, GateFacts facts) =>
        operation.Progress switch
        {
            OperationProgress.Done or OperationProgress.NotNeeded => OperationState.Done,
            OperationProgress.OnHold => OperationState.OnHold,
            OperationProgress.InWork => OperationState.InWork,
            _ => Blockers(operation, facts).Count == 0 ? OperationState.Ready : OperationState.Waiting,
        };

    /// <summary>Somebody goes to work on it. Already being on it is no failure and changes nothing.</summary>
    public Outcome<Operation> Start(string code, Tap tap, GateFacts facts)
    {
        if (!OpenOperation(code).TryGet(out var operation, out var failure))
        {
            return failure;
        }

        if (operation.IsOn(tap.Worker))
        {
            return operation;
        }

        if (WrongState(operation, facts) is { } wrong)
        {
            return wrong;
        }

        if (operation.Progress != OperationProgress.InWork && Blockers(operation, facts) is { Count: > 0 } reasons)
        {
            return new Failure.Refused(reasons);
        }

        if (OnlyThemselves(operation, tap.Worker, facts) is { } alone)
        {
            return alone;
        }

        if (HotWorkGates.Refusal(this, operation, tap, facts) is { } danger)
        {
            return danger;
        }

        BeginIfNew(operation, tap.At, byFinish: false);
        operation.Join(tap.NewEntry, tap.Worker, tap.At, facts.Now);
        return operation;
    }

    /// <summary>The worker leaves it; the time stays, others go on.</summary>
    public Outcome<Operation> Stop(string code, Tap tap, GateFacts facts)
    {
        if (!OpenOperation(code).TryGet(out var operation, out var failure))
        {
            return failure;
        }

        var entry = operation.Running.FirstOrDefault(t => t.Worker == tap.Worker);
        if (entry is null)
        {
            return operation.IsOver
                ? AlreadyOver(operation, facts)
                : Failure.Because(
                    "notOnIt",
                    $"You are not on {code} {operation.Title}, so there is nothing to stop.",
                    code
                );
        }

        if (tap.At < entry.StartedAt)
        {
            return Failure.Field(
                "occurredAt",
                $"The stop lies before the start at {facts.At(entry.StartedAt)}. Set the device's clock and tap again."
            );
        }

        operation.Leave(tap.Worker, tap.At, facts.Now);
        return operation;
    }

    /// <summary>It is done, for everybody on it. An operation that is ready may be finished straight away; <see cref="Release"/> only by a sign-off.</summary>
    public Outcome<Operation> Finish(string code, Tap tap, GateFacts facts)
    {
        if (!OpenOperation(code).TryGet(out var operation, out var failure))
        {
            return failure;
        }

        if (WrongState(operation, facts) is { } wrong)
        {
            return wrong;
        }

        var isNew = !operation.IsUnderWay;
        if (isNew && Blockers(operation, facts) is { Count: > 0 } reasons)
        {
            return new Failure.Refused(reasons);
        }

        if (isNew && OnlyThemselves(operation, tap.Worker, facts) is { } alone)
        {
            return alone;
        }

        if (isNew && HotWorkGates.WatchDuty(operation, tap, facts) is { } duty)
        {
            return duty;
        }

        if (WaitsForSignOff(operation, facts))
        {
            return Failure.Because(
                "notSignedOff",
                $"{code} {operation.Title} is done by signing off: another person than the one who worked signs the car off on its inspection page.",
                code
            );
        }

        var after = (isNew ? Closed(operation) : OpenWays).Union(operation.Route.Opens).ToList();
        if (
            operation.Override is null
            && JobSequence.DeadEndAfter(this, operation, JobSequence.Stage.Over, after) is { } dead
        )
        {
            return new Failure.Refused([dead]);
        }

        BeginIfNew(operation, tap.At, byFinish: true);
        operation.Finish(tap.Worker, tap.At, facts.Now, [.. operation.Route.Opens.Except(OpenWays)]);
        OpenWays = [.. OpenWays.Union(operation.Route.Opens)];
        return operation;
    }

    /// <summary>Takes back a mistaken finish within <see cref="UndoWindow"/> of the server's clock, as long as nothing has been built on it.</summary>
    public Outcome<Operation> UndoFinish(string code, GateFacts facts)
    {
        if (!OpenOperation(code).TryGet(out var operation, out var failure))
        {
            return failure;
        }

        if (operation.Progress != OperationProgress.Done || operation.FinishRecordedAt is not { } finished)
        {
            return Failure.Because(
                "notFinished",
                $"{code} {operation.Title} is not finished, so there is nothing to undo.",
                code
            );
        }

        if (operation.DoneBeforeOn is not null || facts.Now - finished > UndoWindow)
        {
            return Failure.Because(
                "undoTooLate",
                $"{code} was finished at {facts.At(finished)}; a finish can be taken back for two minutes. What must be done again is a new operation.",
                code
            );
        }

        if (
            operation.Times.Any(t => t.EndedByFinish)
            && HotWorkGates.Of(this, operation, facts, isOver: false).FirstOrDefault(g => !g.IsMet) is { } danger
        )
        {
            return Failure.Because(danger.Code, danger.Text, code);
        }

        var builtOn = Operations.FirstOrDefault(o =>
            o.BegunAt is not null
            && o != operation
            && (o.Route.After.Contains(code) || o.Route.NeedsOpen.Any(operation.OpenedByFinish.Contains))
        );
        if (builtOn is not null)
        {
            return Failure.Because(
                "builtOn",
                $"{builtOn.Code} {builtOn.Title} was begun on the strength of {code}, so its finish stands.",
                builtOn.Code
            );
        }

        List<string> ways = [.. OpenWays.Except(operation.OpenedByFinish)];
        var stage = JobSequence.Stage.UnderWay;
        if (operation.BegunByFinish)
        {
            ways = [.. ways.Union(operation.ClosedByStart)];
            stage = JobSequence.Stage.NotBegun;
        }

        if (JobSequence.DeadEndAfter(this, operation, stage, ways) is { } dead)
        {
            return new Failure.Refused([dead]);
        }

        operation.Unfinish();
        OpenWays = ways;
        return operation;
    }

    /// <summary>It is the release, and nobody has signed the car off.</summary>
    public bool WaitsForSignOff(Operation operation, GateFacts facts) => operation == Release && !facts.IsSignedOff;

    private void BeginIfNew(Operation operation, DateTimeOffset at, bool byFinish)
    {
        if (operation.IsUnderWay)
        {
            return;
        }

        operation.Begin(at, [.. operation.Route.Closes.Intersect(OpenWays)], byFinish);
        OpenWays = Closed(operation);
    }

    private List<string> Closed(Operation operation) => [.. OpenWays.Except(operation.Route.Closes)];

    private IEnumerable<Reason> WaysHeldAgainst(Operation operation) =>
        from other in Operations
        where other.Progress == OperationProgress.InWork && other != operation
        from way in other.Route.NeedsOpen.Intersect(operation.Route.Closes)
        select new Reason(
            "wayHeld",
            $"{other.Code} {other.Title} is in work and needs {WayTitle(way)}, which {operation.Code} closes. Finish or stop {other.Code} first.",
            other.Code
        );

    private static Failure? WrongState(Operation operation, GateFacts facts) =>
        operation.Progress switch
        {
            OperationProgress.Done or OperationProgress.NotNeeded => AlreadyOver(operation, facts),
            OperationProgress.OnHold => Failure.Because(
                "onHold",
                $"{operation.Code} is on hold since {facts.At(operation.Holds[^1].From)} ({facts.Name(operation.Holds[^1].By)}): "
                    + $"{operation.Holds[^1].Words()}. Resume it first.",
                operation.Code
            ),
            _ => null,
        };

    private static Failure AlreadyOver(Operation operation, GateFacts facts) =>
        operation.Progress == OperationProgress.NotNeeded
            ? Failure.Because(
                "notNeeded",
                $"{operation.Code} {operation.Title} was set to not needed: {operation.NotNeededReason}",
                operation.Code
            )
        : operation.DoneBeforeOn is { } day
            ? Failure.Because(
                "alreadyFinished",
                $"{operation.Code} {operation.Title} was done before the car was entered here, on {GateFacts.Day(day)}.",
                operation.Code
            )
        : Failure.Because(
            "alreadyFinished",
            $"{operation.Code} {operation.Title} is finished already: {facts.Name(operation.FinishedByWorker)} finished it at {facts.At(operation.FinishedAt!.Value)}.",
            operation.Code
        );
}
