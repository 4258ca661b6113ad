using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Domain.Accounts;

/// <summary>What a cancelled job costs: the labour of the operations done at the quote's own rates, and the material that was used.</summary>
public static class CancelledWork
{
    /// <summary>Prices the work done.</summary>
    /// <param name="priced">The accepted quote's price.</param>
    /// <param name="doneShares">Operation code to the part of it that was done, 0 to 1; operations left out were not begun.</param>
    /// <param name="usedLineCodes">Codes of lines other than labour that were used up and are charged whole.</param>
    /// <returns>Lines whose keys are their numbers in the quote, 1 for the first.</returns>
    public static Outcome<InvoiceContent> Price(
        PricedQuote priced,
        IReadOnlyDictionary<string, decimal> doneShares,
        IReadOnlySet<string> usedLineCodes
    )
    {
        ArgumentNullException.ThrowIfNull(priced);
        ArgumentNullException.ThrowIfNull(doneShares);
        ArgumentNullException.ThrowIfNull(usedLineCodes);
        var kept = priced
            .Lines.Select(
                (line, i) => (Line: line, Number: i + 1, Share: ShareOf(line, priced, doneShares, usedLineCodes))
            )
            .Select(l =>
                (
                    l.Line,
                    l.Number,
                    l.Share,
                    Quantity: l.Share == 1
                        ? l.Line.Quantity
                        : decimal.Round(l.Line.Quantity * l.Share, 2, MidpointRounding.AwayFromZero)
                )
            )
            .Where(l => l.Quantity > 0)
            .ToList();
        if (kept.Count == 0)
        {
            return InvoiceContent.Nothing(priced.CurrencyCode, priced.PricesIncludeTax);
        }

        var request = new TotalsRequest(
            Currency.Of(priced.CurrencyCode),
            priced.Rounding,
            priced.TaxPer,
            priced.PricesIncludeTax,
            [
                .. kept.Select(l => new TotalsLine(
                    l.Line.Description,
                    l.Quantity,
                    l.Line.UnitPriceMinor,
                    l.Line.TaxCodes
                )),
            ],
            Discount.None,
            [.. priced.Taxes.Select(t => new TaxRate(t.Code, t.RatePercent))],
            0
        );

        // The discount agreed on the whole stays with the part that is charged.
        var discount = (long)decimal.Floor(kept.Sum(l => l.Line.DiscountMinor * l.Share));
        return TotalsCalculator
            .Calculate(request)
            .Then(full =>
                TotalsCalculator.Calculate(
                    request with
                    {
                        Discount = new Discount(null, Math.Min(discount, full.SubtotalMinor)),
                    }
                )
            )
            .Then<InvoiceContent>(totals =>
                Content(priced, [.. kept.Select(k => (k.Line, k.Number, k.Quantity))], totals)
            );
    }

    private static InvoiceContent Content(
        PricedQuote priced,
        IReadOnlyList<(PricedLine Line, int Number, decimal Quantity)> kept,
        TotalsResult totals
    ) =>
        new(
            priced.CurrencyCode,
            priced.PricesIncludeTax,
            [
                .. kept.Select(
                    (k, i) =>
                        new InvoiceLine(
                            k.Line.Description,
                            k.Quantity,
                            k.Line.Unit,
                            k.Line.UnitPriceMinor,
                            totals.Lines[i].NetMinor,
                            totals.Lines[i].DiscountMinor,
                            k.Line.TaxCodes,
                            k.Number.ToString(System.Globalization.CultureInfo.InvariantCulture)
                        )
                ),
            ],
            totals.SubtotalMinor,
            totals.DiscountMinor,
            [
                .. totals.Taxes.Select(
                    (t, i) => priced.Taxes[i] with { TaxableMinor = t.TaxableMinor, TaxMinor = t.TaxMinor }
                ),
            ],
            totals.TaxMinor,
            totals.TotalMinor
        );

    private static decimal ShareOf(
        PricedLine line,
        PricedQuote priced,
        IReadOnlyDictionary<string, decimal> doneShares,
        IReadOnlySet<string> usedLineCodes
    )
    {
        if (line.Group != LineGroup.Labour)
        {
            return usedLineCodes.Contains(line.Code) ? 1 : 0;
        }

        var operations = priced.Operations.Where(o => line.Code == $"labour:{o.Phase}:{o.Skill}").ToList();
        var all = operations.Sum(o => o.Hours);
        var done = operations.Sum(o => o.Hours * Math.Clamp(doneShares.GetValueOrDefault(o.OperationCode), 0, 1));
        return all == 0 ? 0 : done / all;
    }
}
