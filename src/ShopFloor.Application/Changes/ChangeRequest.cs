using ShopFloor.Application.Quoting;

namespace ShopFloor.Application.Changes;

/// <summary>Further work at an operation of the route, or at one that the change adds.</summary>
public sealed record ChangeWorkRequest(string? Operation, string? Skill, string? StandardCode, decimal? Quantity);

/// <summary>What an added operation waits for besides earlier operations.</summary>
/// <param name="Kind">holdPoint, cure or customerPart.</param>
/// <param name="Operation">For holdPoint and cure: which operation's.</param>
/// <param name="Part">For customerPart: the part's code.</param>
public sealed record ChangeGateRequest(string? Kind, string? Operation = null, string? Part = null);

/// <summary>An operation to be added to the route.</summary>
/// <param name="Code">Its number, 1 to 4 digits, such as 55: it stands between 50 and 60.</param>
/// <param name="Phase">intake, trimOut, seamPrep, plateFit, mockUp, offCarPaint, finalWeld or signOff.</param>
/// <param name="Place">bay, bench, paint or office; absent means bay.</param>
/// <param name="After">Operations that must be done before it.</param>
/// <param name="Before">Operations, none begun, that wait for it.</param>
/// <param name="CureMinutes">0 to 10080.</param>
public sealed record ChangeOperationRequest(
    string? Code,
    string? Title,
    string? Phase,
    string? Skill,
    string? Place = null,
    IReadOnlyList<string?>? After = null,
    IReadOnlyList<string?>? Before = null,
    IReadOnlyList<string?>? NeedsOpen = null,
    IReadOnlyList<string?>? Closes = null,
    IReadOnlyList<string?>? Opens = null,
    IReadOnlyList<ChangeGateRequest?>? Gates = null,
    bool? HotWork = null,
    int? CureMinutes = null,
    string? Instruction = null,
    string? Caution = null,
    bool? PaintOrSolvent = null
);

/// <summary>A line to be added to the inspection.</summary>
/// <param name="Unit">Absent: answered with passed or failed.</param>
/// <param name="Hold">Work behind it waits until it is passed.</param>
/// <param name="ByInspector">Only an inspector passes it; absent means yes.</param>
public sealed record ChangeLineRequest(
    string? Operation,
    string? What,
    string? How,
    string? Unit = null,
    decimal? Nominal = null,
    decimal? Lower = null,
    decimal? Upper = null,
    bool? PhotoRequired = null,
    bool? Hold = null,
    bool? ByInspector = null,
    string? Caution = null
);

/// <summary>What the front desk or the API fills in for a change order.</summary>
/// <param name="Reason">Why, in words for the customer.</param>
/// <param name="PhotoIds">Photos of this job that show it.</param>
/// <param name="ConditionFound">Answers found otherwise than agreed; prices the quote again. Not together with further work.</param>
/// <param name="PromiseDays">Days by which the promise moves; not together with <paramref name="PromiseOn"/>.</param>
/// <param name="Holds">Operations that wait for the answer; absent or empty for all that are not begun.</param>
public sealed record ChangeRequest(
    string? Reason,
    IReadOnlyList<Guid>? PhotoIds = null,
    IReadOnlyList<ChangeWorkRequest?>? Work = null,
    IReadOnlyList<ChangeOperationRequest?>? Operations = null,
    IReadOnlyList<ChangeLineRequest?>? InspectionLines = null,
    IReadOnlyList<LineRequest?>? Lines = null,
    IReadOnlyList<string?>? OutsideWorkCodes = null,
    decimal? DiscountPercent = null,
    long? DiscountMinor = null,
    IReadOnlyList<string?>? DiscountLineCodes = null,
    IReadOnlyDictionary<string, string?>? ConditionFound = null,
    int? PromiseDays = null,
    DateOnly? PromiseOn = null,
    IReadOnlyList<string?>? Holds = null
);
