using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Application.Quoting;

/// <summary>A door and its hinge option as asked for.</summary>
public sealed record DoorRequest(string? Door, string? HingeOptionCode);

/// <summary>Work named by its standard, for a sale without a kit.</summary>
public sealed record BenchRequest(string? Skill, string? StandardCode, decimal? Quantity);

/// <summary>A row of its own.</summary>
/// <param name="Unit">Absent: piece.</param>
/// <param name="UnitCostMinor">What one unit costs the shop; never shown to the customer.</param>
public sealed record LineRequest(
    string? Description,
    decimal? Quantity,
    string? Unit,
    long? UnitPriceMinor,
    IReadOnlyList<string?>? TaxCodes = null,
    long? UnitCostMinor = null
);

/// <summary>What the front desk or the API fills in for a quote.</summary>
/// <param name="CarId">May be absent for a kit that is shipped and for work on a part.</param>
/// <param name="KitCode">Absent for work on a part and for a return visit.</param>
/// <param name="Kind">fitted, shipped, bench or returnVisit; absent means fitted.</param>
/// <param name="DiscountLineCodes">Lines that the discount is taken from; absent or empty for all.</param>
/// <param name="ReturnOfJobId">The earlier job of a return visit.</param>
/// <param name="FreeReason">Why a return visit costs nothing.</param>
/// <param name="UseCode">Absent: the first use of the price book.</param>
/// <param name="DiscountPercent">0 to 100, up to 4 decimals; not together with <paramref name="DiscountMinor"/>.</param>
public sealed record QuoteRequest(
    Guid? CustomerId,
    Guid? CarId,
    string? KitCode,
    string? UseCode = null,
    IReadOnlyList<string?>? RuleSetCodes = null,
    IReadOnlyList<DoorRequest?>? Doors = null,
    IReadOnlyDictionary<string, string?>? Condition = null,
    decimal? DiscountPercent = null,
    long? DiscountMinor = null,
    long? TradeCreditMinor = null,
    string? TradeCreditNote = null,
    DateOnly? PromiseDate = null,
    string? CustomerNote = null,
    string? InternalNote = null,
    string? Kind = null,
    IReadOnlyList<BenchRequest?>? Bench = null,
    IReadOnlyList<LineRequest?>? Lines = null,
    IReadOnlyList<string?>? OutsideWorkCodes = null,
    string? FreightZoneCode = null,
    decimal? FreightMassKg = null,
    IReadOnlyList<string?>? DiscountLineCodes = null,
    Guid? ReturnOfJobId = null,
    string? FreeReason = null
);

/// <summary>Turns a request into terms, with a sentence for everything that cannot be taken.</summary>
internal static class QuoteRequestReader
{
    public const int MostRuleSets = 20;
    public const int MostAnswers = PriceBookRules.MostEntries;

    /// <summary>The latest promise that is taken, so that a slip in the year is noticed.</summary>
    public const int MostPromiseDays = 5 * 366;

    internal static Outcome<QuoteTerms> Read(
        QuoteRequest request,
        PriceBook book,
        Domain.Intake.CarFacts car,
        bool isTaxExempt,
        DateOnly today
    )
    {
        var errors = new FieldErrors();
        var kind = QuoteExtrasReader.Kind(request.Kind, errors);
        var kit = kind is SaleKind.Fitted or SaleKind.Shipped
            ? TextRules.Required(request.KitCode, "kitCode", "The kit", TextRules.Code, errors)
            : TextRules.Optional(request.KitCode, "kitCode", "The kit", TextRules.Code, errors);
        var use =
            TextRules.Optional(request.UseCode, "useCode", "The use", TextRules.Code, errors) ?? book.Uses[0].Code;
        var ruleSets = RuleSets(request, errors);
        errors.AddIf(
            kit is not null && ruleSets.Count == 0 && book.Uses.Any(u => u.Code == use && u.NeedsRuleSet),
            "ruleSetCodes",
            "For this use, say which rule set the bar is built to: it decides the tube sizes."
        );
        var doors = Doors(request, errors);
        var condition = Condition(request, errors);
        TotalsRules.CheckAmount(request.TradeCreditMinor ?? 0, "tradeCreditMinor", "The trade credit", errors);
        errors.AddIf(
            request.PromiseDate is { } promise && (promise < today || promise > today.AddDays(MostPromiseDays)),
            "promiseDate",
            $"The promise date must lie between today and {today.AddDays(MostPromiseDays):yyyy-MM-dd}."
        );
        var terms = new QuoteTerms(
            new JobScope(kit, use, ruleSets, doors, condition, car)
            {
                Kind = kind,
                Bench = QuoteExtrasReader.Bench(request, errors),
            },
            new Discount(request.DiscountPercent, request.DiscountMinor),
            request.TradeCreditMinor ?? 0,
            TextRules.Optional(
                request.TradeCreditNote,
                "tradeCreditNote",
                "The note on the trade credit",
                TextRules.ShortText,
                errors
            ),
            request.PromiseDate,
            TextRules.Optional(
                request.CustomerNote,
                "customerNote",
                "The note for the customer",
                TextRules.Note,
                errors
            ),
            TextRules.Optional(request.InternalNote, "internalNote", "The internal note", TextRules.Note, errors),
            isTaxExempt
        )
        {
            Extras = QuoteExtrasReader.Read(request, book, errors),
            ReturnOfJob = request.ReturnOfJobId is { } job ? new JobId(job) : null,
        };
        return errors.Any ? errors.ToFailure() : terms;
    }

    private static List<string> RuleSets(QuoteRequest request, FieldErrors errors)
    {
        var codes = QuoteExtrasReader.Codes(request.RuleSetCodes, "ruleSetCodes", "The rule set", MostRuleSets, errors);
        for (var i = 0; i < codes.Count; i++)
        {
            errors.AddIf(
                codes.IndexOf(codes[i]) < i,
                $"ruleSetCodes[{i}]",
                $"The rule set '{codes[i]}' is named twice; name it once."
            );
        }

        return codes;
    }

    private static List<DoorChoice> Doors(QuoteRequest request, FieldErrors errors)
    {
        var given = request.Doors ?? [];
        var doors = new List<DoorChoice>();
        errors.AddIf(given.Count > 2, "doors", "A car has a left and a right door here; name each at most once.");
        for (var i = 0; i < given.Count && i < 2; i++)
        {
            DoorSide? side = given[i]?.Door switch
            {
                "left" => DoorSide.Left,
                "right" => DoorSide.Right,
                _ => null,
            };
            errors.AddIf(
                side is null,
                $"doors[{i}].door",
                "A door is 'left' or 'right', as seen in driving direction."
            );
            var hinge = TextRules.Required(
                given[i]?.HingeOptionCode,
                $"doors[{i}].hingeOptionCode",
                "The hinge option",
                TextRules.Code,
                errors
            );
            doors.Add(new DoorChoice(side ?? DoorSide.Left, hinge));
        }

        return doors;
    }

    private static SortedDictionary<string, string> Condition(QuoteRequest request, FieldErrors errors)
    {
        var answers = new SortedDictionary<string, string>(StringComparer.Ordinal);
        var given = request.Condition ?? new Dictionary<string, string?>();
        errors.AddIf(given.Count > MostAnswers, "condition", $"At most {MostAnswers} answers are taken.");
        foreach (var (code, answer) in given.Take(MostAnswers))
        {
            // The path of an overlong key would be as long as the key.
            var path = code.Length > TextRules.Code ? "condition" : $"condition.{code}";
            errors.AddIf(code.Length is 0 or > TextRules.Code, path, "A question's code has 1 to 64 characters.");
            answers[code] = TextRules.Required(answer, path, "The answer", TextRules.Code, errors);
        }

        return answers;
    }
}
