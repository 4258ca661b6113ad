using ShopFloor.Application.Routing;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;

namespace ShopFloor.Application.Inspection.Plans;

/// <summary>An inspection plan in the list.</summary>
/// <param name="OlderJobs">Open jobs that are inspected by an older version.</param>
public sealed record InspectionPlanRow(
    string Code,
    string Title,
    int Version,
    IReadOnlyList<string> Kits,
    int Lines,
    int HoldLines,
    int WitnessLines,
    int OpenJobs,
    int OlderJobs
);

/// <summary>One version in the history of a plan.</summary>
/// <param name="ByName">Who saved it; null where the program did.</param>
/// <param name="Jobs">All jobs that are inspected by it, past ones too.</param>
public sealed record InspectionPlanVersionRow(int Version, DateTimeOffset At, string? ByName, string? Note, int Jobs);

/// <summary>One version whole.</summary>
/// <param name="Newest">The version that new jobs get.</param>
/// <param name="ContentHash">SHA-256 of its canonical JSON.</param>
public sealed record InspectionPlanView(
    InspectionPlanDocument Document,
    int Newest,
    string ContentHash,
    IReadOnlyList<InspectionPlanVersionRow> Versions,
    IReadOnlyList<RouteChoice> Operations
);

/// <summary>A figure of a rule set that may tighten a line's limits.</summary>
/// <param name="Code">As a line names it: <c>set/figure</c>.</param>
public sealed record PlanFigure(string Code, string Title, string? Unit);

/// <summary>Codes that a plan may name.</summary>
/// <param name="Tubes">Tubes of the price book's kits, by their part.</param>
public sealed record PlanChoices(
    IReadOnlyList<RouteChoice> Operations,
    IReadOnlyList<string> Kits,
    IReadOnlyList<RouteChoice> Uses,
    IReadOnlyList<RouteChoice> Hinges,
    IReadOnlyList<PlanFigure> Figures,
    IReadOnlyList<RouteChoice> Tubes
);

/// <summary>What stands in the way of saving a document, what it changes, and what may be named in it.</summary>
public sealed record InspectionPlanCheck(
    int FromVersion,
    InspectionPlanDocument Document,
    IReadOnlyList<FieldError> Problems,
    IReadOnlyList<Domain.Routing.RouteChange> Changes,
    PlanChoices Choices
);

/// <summary>A version that a job could go over to.</summary>
public sealed record NewerPlanView(int Version, IReadOnlyList<Domain.Routing.RouteChange> Changes);
