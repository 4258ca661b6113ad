using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Routing;

/// <summary>One job with its route, as the office, the floor and the API see it.</summary>
/// <param name="CarId">Null where a kit is sent or a part comes without its car.</param>
/// <param name="Car">Year, make and model; without a car what is sold.</param>
/// <param name="CarFacts">Null where no car is in the shop.</param>
/// <param name="ReturnOf">The earlier job that this return visit belongs to.</param>
/// <param name="CameBack">Return visits for this job.</param>
/// <param name="WentOutOn">The day on which the kit or part left; null for cars and until then.</param>
/// <param name="BalanceMinor">What the customer owes, minor units; null for those who may not see money.</param>
/// <param name="CancelledCar">Where the car of a cancelled job is; null for other jobs.</param>
/// <param name="WaitsFor">What the car waits for now, in sentences; empty while something is in work or ready.</param>
public sealed record JobView(
    JobId Id,
    long Version,
    string Number,
    JobState State,
    QuoteId QuoteId,
    CustomerId CustomerId,
    string Customer,
    CarId? CarId,
    string Car,
    string? Registration,
    CarFactsView? CarFacts,
    SaleKind Kind,
    string KitCode,
    string UseCode,
    string Phase,
    DateOnly? PromisedOn,
    bool IsLate,
    IReadOnlyList<PromiseMoveView> PromiseMoves,
    DateTimeOffset OpenedAt,
    DateTimeOffset? EndedAt,
    bool EnteredMidRoute,
    string? CancelReason,
    CancelledCarView? CancelledCar,
    JobLink? ReturnOf,
    IReadOnlyList<JobLink> CameBack,
    DateOnly? WentOutOn,
    bool NeedsIsolation,
    IsolationView? Isolation,
    IReadOnlyList<string> WaitsFor,
    IReadOnlyList<OperationView> Operations,
    IReadOnlyList<JobReadingView> Readings,
    long? BalanceMinor,
    string? Currency
)
{
    /// <summary>Its access ways, open or closed.</summary>
    public IReadOnlyList<WayView> Ways { get; init; } = [];

    /// <summary>Places of which the shop has several of a kind, and in which of them the job is.</summary>
    public IReadOnlyList<JobPlaceView> Places { get; init; } = [];

    /// <summary>The customer's car is in the shop for it: it is dropped off and handed over.</summary>
    [System.Text.Json.Serialization.JsonIgnore]
    public bool HasCarHere => Kind.HasCarHere();

    /// <summary>The operations as a route strip shows them.</summary>
    [System.Text.Json.Serialization.JsonIgnore]
    public IReadOnlyList<StripCell> Strip =>
        [.. Operations.Select(o => new StripCell(o.Code, o.Title, o.Phase, o.State, o.NotNeededReason is not null))];
}

/// <summary>One of several places of a kind.</summary>
public sealed record JobPlaceView(string Kind, string Code, string Title, bool IsHere);

/// <summary>Where the car of a cancelled job is.</summary>
/// <param name="WasBroughtIn">A drop-off was recorded, or the car was taken over half built.</param>
/// <param name="ReturnedAt">When it went back; null while it is still in the shop.</param>
public sealed record CancelledCarView(bool WasBroughtIn, DateTimeOffset? ReturnedAt);

/// <summary>Another job, by its number.</summary>
public sealed record JobLink(JobId Id, string Number);

/// <summary>The car's facts that matter beside it.</summary>
public sealed record CarFactsView(string SteeringSide, string Energy, string Airbags, string Tank);

public sealed record PromiseMoveView(DateOnly From, DateOnly To, string Reason, string By, DateTimeOffset At);

public sealed record IsolationView(string QualifiedPerson, string? Reference, DateTimeOffset RecordedAt);

/// <summary>One reading taken on the job.</summary>
public sealed record JobReadingView(
    ReadingId Id,
    string Line,
    string Operation,
    string What,
    int Number,
    decimal? Value,
    string? Unit,
    string Result,
    string? Note,
    IReadOnlyList<PhotoId> PhotoIds,
    DateTimeOffset OccurredAt,
    DateTimeOffset RecordedAt
);

/// <summary>One operation as it stands.</summary>
/// <param name="Gates">Everything it has to wait for, met or not.</param>
/// <param name="Reasons">Why it cannot be started now; empty where it can, or where it is over.</param>
/// <param name="Minutes">Logged so far, those before the entry here included.</param>
/// <param name="EstimatedHours">From the accepted quote; null where it has none.</param>
/// <param name="MayBeNotNeeded">The office may set it to not needed; never true of an inspection.</param>
/// <param name="WaitsForSignOff">Only a sign-off finishes it.</param>
/// <param name="Mends">The operation that this rework mends; null where it is none.</param>
/// <param name="Figures">Calculators whose figures are wanted here, by code.</param>
/// <param name="NeedsOpen">Access ways it needs, by code.</param>
/// <param name="UndoUntil">Until when a finish may be taken back, by the server's clock; null where there is nothing to take back.</param>
public sealed record OperationView(
    string Code,
    string Title,
    Phase Phase,
    string Skill,
    string Place,
    OperationState State,
    bool IsUnderWay,
    bool MayBeNotNeeded,
    bool WaitsForSignOff,
    IReadOnlyList<GateView> Gates,
    IReadOnlyList<Reason> Reasons,
    bool HotWork,
    string Instruction,
    string? Caution,
    int CureMinutes,
    DateTimeOffset? BegunAt,
    DateTimeOffset? FinishedAt,
    string? FinishedBy,
    DateOnly? DoneBeforeOn,
    DateTimeOffset? UndoUntil,
    string? NotNeededReason,
    HoldView? Hold,
    IReadOnlyList<RunningView> Running,
    long Minutes,
    decimal? EstimatedHours,
    string? Mends = null,
    IReadOnlyList<string>? Figures = null,
    IReadOnlyList<string>? NeedsOpen = null,
    IReadOnlyList<InstructionPicture>? Pictures = null,
    bool PaintOrSolvent = false
);

public sealed record GateView(string Kind, bool IsMet, string Text, string? Operation);

/// <param name="Reason">Code of the shop's reason.</param>
public sealed record HoldView(
    string Reason,
    string Text,
    string? Note,
    string By,
    DateTimeOffset Since,
    PhotoId? PhotoId = null
);

public sealed record RunningView(PersonId? Person, string Name, DateTimeOffset StartedAt);

/// <summary>The answer to a command on one operation.</summary>
public sealed record OperationChanged(JobId JobId, long Version, OperationView Operation);

/// <summary>One row of the list of jobs.</summary>
public sealed record JobListItem(
    JobId Id,
    string Number,
    JobState State,
    CustomerId CustomerId,
    string Customer,
    CarId? CarId,
    string Car,
    string? Registration,
    SaleKind Kind,
    string KitCode,
    string Phase,
    DateOnly? PromisedOn,
    bool IsLate,
    IReadOnlyList<string> WaitsFor,
    IReadOnlyList<StripCell> Operations
);

/// <summary>One operation on a route strip.</summary>
public sealed record StripCell(string Code, string Title, Phase Phase, OperationState State, bool NotNeeded);
