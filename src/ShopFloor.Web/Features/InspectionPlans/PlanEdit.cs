using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;

namespace ShopFloor.Web.Features.InspectionPlans;

/// <summary>An inspection plan while it is being changed on the page.</summary>
public sealed class PlanEdit(InspectionPlanDocument document)
{
    public string Title { get; set; } = document.Title;

    public HashSet<string> Kits { get; } = [.. document.Kits];

    public List<LineEdit> Lines { get; } = [.. document.Lines.Select(l => new LineEdit(l))];

    public InspectionPlanDocument ToDocument() =>
        document with
        {
            Title = Title.Trim(),
            Kits = [.. Kits],
            Lines = [.. Lines.Select(l => l.ToLine())],
        };

    /// <summary>A free code for a line that is added.</summary>
    public string FreeCode() =>
        Enumerable
            .Range(1, InspectionPlan.MostLines + 1)
            .Select(n => $"line-{n}")
            .First(c => Lines.TrueForAll(l => l.Code != c));
}

/// <summary>How a line is answered.</summary>
public enum AnswerKind
{
    PassedOrFailed,
    Value,
    Difference,

    /// <summary>Against the tube ordered for the job.</summary>
    OrderedTube,
}

/// <summary>One line while it is being changed.</summary>
public sealed class LineEdit(PlannedLine line)
{
    public string Code { get; set; } = line.Code;
    public string Operation { get; set; } = line.Operation;
    public string What { get; set; } = line.What;
    public string How { get; set; } = line.How;
    public AnswerKind Answer { get; set; } =
        line.Ordered is not null ? AnswerKind.OrderedTube
        : line.Pair is not null ? AnswerKind.Difference
        : line.Unit is not null ? AnswerKind.Value
        : AnswerKind.PassedOrFailed;
    public string Unit { get; set; } = line.Unit ?? "";
    public decimal? Nominal { get; set; } = line.Nominal;
    public decimal? Lower { get; set; } = line.Lower;
    public decimal? Upper { get; set; } = line.Upper;
    public string First { get; set; } = line.Pair?[0] ?? "";
    public string Second { get; set; } = line.Pair?[1] ?? "";
    public string Part { get; set; } = line.Ordered?.Part ?? "";
    public TubeMeasure Of { get; set; } = line.Ordered?.Of ?? TubeMeasure.Diameter;
    public decimal? Under { get; set; } = line.Ordered?.Under;
    public decimal? Over { get; set; } = line.Ordered?.Over;
    public bool PhotoRequired { get; set; } = line.PhotoRequired;
    public InspectionPoint Point { get; set; } = line.Point;
    public bool CustomerMayAttend { get; set; } = line.CustomerMayAttend;
    public RecordedBy RecordedBy { get; set; } = line.RecordedBy;
    public string Source { get; set; } = line.Source;
    public string Caution { get; set; } = line.Caution ?? "";
    public bool PerDoor { get; set; } = line.PerDoor;
    public HashSet<string> Kits { get; } = [.. line.Kits ?? []];
    public HashSet<string> Uses { get; } = [.. line.Uses ?? []];
    public HashSet<string> HingeOptions { get; } = [.. line.HingeOptions ?? []];
    public List<string> Figures { get; } = [.. line.Figures ?? []];
    public List<string> HiddenBy { get; } = [.. line.HiddenBy ?? []];

    public PlannedLine ToLine()
    {
        var isMeasured = Answer is AnswerKind.Value or AnswerKind.Difference;
        return line with
        {
            Code = Code.Trim(),
            Operation = Operation,
            What = What.Trim(),
            How = How.Trim(),
            Unit =
                isMeasured ? Unit.Trim()
                : Answer == AnswerKind.OrderedTube ? "mm"
                : null,
            Ordered = Answer == AnswerKind.OrderedTube ? new OrderedLimit(Part, Of, Under ?? 0, Over ?? 0) : null,
            Nominal = isMeasured ? Nominal : null,
            Lower = isMeasured ? Lower : null,
            Upper = isMeasured ? Upper : null,
            Pair = Answer == AnswerKind.Difference ? [First.Trim(), Second.Trim()] : null,
            PhotoRequired = PhotoRequired,
            Point = Point,
            CustomerMayAttend = CustomerMayAttend && Point == InspectionPoint.Witness,
            RecordedBy = RecordedBy,
            Source = Source.Trim(),
            Caution = Caution.Trim() is { Length: > 0 } caution ? caution : null,
            PerDoor = PerDoor,
            Kits = Some(Kits),
            Uses = Some(Uses),
            HingeOptions = PerDoor ? Some(HingeOptions) : null,
            Figures = Some(Figures),
            HiddenBy = Some(HiddenBy),
        };
    }

    public static LineEdit New(string code, string operation) =>
        new(new PlannedLine(code, operation, "", "", "Common practice, no source"));

    private static IReadOnlyList<string>? Some(IReadOnlyCollection<string> codes) =>
        codes.Count == 0 ? null : [.. codes];
}
