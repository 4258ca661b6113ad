using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Inspection;

/// <summary>Whether work stops at a line. ISO 10005 (quality plans) names hold and witness points.</summary>
public enum InspectionPoint
{
    None,

    /// <summary>Work that the route puts behind this point waits until the line is passed.</summary>
    Hold,

    /// <summary>May be attended; work does not wait.</summary>
    Witness,
}

/// <summary>Who may record a passing reading of a line.</summary>
public enum RecordedBy
{
    /// <summary>Whoever works on the car, or an inspector.</summary>
    Worker,

    /// <summary>An inspector only.</summary>
    Inspector,
}

/// <summary>Said on screens and in comparisons.</summary>
public static class InspectionPlanWords
{
    public static string Words(this InspectionPoint point) =>
        point switch
        {
            InspectionPoint.Hold => "a hold point",
            InspectionPoint.Witness => "a witness point",
            _ => "no point of its own",
        };

    public static string Words(this RecordedBy by) =>
        by == RecordedBy.Inspector ? "an inspector" : "whoever works on the car";
}

/// <summary>What one line of the plan asks for. Without <see cref="Unit"/> it is answered with passed or failed.</summary>
/// <param name="Code">Unique in the plan, e.g. <c>hoop-upright</c>.</param>
/// <param name="Operation">Code of the route's operation at which it is recorded, e.g. <c>120</c>.</param>
/// <param name="What">What is looked at or measured.</param>
/// <param name="How">By which means, from where to where.</param>
/// <param name="Source">Where the limit comes from when no rule set gives it.</param>
/// <param name="Point">Hold, witness or neither.</param>
/// <param name="RecordedBy">Who may pass it.</param>
/// <param name="Unit"><c>mm</c>, <c>°</c>, <c>cm²</c>, …; null for passed or failed.</param>
/// <param name="Nominal">What is aimed at; null where only a limit counts.</param>
/// <param name="Lower">Least value that passes, inclusive, in <paramref name="Unit"/>.</param>
/// <param name="Upper">Greatest value that passes, inclusive.</param>
/// <param name="PhotoRequired">A passing reading carries at least one photo.</param>
/// <param name="PerDoor">One line for each door with a bar; its code ends in <c>-left</c> or <c>-right</c>.</param>
/// <param name="Kits">Only for these kits; null for all kits of the plan.</param>
/// <param name="HingeOptions">Only for doors with one of these hinge options; needs <paramref name="PerDoor"/>.</param>
/// <param name="Uses">Only for these intended uses; null for all.</param>
/// <param name="Figures">Rule-set figures as <c>set/figure</c>; those of the job's own rule sets tighten the limits.</param>
/// <param name="Caution">A short warning shown with the line.</param>
/// <param name="Pair">Names of two values that are read one after the other; their difference is judged.</param>
/// <param name="HiddenBy">Operations after which it can no longer be looked at, e.g. the paint; <see cref="HoldOrder"/> proves the route by them.</param>
/// <param name="Ordered">The limits go by the tube ordered for the job; the line then has none of its own.</param>
/// <param name="CustomerMayAttend">A witness point of which the customer's page tells too.</param>
public sealed record PlannedLine(
    string Code,
    string Operation,
    string What,
    string How,
    string Source,
    InspectionPoint Point = InspectionPoint.None,
    RecordedBy RecordedBy = RecordedBy.Worker,
    string? Unit = null,
    decimal? Nominal = null,
    decimal? Lower = null,
    decimal? Upper = null,
    bool PhotoRequired = false,
    bool PerDoor = false,
    IReadOnlyList<string>? Kits = null,
    IReadOnlyList<string>? HingeOptions = null,
    IReadOnlyList<string>? Uses = null,
    IReadOnlyList<string>? Figures = null,
    string? Caution = null,
    IReadOnlyList<string>? Pair = null,
    IReadOnlyList<string>? HiddenBy = null,
    OrderedLimit? Ordered = null,
    bool CustomerMayAttend = false
);

/// <summary>An inspection plan as its data file holds it, before it was checked.</summary>
/// <param name="Schema">Number of the file's layout; 1.</param>
/// <param name="Code">E.g. <c>weld-in-bar</c>.</param>
/// <param name="Version">Goes up by one with every change; a job keeps the lines it was opened with.</param>
/// <param name="Title">As people read it.</param>
/// <param name="Kits">Kit codes the plan is for.</param>
/// <param name="Lines">1 to 200, in the order in which the work passes them.</param>
public sealed record InspectionPlanDocument(
    int Schema,
    string Code,
    int Version,
    string Title,
    IReadOnlyList<string> Kits,
    IReadOnlyList<PlannedLine> Lines
);

/// <summary>The checked list of what is to be looked at and measured for some kits.</summary>
public sealed class InspectionPlan
{
    public const int CurrentSchema = 1;
    public const int MostLines = 200;

    private InspectionPlan(InspectionPlanDocument document) => Document = document;

    public InspectionPlanDocument Document { get; }

    public string Code => Document.Code;

    public int Version => Document.Version;

    public bool IsFor(string kitCode) => Document.Kits.Contains(kitCode, StringComparer.Ordinal);

    /// <summary>One line beyond a plan, for work that was added to a running job; null where it cannot be taken.</summary>
    public static LineToCheck? LineOf(PlannedLine line, string path, FieldErrors errors)
    {
        ArgumentNullException.ThrowIfNull(line);
        var found = new FieldErrors();
        InspectionPlanChecks.Check(line, path, found);
        if (found.Any)
        {
            errors.Take<LineToCheck>(found.ToFailure());
            return null;
        }

        return new LineToCheck(
            line.Code,
            line.Operation,
            line.What.Trim(),
            line.How.Trim(),
            line.Unit,
            line.Nominal,
            line.Lower,
            line.Upper,
            line.PhotoRequired,
            line.Point,
            line.RecordedBy,
            line.Source,
            line.Caution
        )
        {
            Pair = line.Pair,
            CustomerMayAttend = line.CustomerMayAttend,
        };
    }

    /// <summary>Checks a document; every problem becomes a sentence with the field's path.</summary>
    public static Outcome<InspectionPlan> From(InspectionPlanDocument document)
    {
        var errors = new FieldErrors();
        InspectionPlanChecks.Check(document, errors);
        return errors.Any ? errors.ToFailure() : new InspectionPlan(document);
    }
}
