using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Domain.Changes;

/// <summary>What a change order puts on the job's account, so that the job's total is the accepted quote and the approved changes.</summary>
public static class ChangeCharge
{
    /// <summary>Further work line by line. A condition found otherwise as one line for each set of taxes, since its lines only move others; the change order itself shows them all.</summary>
    public static InvoiceContent Of(ChangeOrder change)
    {
        ArgumentNullException.ThrowIfNull(change);
        return change.Terms.Basis == ChangeBasis.FurtherWork
            ? InvoiceContent.Of(change.Priced)
            : Netted(
                change.Number,
                change.Priced.CurrencyCode,
                change.Priced.PricesIncludeTax,
                change.Priced.Lines.Select(l => (l.NetMinor - l.DiscountMinor, l.TaxCodes)),
                change.Priced.Taxes
            );
    }

    /// <summary>What counts of an approved change when the job is cancelled.</summary>
    /// <param name="doneShares">Operation code to the part of it that was done, 0 to 1.</param>
    /// <param name="usedLineCodes">Codes of lines other than labour that were used up.</param>
    public static Outcome<InvoiceContent> Done(
        ChangeOrder change,
        IReadOnlyDictionary<string, decimal> doneShares,
        IReadOnlySet<string> usedLineCodes
    )
    {
        ArgumentNullException.ThrowIfNull(change);
        if (change.Price is not { Agreed: { } agreed, Found: { } found })
        {
            return CancelledWork.Price(change.Priced, doneShares, usedLineCodes);
        }

        return CancelledWork
            .Price(agreed, doneShares, usedLineCodes)
            .Then(was =>
                CancelledWork
                    .Price(found, doneShares, usedLineCodes)
                    .Then<InvoiceContent>(now =>
                        Netted(
                            change.Number,
                            found.CurrencyCode,
                            found.PricesIncludeTax,
                            now.Lines.Select(l => (l.AmountMinor, l.TaxCodes))
                                .Concat(was.Lines.Select(l => (-l.AmountMinor, l.TaxCodes))),
                            now.Taxes.Concat(
                                was.Taxes.Select(t => t with { TaxableMinor = -t.TaxableMinor, TaxMinor = -t.TaxMinor })
                            )
                        )
                    )
            );
    }

    private static InvoiceContent Netted(
        string number,
        string currency,
        bool pricesIncludeTax,
        IEnumerable<(long Minor, IReadOnlyList<string> TaxCodes)> amounts,
        IEnumerable<QuotedTax> taxes
    ) =>
        InvoiceContent.Sum(
            currency,
            pricesIncludeTax,
            [
                .. amounts
                    .GroupBy(a => string.Join(' ', a.TaxCodes), StringComparer.Ordinal)
                    .Select(g => (Minor: g.Sum(a => a.Minor), g.First().TaxCodes))
                    .Where(g => g.Minor != 0)
                    .Select(
                        (g, i) =>
                            new InvoiceLine(
                                $"{number}: condition found otherwise than agreed",
                                1,
                                "piece",
                                g.Minor,
                                g.Minor,
                                0,
                                g.TaxCodes,
                                $"{i + 1}"
                            )
                    ),
            ],
            [
                .. taxes
                    .GroupBy(t => t.Code, StringComparer.Ordinal)
                    .Select(g =>
                        g.First() with
                        {
                            TaxableMinor = g.Sum(t => t.TaxableMinor),
                            TaxMinor = g.Sum(t => t.TaxMinor),
                        }
                    )
                    .Where(t => t.TaxableMinor != 0 || t.TaxMinor != 0),
            ]
        );
}
