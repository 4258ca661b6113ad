using ShopFloor.Application.Changes;
using ShopFloor.Application.Quoting;
using ShopFloor.Domain.Changes;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Routing;
using ShopFloor.Web.Features.Quotes;
using Book = ShopFloor.Domain.Quoting.PriceBook;

namespace ShopFloor.Web.Features.Changes;

/// <summary>A piece of further work, while it is typed.</summary>
public sealed class WorkRow
{
    public string? Operation { get; set; }
    public string? Skill { get; set; }
    public string? StandardCode { get; set; }
    public decimal? Quantity { get; set; }
}

/// <summary>A gate of an operation to be added, while it is typed.</summary>
public sealed class AddedGateRow
{
    public GateKind Kind { get; set; } = GateKind.HoldPoint;
    public string? Operation { get; set; }
    public string? Part { get; set; }

    public bool HasOperation => Kind is GateKind.HoldPoint or GateKind.Cure;

    public bool HasPart => Kind is GateKind.CustomerPart or GateKind.Stock or GateKind.SentOut;
}

/// <summary>An operation to be added, while it is typed.</summary>
public sealed class AddedRow
{
    public string? Code { get; set; }
    public string? Title { get; set; }
    public Phase Phase { get; set; }
    public string? Skill { get; set; }
    public string Place { get; set; } = "bay";
    public HashSet<string> After { get; init; } = new(StringComparer.Ordinal);
    public HashSet<string> Before { get; init; } = new(StringComparer.Ordinal);
    public HashSet<string> NeedsOpen { get; init; } = new(StringComparer.Ordinal);
    public HashSet<string> Closes { get; init; } = new(StringComparer.Ordinal);
    public HashSet<string> Opens { get; init; } = new(StringComparer.Ordinal);
    public List<AddedGateRow> Gates { get; init; } = [];
    public int? CureMinutes { get; set; }
    public bool HotWork { get; set; }
    public bool PaintOrSolvent { get; set; }
    public string? Instruction { get; set; }
    public string? Caution { get; set; }
}

/// <summary>A line to be checked, while it is typed.</summary>
public sealed class CheckRow
{
    public string? Operation { get; set; }
    public string? What { get; set; }
    public string? How { get; set; }
    public string? Unit { get; set; }
    public decimal? Nominal { get; set; }
    public decimal? Lower { get; set; }
    public decimal? Upper { get; set; }
    public bool PhotoRequired { get; set; }
    public bool Hold { get; set; } = true;
    public bool ByInspector { get; set; } = true;
    public string? Caution { get; set; }
}

/// <summary>What is asked for a change order.</summary>
public sealed class ChangeForm
{
    public string? Reason { get; set; }
    public HashSet<Guid> Photos { get; } = [];
    public bool IsCondition { get; set; }
    public Dictionary<string, string?> Found { get; } = new(StringComparer.Ordinal);
    public List<WorkRow> Work { get; } = [];
    public List<AddedRow> Operations { get; } = [];
    public List<CheckRow> Checks { get; } = [];

    /// <summary>Further lines, work sent out and discount, as on a quote.</summary>
    public required CounterForm Extras { get; init; }
    public int? PromiseDays { get; set; }
    public DateOnly? PromiseOn { get; set; }
    public HashSet<string> Holds { get; } = new(StringComparer.Ordinal);

    public static ChangeForm Of(Book book) => new() { Extras = CounterForm.Of(book) };

    public static ChangeForm Of(Book book, ChangeView view)
    {
        var form = Of(book);
        var terms = view.Terms;
        form.Reason = terms.Reason;
        form.Photos.UnionWith(terms.PhotoIds.Select(p => p.Value));
        form.IsCondition = terms.Basis == ChangeBasis.ConditionFound;
        form.PromiseDays = terms.PromiseDays;
        form.PromiseOn = terms.PromiseOn;
        form.Holds.UnionWith(terms.Holds);
        foreach (var (question, answer) in terms.ConditionFound)
        {
            form.Found[question] = answer;
        }

        if (form.IsCondition)
        {
            return form;
        }

        form.Work.AddRange(
            terms.Work.Select(w => new WorkRow
            {
                Operation = w.OperationCode,
                Skill = w.Skill,
                StandardCode = w.StandardCode,
                Quantity = w.Quantity,
            })
        );
        form.Operations.AddRange(terms.Operations.Select(RowOf));
        form.Checks.AddRange(terms.InspectionLines.Select(RowOf));
        form.Extras.DiscountPercent = terms.Discount.Percent;
        form.Extras.DiscountMinor = terms.Discount.Minor;
        form.Extras.DiscountLines.UnionWith(terms.Extras.DiscountLineCodes);
        form.Extras.OutsideWork.UnionWith(terms.Extras.OutsideWorkCodes);
        form.Extras.Lines.AddRange(
            terms.Extras.Lines.Select(l => new LineRow
            {
                Description = l.Description,
                Quantity = l.Quantity,
                Unit = l.Unit,
                UnitPriceMinor = l.UnitPriceMinor,
                UnitCostMinor = l.UnitCostMinor,
                Taxes = new(l.TaxCodes, StringComparer.Ordinal),
            })
        );
        return form;
    }

    public ChangeRequest ToRequest() =>
        IsCondition
            ? new ChangeRequest(
                Reason,
                [.. Photos],
                ConditionFound: new Dictionary<string, string?>(Found),
                PromiseDays: PromiseDays,
                PromiseOn: PromiseOn,
                Holds: [.. Holds]
            )
            : new ChangeRequest(
                Reason,
                [.. Photos],
                [.. Work.Select(w => new ChangeWorkRequest(w.Operation, w.Skill, w.StandardCode, w.Quantity))],
                [.. Operations.Select(RequestOf)],
                [.. Checks.Select(RequestOf)],
                [
                    .. Extras.Lines.Select(l => new LineRequest(
                        l.Description,
                        l.Quantity,
                        l.Unit,
                        l.UnitPriceMinor,
                        [.. l.Taxes.Order(StringComparer.Ordinal)],
                        l.UnitCostMinor
                    )),
                ],
                [.. Extras.OutsideWork.Order(StringComparer.Ordinal)],
                Extras.DiscountPercent,
                Extras.DiscountMinor,
                [.. Extras.DiscountLines.Order(StringComparer.Ordinal)],
                null,
                PromiseDays,
                PromiseOn,
                [.. Holds]
            );

    private static AddedRow RowOf(AddedOperation added) =>
        new()
        {
            Code = added.Route.Code,
            Title = added.Route.Title,
            Phase = added.Route.Phase,
            Skill = added.Route.Skill,
            Place = added.Route.Place,
            After = new(added.Route.After, StringComparer.Ordinal),
            Before = new(added.Before, StringComparer.Ordinal),
            NeedsOpen = new(added.Route.NeedsOpen, StringComparer.Ordinal),
            HotWork = added.Route.HotWork,
            PaintOrSolvent = added.Route.PaintOrSolvent,
            Instruction = added.Route.Instruction.Length == 0 ? null : added.Route.Instruction,
            Caution = added.Route.Caution,
            Closes = new(added.Route.Closes, StringComparer.Ordinal),
            Opens = new(added.Route.Opens, StringComparer.Ordinal),
            CureMinutes = added.Route.CureMinutes == 0 ? null : added.Route.CureMinutes,
            Gates =
            [
                .. added.Route.Gates.Select(g => new AddedGateRow
                {
                    Kind = g.Kind,
                    Operation = g.Operation,
                    Part = g.Part,
                }),
            ],
        };

    private static CheckRow RowOf(LineToCheck line) =>
        new()
        {
            Operation = line.OperationCode,
            What = line.What,
            How = line.How,
            Unit = line.Unit,
            Nominal = line.Nominal,
            Lower = line.Lower,
            Upper = line.Upper,
            PhotoRequired = line.PhotoRequired,
            Hold = line.Point == InspectionPoint.Hold,
            ByInspector = line.RecordedBy == RecordedBy.Inspector,
            Caution = line.Caution,
        };

    private static ChangeOperationRequest RequestOf(AddedRow row) =>
        new(
            row.Code,
            row.Title,
            Camel(row.Phase.ToString()),
            row.Skill,
            row.Place,
            [.. row.After],
            [.. row.Before],
            [.. row.NeedsOpen],
            [.. row.Closes],
            [.. row.Opens],
            [
                .. row.Gates.Select(g => new ChangeGateRequest(
                    Camel(g.Kind.ToString()),
                    g.HasOperation ? g.Operation : null,
                    g.HasPart ? g.Part : null
                )),
            ],
            row.HotWork,
            row.CureMinutes,
            row.Instruction,
            row.Caution,
            row.PaintOrSolvent
        );

    private static ChangeLineRequest RequestOf(CheckRow row) =>
        new(
            row.Operation,
            row.What,
            row.How,
            row.Unit,
            row.Nominal,
            row.Lower,
            row.Upper,
            row.PhotoRequired,
            row.Hold,
            row.ByInspector,
            row.Caution
        );

    private static string Camel(string word) => char.ToLowerInvariant(word[0]) + word[1..];
}
