using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Quoting;

/// <summary>Puts lines, totals, hours and costs together into a price.</summary>
internal static class PricedResult
{
    internal static PricedQuote Of(
        BookIndex index,
        PriceInput input,
        IReadOnlyList<ChosenAnswer> answers,
        LabourEstimate labour,
        IReadOnlyList<DraftLine> drafts,
        TotalsResult totals
    )
    {
        var book = index.Book;
        return new PricedQuote(
            PriceEngine.Version,
            book.Edition,
            book.CurrencyCode,
            book.PricesIncludeTax,
            book.Rounding,
            book.TaxPer,
            [.. drafts.Select((draft, i) => draft.ToLine(totals.Lines[i], book.Currency, input.IsTaxExempt))],
            totals.SubtotalMinor,
            totals.DiscountMinor,
            [
                .. totals.Taxes.Select(
                    (tax, i) =>
                        new QuotedTax(
                            tax.Code,
                            book.Taxes[i].Title,
                            book.Taxes[i].RateOn(input.On) ?? 0,
                            tax.TaxableMinor,
                            tax.TaxMinor
                        )
                ),
            ],
            totals.TaxMinor,
            totals.TotalMinor,
            totals.TradeCreditMinor,
            totals.AmountDueMinor,
            DepositOf(book, totals.AmountDueMinor),
            labour.Hours,
            Operations(labour),
            [.. answers.SelectMany(a => a.Answer.Precautions).Distinct(StringComparer.Ordinal)]
        )
        {
            Gates = [.. answers.SelectMany(a => a.Answer.Gates).Distinct(StringComparer.Ordinal)],
            DepositBeforeStart = book.Deposit.BeforeStart,
            Cost = CostOf(book, drafts, totals),
        };
    }

    private static long DepositOf(PriceBook book, long dueMinor) =>
        Math.Min(
            dueMinor,
            Math.Max(Money.Round(dueMinor * book.Deposit.Percent / 100, book.Rounding), book.Deposit.LeastMinor)
        );

    private static QuoteCost CostOf(PriceBook book, IReadOnlyList<DraftLine> drafts, TotalsResult totals)
    {
        var lines = new SortedDictionary<string, long>(StringComparer.Ordinal);
        foreach (var draft in drafts)
        {
            if (draft.CostMinor is { } cost)
            {
                lines[draft.Code] = Money.Round(cost, book.Rounding);
            }
        }

        var taxInside = book.PricesIncludeTax ? totals.TaxMinor : 0;
        return new QuoteCost(
            totals.SubtotalMinor - totals.DiscountMinor - taxInside,
            lines.Values.Sum(),
            book.MarginTargetPercent,
            lines
        );
    }

    private static List<OperationEstimate> Operations(LabourEstimate labour) =>
        [
            .. labour
                .Items.GroupBy(i => (i.Work.OperationCode, i.Work.Skill))
                .Select(g => new OperationEstimate(
                    g.Key.OperationCode,
                    g.First().Work.OperationTitle,
                    g.First().Work.Phase,
                    g.Key.Skill,
                    decimal.Round(WorkHours.MeanHours(g), 4, MidpointRounding.AwayFromZero)
                )),
        ];
}
