using ShopFloor.Application.Quoting;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;
using Book = ShopFloor.Domain.Quoting.PriceBook;

namespace ShopFloor.Web.Features.Quotes;

/// <summary>What is asked at the counter.</summary>
public sealed class CounterForm
{
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
        form.KitCode = scope.KitCode;
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
        return form;
    }

    public QuoteRequest ToRequest(Book book)
    {
        ArgumentNullException.ThrowIfNull(book);
        var hasDoors = KitCode is not null && book.FindKit(KitCode) is { HasDoorBars: true };
        return new QuoteRequest(
            Customer?.Value,
            Car?.Value,
            KitCode,
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
            Condition.ToDictionary(c => c.Key, c => (string?)c.Value, StringComparer.Ordinal),
            DiscountPercent,
            DiscountMinor,
            TradeCreditMinor,
            TradeCreditNote,
            PromiseDate,
            CustomerNote,
            InternalNote
        );
    }
}
