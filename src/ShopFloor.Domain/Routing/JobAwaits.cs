namespace ShopFloor.Domain.Routing;

/// <summary>What sort of thing a job waits for from outside.</summary>
public enum AwaitedKind
{
    /// <summary>Material or parts from a supplier or the store.</summary>
    Stock,

    /// <summary>Work done elsewhere, such as coating or bending.</summary>
    SentOut,
}

/// <summary>How far it is.</summary>
public enum AwaitedState
{
    Open,

    /// <summary>Stock that lies in the shop and is set aside for this job.</summary>
    Reserved,

    /// <summary>Stock that has arrived.</summary>
    Received,

    /// <summary>Work that has come back.</summary>
    Returned,

    /// <summary>It is no longer needed.</summary>
    Dropped,
}

/// <summary>Stock, or work sent out, that operations of a job wait for.</summary>
/// <param name="Number">From 1, on its job.</param>
/// <param name="What">E.g. "45 × 2.5 mm tube, 6 m".</param>
/// <param name="Code">The code of a gate of the route that it answers; null for one recorded on this job only.</param>
/// <param name="From">The supplier, or to whom it was sent.</param>
/// <param name="DueOn">The local day on which it should be there.</param>
/// <param name="Operations">Codes of the operations that wait for it besides those with a gate of its code.</param>
public sealed record AwaitedThing(
    int Number,
    AwaitedKind Kind,
    string What,
    string? Code,
    string? From,
    DateOnly? DueOn,
    IReadOnlyList<string> Operations,
    Worker By,
    DateTimeOffset Since,
    AwaitedState State,
    Worker? EndedBy,
    DateTimeOffset? EndedAt
)
{
    public bool IsOpen => State == AwaitedState.Open;
}

/// <summary>One time that the owner stopped a job.</summary>
/// <param name="Operations">Codes of the operations it stops; empty for all that nobody is on.</param>
public sealed record OwnerHold(
    int Number,
    string Reason,
    IReadOnlyList<string> Operations,
    Worker By,
    DateTimeOffset Since,
    Worker? LiftedBy,
    DateTimeOffset? Until
);

/// <summary>Somebody was present at an operation that asks for it.</summary>
/// <param name="Kind"><see cref="GateKind.QualifiedPerson"/> or <see cref="GateKind.SecondPerson"/>.</param>
/// <param name="Name">Who, where it is nobody with a sign-in here; null for people of the shop.</param>
/// <param name="Reference">Certificate of a qualified person.</param>
public sealed record Presence(
    string Operation,
    GateKind Kind,
    Worker RecordedBy,
    string? Name,
    string? Reference,
    DateTimeOffset At
)
{
    /// <summary>How long a recorded presence counts by the server's clock: one shift.</summary>
    public static readonly TimeSpan GoodFor = TimeSpan.FromHours(12);
}
