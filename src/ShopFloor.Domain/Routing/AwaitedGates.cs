using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Routing;

/// <summary>Answers the gates that are recorded on the job itself: stock, work sent out, people present, the owner's hold.</summary>
internal static class AwaitedGates
{
    /// <summary>Gates of a route that are answered here.</summary>
    public static readonly IReadOnlyList<GateKind> Kinds =
    [
        GateKind.Stock,
        GateKind.SentOut,
        GateKind.QualifiedPerson,
        GateKind.SecondPerson,
    ];

    public static IEnumerable<GateAnswer> Answers(Job job, Operation operation, GateFacts facts) =>
        OwnerHolds(job, operation, facts)
            .Concat(
                operation.Route.Gates.Where(g => Kinds.Contains(g.Kind)).Select(g => Gate(job, operation, g, facts))
            )
            .Concat(job.Awaited.Where(a => a.IsOpen && a.Operations.Contains(operation.Code)).Select(Waiting));

    private static GateAnswer Gate(Job job, Operation operation, RouteGate gate, GateFacts facts) =>
        gate.Kind switch
        {
            GateKind.Stock or GateKind.SentOut => Thing(job, gate),
            _ => Person(job, operation, gate.Kind, facts),
        };

    private static GateAnswer Thing(Job job, RouteGate gate)
    {
        var kind = gate.Kind == GateKind.Stock ? AwaitedKind.Stock : AwaitedKind.SentOut;
        var known = job
            .Awaited.Where(a => a.Kind == kind && a.Code == gate.Part && a.State != AwaitedState.Dropped)
            .ToList();
        if (known.Find(a => a.IsOpen) is { } open)
        {
            return Waiting(open);
        }

        return known.Count > 0
            ? new GateAnswer(gate.Kind, true, $"{known[^1].What}: {Word(known[^1].State)}.", null)
            : new GateAnswer(
                gate.Kind,
                false,
                kind == AwaitedKind.Stock
                    ? $"Stock '{gate.Part}' is neither reserved nor received. The front desk records it on the job's route page."
                    : $"The work '{gate.Part}' done elsewhere has not come back. The front desk records when it goes and returns, on the job's route page.",
                null
            )
            {
                Whom = "the front desk",
            };
    }

    private static GateAnswer Waiting(AwaitedThing thing)
    {
        var due = thing.DueOn is { } day ? $", due {GateFacts.Day(day)}" : "";
        return new GateAnswer(
            thing.Kind == AwaitedKind.Stock ? GateKind.Stock : GateKind.SentOut,
            false,
            thing.Kind == AwaitedKind.Stock
                ? $"Waiting for stock: {thing.What}{(thing.From is { } supplier ? " from " + supplier : "")}{due}. The front desk ticks it off when it is reserved or received."
                : $"Waiting for work sent out: {thing.What}{(thing.From is { } to ? " at " + to : "")}{due}. The front desk ticks it off when it is back.",
            null
        )
        {
            Whom = thing.From ?? (thing.Kind == AwaitedKind.Stock ? "a supplier" : "a workshop outside"),
            Since = thing.Since,
            DueOn = thing.DueOn,
        };
    }

    private static GateAnswer Person(Job job, Operation operation, GateKind kind, GateFacts facts)
    {
        var present = job.Presences.LastOrDefault(p =>
            p.Operation == operation.Code && p.Kind == kind && facts.Now - p.At <= Presence.GoodFor
        );
        if (present is not null)
        {
            var who = present.Name ?? facts.Name(present.RecordedBy);
            return new GateAnswer(kind, true, $"{who} is present, recorded at {facts.At(present.At)}.", null);
        }

        return new GateAnswer(
            kind,
            false,
            kind == GateKind.QualifiedPerson
                ? "A qualified person must be present. Record who it is, with their certificate, before this starts; it counts for one shift."
                : "A second person must be present. Somebody other than the one who works records that they are there; it counts for one shift.",
            null
        )
        {
            Whom = kind == GateKind.QualifiedPerson ? "a qualified person" : "a second person",
        };
    }

    private static IEnumerable<GateAnswer> OwnerHolds(Job job, Operation operation, GateFacts facts) =>
        job
            .OwnerHolds.Where(h =>
                h.Until is null
                && !operation.IsOver
                && (h.Operations.Count == 0 || h.Operations.Contains(operation.Code))
            )
            .Select(h => new GateAnswer(
                GateKind.OwnerHold,
                false,
                $"Stopped by the owner since {facts.At(h.Since)}: {h.Reason} Only the owner lifts it.",
                null
            )
            {
                Whom = "the owner",
                Since = h.Since,
            });

    public static string Word(AwaitedState state) =>
        state switch
        {
            AwaitedState.Open => "awaited",
            AwaitedState.Reserved => "reserved",
            AwaitedState.Received => "received",
            AwaitedState.Returned => "back",
            AwaitedState.Dropped => "not needed",
            _ => throw new ArgumentOutOfRangeException(nameof(state), state, "Unknown state."),
        };
}
