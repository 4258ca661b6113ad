using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Quoting;

/// <summary>Prices a job: the same input gives the same cents, on every machine, and every line says how it came about.</summary>
/// <remarks>Pure: no clock, no database. Money is totalled by <see cref="TotalsCalculator"/> and nowhere else.</remarks>
public static class PriceEngine
{
    /// <summary>Raised when the same input would give other figures; stored with every result.</summary>
    public const int Version = 2;

    public static Outcome<PricedQuote> Price(PriceBook book, PriceInput input)
    {
        ArgumentNullException.ThrowIfNull(book);
        ArgumentNullException.ThrowIfNull(input);
        var index = BookIndex.Of(book);
        var errors = new FieldErrors();
        PriceInputRules.Check(index, input, errors);
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        var answers = index.AnswersFor(input.Scope);
        var content = AddedContent.Of(index, input, answers, errors);
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        var labour = LabourEstimate.Of(index, answers, content);
        var drafts = LineWriter.Write(index, input, labour);
        if (DiscountedLines(input, drafts, errors) is var chosen && errors.Any)
        {
            return errors.ToFailure();
        }

        return TotalsCalculator
            .Calculate(
                new TotalsRequest(
                    book.Currency,
                    book.Rounding,
                    book.TaxPer,
                    book.PricesIncludeTax,
                    [.. drafts.Select(d => d.ToTotalsLine(input.IsTaxExempt))],
                    input.Extras.FreeReason is null ? input.Discount : new Discount(100, null),
                    [.. book.Taxes.Select(t => new TaxRate(t.Code, t.RateOn(input.On) ?? 0))],
                    input.TradeCreditMinor
                )
                {
                    DiscountedLines = chosen,
                }
            )
            .Then<PricedQuote>(totals =>
                IsFreeWithoutReason(input, totals)
                    ? Failure.Field("freeReason", "A return visit that costs nothing needs its reason in writing.")
                    : PricedResult.Of(index, input, answers, labour, drafts, totals)
            );
    }

    /// <summary>However it came to nothing: by a discount, by chosen lines or by prices of 0.</summary>
    private static bool IsFreeWithoutReason(PriceInput input, TotalsResult totals) =>
        input.Scope.Kind == SaleKind.ReturnVisit && totals.TotalMinor == 0 && input.Extras.FreeReason is null;

    private static HashSet<int>? DiscountedLines(PriceInput input, List<DraftLine> drafts, FieldErrors errors)
    {
        var codes = input.Extras.DiscountLineCodes;
        if (codes.Count == 0)
        {
            return null;
        }

        var chosen = new HashSet<int>();
        for (var i = 0; i < codes.Count; i++)
        {
            var at = drafts.FindIndex(d => d.Code == codes[i]);
            errors.AddIf(
                at < 0,
                $"discountLineCodes[{i}]",
                $"There is no line '{codes[i]}' on this quote to take the discount from; choose one that is."
            );
            chosen.Add(at);
        }

        return chosen;
    }
}
