using ShopFloor.Domain.Common;
using ShopFloor.Domain.HotWork;

namespace ShopFloor.Domain.Routing;

/// <content>Holds, the promised day, isolation, and the ways in which a job ends.</content>
public sealed partial class Job
{
    /// <summary>Work on it stops until the hold is lifted; whoever is on it is clocked off.</summary>
    public Outcome<Operation> Hold(
        string code,
        HoldReason reason,
        string? note,
        Tap tap,
        GateFacts facts,
        PhotoId? photo = null
    )
    {
        if (!OpenOperation(code).TryGet(out var operation, out var failure))
        {
            return failure;
        }

        if (WrongState(operation, facts) is { } wrong)
        {
            return wrong;
        }

        operation.Hold(new HoldSpell(reason, note, tap.Worker, tap.At, null, null) { Photo = photo }, facts.Now);
        return operation;
    }

    /// <summary>Lifts the hold. With <paramref name="takeUp"/> the worker goes on with an operation that was under way; one not begun yet just becomes free again.</summary>
    public Outcome<Operation> Resume(string code, bool takeUp, Tap tap, GateFacts facts)
    {
        if (!OpenOperation(code).TryGet(out var operation, out var failure))
        {
            return failure;
        }

        if (operation.Progress != OperationProgress.OnHold)
        {
            return Failure.Because("notOnHold", $"{code} {operation.Title} is not on hold.", code);
        }

        if (takeUp && operation.IsUnderWay)
        {
            if (Blockers(operation, facts) is { Count: > 0 } reasons)
            {
                return new Failure.Refused(reasons);
            }

            if (HotWorkGates.Refusal(this, operation, tap, facts) is { } danger)
            {
                return danger;
            }

            operation.Lift(tap.Worker, tap.At);
            operation.Join(tap.NewEntry, tap.Worker, tap.At, facts.Now);
            return operation;
        }

        operation.Lift(tap.Worker, tap.At);
        return operation;
    }

    /// <summary>This car does not need it. Refused for inspections, the release and hold points that are not passed, while it is on hold, where somebody is on it, or where what it would have opened is needed later.</summary>
    public Outcome<Operation> SetNotNeeded(string code, string reason, Worker by, GateFacts facts)
    {
        if (!OpenOperation(code).TryGet(out var operation, out var failure))
        {
            return failure;
        }

        // On hold too: a hold that nobody lifted would stay in the records without an end.
        if (WrongState(operation, facts) is { } wrong)
        {
            return wrong;
        }

        if (operation.IsInspection)
        {
            return Failure.Because(
                "inspection",
                operation == Release
                    ? $"{code} {operation.Title} is the release of the car: every car needs it. A car that is not finished is cancelled or stays open."
                    : $"{code} {operation.Title} is an inspection: no car goes without it. Where there is nothing to look at, the inspector finishes it.",
                code
            );
        }

        if (facts.OpenHoldLines.Count(l => l.Operation == code) is > 0 and var lines)
        {
            return Failure.Because(
                "holdPoint",
                $"{code} {operation.Title} has a hold point, and {(lines == 1 ? "one of its lines is" : $"{lines} of its lines are")} not passed: work stops there until an inspector has looked.",
                code
            );
        }

        if (operation.Progress == OperationProgress.InWork)
        {
            return Failure.Because("inWork", $"{code} {operation.Title} is in work. Stop it first.", code);
        }

        if (
            operation.Override is null
            && JobSequence.DeadEndAfter(this, operation, JobSequence.Stage.Over, OpenWays) is { } dead
        )
        {
            return new Failure.Refused([dead]);
        }

        operation.SetNotNeeded(reason, by, facts.Now);
        return operation;
    }

    /// <summary>Records that a qualified person isolated the high-voltage system.</summary>
    public Outcome<Done> RecordIsolation(HighVoltageIsolation isolation)
    {
        if (NotOpen() is { } closed)
        {
            return closed;
        }

        if (Isolation is not null)
        {
            return Failure.Because("alreadyIsolated", "The isolation is recorded already.");
        }

        Isolation = isolation;
        return Outcome.Ok;
    }

    /// <summary>Promises another day; the old one and the reason stay.</summary>
    public Outcome<Done> MovePromise(DateOnly to, string reason, Worker by, DateTimeOffset at)
    {
        if (NotOpen() is { } closed)
        {
            return closed;
        }

        if (PromisedOn is { } from && from != to)
        {
            PromiseMoves = [.. PromiseMoves, new PromiseMove(from, to, reason, by, at)];
        }

        PromisedOn = to;
        return Outcome.Ok;
    }

    /// <summary>The job ends unfinished: everybody is clocked off, nothing more can be started. What was done is charged by the account.</summary>
    public Outcome<Done> Cancel(string reason, DateTimeOffset now)
    {
        if (NotOpen() is { } closed)
        {
            return closed;
        }

        foreach (var operation in operations)
        {
            operation.StopAll(now, now, byFinish: false);
        }

        State = JobState.Cancelled;
        EndedAt = now;
        CancelReason = reason;
        return Outcome.Ok;
    }

    /// <summary>The car is handed over, or the goods went out. Refused while an operation is open.</summary>
    public Outcome<Done> Close(DateTimeOffset now)
    {
        if (NotOpen() is { } closed)
        {
            return closed;
        }

        var open = Operations.Where(o => !o.IsOver).ToList();
        if (open.Count > 0)
        {
            return new Failure.Refused([
                .. open.Take(10).Select(o => new Reason("operation", $"{o.Code} {o.Title} is not done.", o.Code)),
            ]);
        }

        State = JobState.Closed;
        EndedAt = now;
        return Outcome.Ok;
    }
}
