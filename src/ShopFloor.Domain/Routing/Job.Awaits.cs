using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Routing;

/// <content>Facts that gates ask for and that are recorded on the job: stock, work sent out, people present, the owner's hold; and the owner's override of the build-sequence check.</content>
public sealed partial class Job
{
    /// <summary>Most things awaited, holds and presences that one job keeps.</summary>
    public const int MostFacts = 200;

    /// <summary>Operations wait for stock or for work sent out from now on.</summary>
    public Outcome<AwaitedThing> Await(
        AwaitedKind kind,
        string what,
        string? code,
        string? from,
        DateOnly? dueOn,
        IReadOnlyList<string> waiting,
        Worker by,
        DateTimeOffset now
    )
    {
        if (NotOpen() is { } closed)
        {
            return closed;
        }

        var errors = new FieldErrors();
        CheckWaiting(waiting, errors);
        errors.AddIf(
            waiting.Count == 0 && code is null,
            "operations",
            "Say which operations wait for it, or which gate of the route it answers."
        );
        errors.AddIf(Awaited.Count >= MostFacts, "what", $"A job keeps at most {MostFacts} of these.");
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        var thing = new AwaitedThing(
            Awaited.Count + 1,
            kind,
            what,
            code,
            from,
            dueOn,
            waiting,
            by,
            now,
            AwaitedState.Open,
            null,
            null
        );
        Awaited = [.. Awaited, thing];
        return thing;
    }

    /// <summary>It is there, back, or no longer needed.</summary>
    public Outcome<AwaitedThing> EndWait(int number, AwaitedState state, Worker by, DateTimeOffset now)
    {
        if (NotOpen() is { } closed)
        {
            return closed;
        }

        if (Awaited.FirstOrDefault(a => a.Number == number) is not { } thing)
        {
            return Failure.Missing($"thing numbered {number} that {Number} waits for");
        }

        if (!thing.IsOpen)
        {
            return Failure.Because("notOpen", $"{thing.What} is {AwaitedGates.Word(thing.State)} already.");
        }

        var fits =
            thing.Kind == AwaitedKind.Stock
                ? state is AwaitedState.Reserved or AwaitedState.Received or AwaitedState.Dropped
                : state is AwaitedState.Returned or AwaitedState.Dropped;
        if (!fits)
        {
            return Failure.Field(
                "state",
                thing.Kind == AwaitedKind.Stock
                    ? "Stock is reserved, received or dropped."
                    : "Work sent out is returned or dropped."
            );
        }

        var ended = thing with { State = state, EndedBy = by, EndedAt = now };
        Awaited = [.. Awaited.Select(a => a.Number == number ? ended : a)];
        return ended;
    }

    /// <summary>The owner stops the job, or some of its operations. Work that somebody is on goes on until they stop it.</summary>
    public Outcome<OwnerHold> StopByOwner(string reason, IReadOnlyList<string> stopped, Worker by, DateTimeOffset now)
    {
        if (NotOpen() is { } closed)
        {
            return closed;
        }

        var errors = new FieldErrors();
        CheckWaiting(stopped, errors);
        errors.AddIf(OwnerHolds.Count >= MostFacts, "reason", $"A job keeps at most {MostFacts} of these.");
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        var hold = new OwnerHold(OwnerHolds.Count + 1, reason, stopped, by, now, null, null);
        OwnerHolds = [.. OwnerHolds, hold];
        return hold;
    }

    /// <summary>The owner lets the job go on.</summary>
    public Outcome<OwnerHold> LiftOwnerHold(int number, Worker by, DateTimeOffset now)
    {
        if (NotOpen() is { } closed)
        {
            return closed;
        }

        if (OwnerHolds.FirstOrDefault(h => h.Number == number) is not { } hold)
        {
            return Failure.Missing($"owner's hold {number} on {Number}");
        }

        if (hold.Until is not null)
        {
            return Failure.Because("notOpen", "This hold was lifted already.");
        }

        var lifted = hold with { LiftedBy = by, Until = now };
        OwnerHolds = [.. OwnerHolds.Select(h => h.Number == number ? lifted : h)];
        return lifted;
    }

    /// <summary>Somebody is present at an operation that asks for it. A qualified person is named; a second person records themselves.</summary>
    public Outcome<Operation> RecordPresence(
        string code,
        GateKind kind,
        Worker by,
        string? name,
        string? reference,
        DateTimeOffset now
    )
    {
        if (!OpenOperation(code).TryGet(out var operation, out var failure))
        {
            return failure;
        }

        if (operation.Route.Gates.All(g => g.Kind != kind))
        {
            return Failure.Because(
                "notAsked",
                $"{code} {operation.Title} does not ask for {(kind == GateKind.SecondPerson ? "a second" : "a qualified")} person.",
                code
            );
        }

        if (kind == GateKind.QualifiedPerson && name is null)
        {
            return Failure.Field("name", "Name the qualified person who is present.");
        }

        if (kind == GateKind.SecondPerson && by.Person is null)
        {
            return Failure.Because(
                "secondPerson",
                "A second person records their own presence, signed in as themselves; a key that stands for no person cannot.",
                code
            );
        }

        Presences = [.. Presences.TakeLast(MostFacts - 1), new Presence(code, kind, by, name, reference, now)];
        return operation;
    }

    /// <summary>The owner lets an operation be started and finished although the build-sequence check refuses it.</summary>
    public Outcome<Operation> OverrideSequence(string code, string reason, Worker by, GateFacts facts)
    {
        if (!OpenOperation(code).TryGet(out var operation, out var failure))
        {
            return failure;
        }

        if (operation.IsOver)
        {
            return AlreadyOver(operation, facts);
        }

        if (SequenceReason(operation) is null)
        {
            return Failure.Because(
                "nothingToOverride",
                $"The build-sequence check does not stop {code} {operation.Title}; there is nothing to override.",
                code
            );
        }

        operation.Allow(new SequenceOverride(reason, by, facts.Now));
        return operation;
    }

    /// <summary>Why starting (or, once begun, finishing) an operation now would leave the job unfinishable; null where it would not, or where the owner decided otherwise.</summary>
    public Reason? SequenceReason(Operation operation)
    {
        ArgumentNullException.ThrowIfNull(operation);
        if (operation.IsOver || operation.Override is not null)
        {
            return null;
        }

        return operation.IsUnderWay
            ? JobSequence.DeadEndAfter(
                this,
                operation,
                JobSequence.Stage.Over,
                [.. OpenWays.Union(operation.Route.Opens)]
            )
            : JobSequence.DeadEndAfter(this, operation, JobSequence.Stage.UnderWay, Closed(operation));
    }

    /// <summary>Where a second person must be there, the one recorded is somebody else than the one who works.</summary>
    private Failure? OnlyThemselves(Operation operation, Worker worker, GateFacts facts)
    {
        if (operation.Route.Gates.All(g => g.Kind != GateKind.SecondPerson))
        {
            return null;
        }

        var present = Presences.Where(p =>
            p.Operation == operation.Code && p.Kind == GateKind.SecondPerson && facts.Now - p.At <= Presence.GoodFor
        );
        return present.Any(p => p.RecordedBy != worker)
            ? null
            : Failure.Because(
                "secondPerson",
                $"You are the only one recorded at {operation.Code}; somebody else must be present while you work.",
                operation.Code
            );
    }

    private void CheckWaiting(IReadOnlyList<string> codes, FieldErrors errors)
    {
        foreach (var (i, code) in codes.Index())
        {
            var operation = Operation(code);
            errors.AddIf(operation is null, $"operations[{i}]", $"There is no operation {code} on this job.");
            errors.AddIf(
                operation is { IsOver: true },
                $"operations[{i}]",
                $"{code} {operation?.Title} is done, so it waits for nothing."
            );
        }
    }
}
