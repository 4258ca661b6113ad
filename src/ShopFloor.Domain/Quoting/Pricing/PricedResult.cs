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
            Lines(book, input, drafts, totals),
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
            Once(answers, a => a.Precautions)
        )
        {
            Gates = Once(answers, a => a.Gates),
            DepositBeforeStart = book.Deposit.BeforeStart,
            Cost = CostOf(book, drafts, totals),
        };
    }

    /// <summary>What the answers name, each once, in the order of the questions.</summary>
    private static List<string> Once(IReadOnlyList<ChosenAnswer> answers, Func<Answer, IReadOnlyList<string>> named)
    {
        var all = new List<string>();
        foreach (var answer in answers)
        {
            foreach (var text in named(answer.Answer))
            {
                if (!all.Contains(text))
                {
                    all.Add(text);
                }
            }
        }

        return all;
    }

    private static PricedLine[] Lines(
        PriceBook book,
        PriceInput input,
        IReadOnlyList<DraftLine> drafts,
        TotalsResult totals
    )
    {
        var (lines, currency) = (new PricedLine[drafts.Count], book.Currency);
        for (var i = 0; i < lines.Length; i++)
        {
            lines[i] = drafts[i].ToLine(totals.Lines[i], currency, input.IsTaxExempt);
        }

        return lines;
    }

    private static long DepositOf(PriceBook book, long dueMinor) =>
        Math.Min(
            dueMinor,
            Math.Max(Money.Round(dueMinor * book.Deposit.Percent / 100, book.Rounding), book.Deposit.LeastMinor)
        );

    private static QuoteCost CostOf(PriceBook book, IReadOnlyList<DraftLine> drafts, TotalsResult totals)
    {
        var lines = new Dictionary<string, long>(drafts.Count, StringComparer.Ordinal);
        foreach (var draft in drafts)
        {
            if (draft.CostMinor is { } cost)
            {
                lines[draft.Code] = Money.Round(Math.Min(cost, TotalsRules.LargestMinor), book.Rounding);
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

    private static OperationEstimate[] Operations(LabourEstimate labour)
    {
        var sums = new List<(WorkContent Work, decimal SixMinutes)>(labour.Items.Count);
        foreach (var item in labour.Items)
        {
            // The work of an operation stands together, so its sum is near the end.
            var at = sums.FindLastIndex(s =>
                s.Work.OperationCode == item.Work.OperationCode && s.Work.Skill == item.Work.Skill
            );
            if (at < 0)
            {
                sums.Add((item.Work, item.SixMinutes));
            }
            else
            {
                sums[at] = (sums[at].Work, sums[at].SixMinutes + item.SixMinutes);
            }
        }

        return
        [
            .. sums.Select(s => new OperationEstimate(
                s.Work.OperationCode,
                s.Work.OperationTitle,
                s.Work.Phase,
                s.Work.Skill,
                decimal.Round(WorkHours.OfSixMinutes(s.SixMinutes), 4, MidpointRounding.AwayFromZero)
            )),
        ];
    }
}
