using ShopFloor.Application.Quoting;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;
using Book = ShopFloor.Domain.Quoting.PriceBook;

namespace ShopFloor.Web.Features.Quotes;

/// <summary>A piece of work on a part or on a return visit, while it is typed.</summary>
public sealed class BenchRow
{
    public string? Skill { get; set; }
    public string? StandardCode { get; set; }
    public decimal? Quantity { get; set; }

    public bool IsEmpty => Skill is null && StandardCode is null && Quantity is null;

    public bool IsWhole => Skill is not null && StandardCode is not null && Quantity is not null;
}

/// <summary>A line of its own, while it is typed.</summary>
public sealed class LineRow
{
    public string? Description { get; set; }
    public decimal? Quantity { get; set; } = 1;
    public string? Unit { get; set; } = "piece";
    public long? UnitPriceMinor { get; set; }
    public long? UnitCostMinor { get; set; }
    public HashSet<string> Taxes { get; init; } = new(StringComparer.Ordinal);

    /// <summary>Nothing that tells one line from another was typed.</summary>
    public bool IsEmpty => string.IsNullOrWhiteSpace(Description) && UnitPriceMinor is null;

    /// <summary>Enough is typed to price it; until then the price beside the form leaves it out.</summary>
    public bool IsWhole =>
        !string.IsNullOrWhiteSpace(Description) && UnitPriceMinor is not null && Quantity is not null;
}

/// <summary>What is asked at the counter.</summary>
public sealed partial class CounterForm
{
    public SaleKind Kind { get; set; }
    public CustomerId? Customer { get; set; }
    public CarId? Car { get; set; }
    public string? UseCode { get; set; }
    public HashSet<string> RuleSets { get; } = new(StringComparer.Ordinal);
    public string? KitCode { get; set; }

    /// <summary>Null: no bar on this side.</summary>
    public Dictionary<DoorSide, string?> Doors { get; } = [];
    public Dictionary<string, string> Condition { get; } = new(StringComparer.Ordinal);
    public decimal? DiscountPercent { get; set; }
    public long? DiscountMinor { get; set; }
    public long? TradeCreditMinor { get; set; }
    public string? TradeCreditNote { get; set; }
    public DateOnly? PromiseDate { get; set; }
    public string? CustomerNote { get; set; }
    public string? InternalNote { get; set; }

    public List<BenchRow> Bench { get; } = [];
    public List<LineRow> Lines { get; } = [];
    public HashSet<string> OutsideWork { get; } = new(StringComparer.Ordinal);
    public string? FreightZone { get; set; }
    public decimal? FreightMassKg { get; set; }

    /// <summary>Codes of the lines that the discount is taken from; empty for all.</summary>
    public HashSet<string> DiscountLines { get; } = new(StringComparer.Ordinal);
    public Guid? ReturnOfJob { get; set; }
    public string? FreeReason { get; set; }

    /// <summary>Whether a kit is sold, so that kit and doors are asked.</summary>
    public bool HasKit => Kind is SaleKind.Fitted or SaleKind.Shipped;

    /// <summary>Begins with what the price book assumes: first use, first kit, first hinge option, default answers.</summary>
    public static CounterForm Of(Book book)
    {
        var form = new CounterForm { UseCode = book.Uses[0].Code, KitCode = book.Kits[0].Code };
        var hinge = book.HingeOptions.Count > 0 ? book.HingeOptions[0].Code : null;
        form.Doors[DoorSide.Left] = form.Doors[DoorSide.Right] = hinge;
        foreach (var question in book.Questions)
        {
            form.Condition[question.Code] = question.Default;
        }

        return form;
    }

    /// <summary>Takes up a draft. Answers the price book no longer knows fall back to its defaults.</summary>
    public static CounterForm Of(Book book, QuoteView quote)
    {
        var form = Of(book);
        var (terms, scope) = (quote.Terms, quote.Terms.Scope);
        form.Customer = quote.CustomerId;
        form.Car = quote.CarId;
        form.UseCode = scope.UseCode;
        form.RuleSets.UnionWith(scope.RuleSetCodes);
        form.KitCode = scope.KitCode ?? form.KitCode;
        if (scope.KitCode is { } kit && book.FindKit(kit) is { HasDoorBars: true })
        {
            foreach (var side in Enum.GetValues<DoorSide>())
            {
                form.Doors[side] = scope.Doors.FirstOrDefault(d => d.Door == side)?.HingeOptionCode;
            }
        }

        foreach (var question in book.Questions)
        {
            if (
                scope.Condition.TryGetValue(question.Code, out var answer)
                && question.Answers.Any(a => a.Code == answer)
            )
            {
                form.Condition[question.Code] = answer;
            }
        }

        form.DiscountPercent = terms.Discount.Percent;
        form.DiscountMinor = terms.Discount.Minor;
        form.TradeCreditMinor = terms.TradeCreditMinor == 0 ? null : terms.TradeCreditMinor;
        form.TradeCreditNote = terms.TradeCreditNote;
        form.PromiseDate = terms.PromiseDate;
        form.CustomerNote = terms.CustomerNote;
        form.InternalNote = terms.InternalNote;
        form.TakeExtras(terms);
        return form;
    }

    /// <summary>Begins with a car that comes back for an earlier job.</summary>
    public void ComeBack(Guid? customer, Guid? car, Guid? earlierJob)
    {
        Kind = SaleKind.ReturnVisit;
        Customer = customer is { } who ? new CustomerId(who) : null;
        Car = car is { } which ? new CarId(which) : null;
        ReturnOfJob = earlierJob;
    }

    /// <param name="isPreview">Leaves out rows that are still being typed, so that the price does not vanish meanwhile.</param>
    public QuoteRequest ToRequest(Book book, bool isPreview = false)
    {
        ArgumentNullException.ThrowIfNull(book);
        var hasDoors = HasKit && KitCode is not null && book.FindKit(KitCode) is { HasDoorBars: true };
        return new QuoteRequest(
            Customer?.Value,
            Car?.Value,
            HasKit ? KitCode : null,
            UseCode,
            [.. RuleSets.Order(StringComparer.Ordinal)],
            hasDoors
                ?
                [
                    .. Doors
                        .Where(d => d.Value is not null)
                        .OrderBy(d => d.Key)
                        .Select(d => new DoorRequest(d.Key == DoorSide.Left ? "left" : "right", d.Value)),
                ]
                : [],
            Kind == SaleKind.Fitted
                ? Condition.ToDictionary(c => c.Key, c => (string?)c.Value, StringComparer.Ordinal)
                : null,
            DiscountPercent,
            DiscountMinor,
            TradeCreditMinor,
            TradeCreditNote,
            PromiseDate,
            CustomerNote,
            InternalNote,
            QuoteExtrasReader.Word(Kind),
            HasKit
                ? null
                :
                [
                    .. Bench
                        .Where(b => isPreview ? b.IsWhole : !b.IsEmpty)
                        .Select(b => new BenchRequest(b.Skill, b.StandardCode, b.Quantity)),
                ],
            [
                .. Lines
                    .Where(l => isPreview ? l.IsWhole : !l.IsEmpty)
                    .Select(l => new LineRequest(
                        l.Description,
                        l.Quantity,
                        l.Unit,
                        l.UnitPriceMinor,
                        [.. l.Taxes.Order(StringComparer.Ordinal)],
                        l.UnitCostMinor
                    )),
            ],
            [.. OutsideWork.Order(StringComparer.Ordinal)],
            Kind is SaleKind.Shipped or SaleKind.Bench ? FreightZone : null,
            Kind is SaleKind.Shipped or SaleKind.Bench ? FreightMassKg : null,
            [.. DiscountLines.Order(StringComparer.Ordinal)],
            Kind == SaleKind.ReturnVisit ? ReturnOfJob : null,
            Kind == SaleKind.ReturnVisit ? FreeReason : null
        );
    }

    /// <summary>Takes another choice that was offered: kit, doors, condition, outside work.</summary>
    public void Take(Alternative alternative)
    {
        ArgumentNullException.ThrowIfNull(alternative);
        KitCode = alternative.Scope.KitCode ?? KitCode;
        if (alternative.Scope.Doors.Count > 0)
        {
            foreach (var side in Enum.GetValues<DoorSide>())
            {
                Doors[side] = alternative.Scope.Doors.FirstOrDefault(d => d.Door == side)?.HingeOptionCode;
            }
        }

        foreach (var (question, answer) in alternative.Scope.Condition)
        {
            Condition[question] = answer;
        }

        OutsideWork.Clear();
        OutsideWork.UnionWith(alternative.OutsideWorkCodes);
    }

    private void TakeExtras(QuoteTerms terms)
    {
        var extras = terms.Extras;
        Kind = terms.Scope.Kind;
        Bench.AddRange(
            terms.Scope.Bench.Select(b => new BenchRow
            {
                Skill = b.Skill,
                StandardCode = b.StandardCode,
                Quantity = b.Quantity,
            })
        );
        Lines.AddRange(
            extras.Lines.Select(l => new LineRow
            {
                Description = l.Description,
                Quantity = l.Quantity,
                Unit = l.Unit,
                UnitPriceMinor = l.UnitPriceMinor,
                UnitCostMinor = l.UnitCostMinor,
                Taxes = new(l.TaxCodes, StringComparer.Ordinal),
            })
        );
        OutsideWork.UnionWith(extras.OutsideWorkCodes);
        FreightZone = extras.FreightZoneCode;
        FreightMassKg = extras.FreightMassKg;
        DiscountLines.UnionWith(extras.DiscountLineCodes);
        ReturnOfJob = terms.ReturnOfJob?.Value;
        FreeReason = extras.FreeReason;
    }
}
