using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Routing;

public enum JobState
{
    Open,

    /// <summary>Handed over.</summary>
    Closed,
    Cancelled,
}

/// <summary>How far an operation is, as kept. What people see is <see cref="OperationState"/>.</summary>
public enum OperationProgress
{
    NotBegun,

    /// <summary>Somebody is on it.</summary>
    InWork,

    /// <summary>Begun, nobody on it at the moment.</summary>
    Paused,
    OnHold,
    Done,
    NotNeeded,
}

/// <summary>How an operation stands, as people see it.</summary>
public enum OperationState
{
    Waiting,
    Ready,
    InWork,
    OnHold,
    Done,
}

/// <summary>Who works: a person of the shop, or an integration's key.</summary>
public readonly record struct Worker(PersonId? Person, Guid? Through)
{
    public static Worker Of(Actor actor) => new(actor.Person, actor.Person is null ? actor.Through : null);
}

/// <summary>One time that an operation was on hold.</summary>
/// <param name="Reason">As the shop's list had it then.</param>
/// <param name="Note">In the words of whoever put it on hold.</param>
public sealed record HoldSpell(
    HoldReason Reason,
    string? Note,
    Worker By,
    DateTimeOffset From,
    Worker? LiftedBy,
    DateTimeOffset? Until
)
{
    /// <summary>What is in the way, as a photo of the job; null where none was taken.</summary>
    public PhotoId? Photo { get; init; }

    /// <summary>Reason and note in one.</summary>
    public string Words() => Note is null ? Reason.Title : $"{Reason.Title}, {Note}";
}

/// <summary>One change of the promised day.</summary>
public sealed record PromiseMove(DateOnly From, DateOnly To, string Reason, Worker By, DateTimeOffset At);

/// <summary>A qualified person's isolation of the high-voltage system, as recorded.</summary>
public sealed record HighVoltageIsolation(
    string QualifiedPerson,
    string? Reference,
    Worker RecordedBy,
    DateTimeOffset RecordedAt
);

/// <summary>The owner's decision to go on although the build-sequence check says no.</summary>
public sealed record SequenceOverride(string Reason, Worker By, DateTimeOffset At);

public static class OperationWords
{
    public static string Title(this OperationState state) =>
        state switch
        {
            OperationState.Waiting => "Waiting",
            OperationState.Ready => "Ready",
            OperationState.InWork => "In work",
            OperationState.OnHold => "On hold",
            OperationState.Done => "Done",
            _ => throw new ArgumentOutOfRangeException(nameof(state), state, "Unknown state."),
        };
}
