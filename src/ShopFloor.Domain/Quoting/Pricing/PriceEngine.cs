using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Quoting;

/// <summary>Prices a job: the same input gives the same cents, on every machine, and every line says how it came about.</summary>
/// <remarks>Pure: no clock, no database. Money is totalled by <see cref="TotalsCalculator"/> and nowhere else.</remarks>
public static class PriceEngine
{
    /// <summary>Raised when the same input would give other figures; stored with every result.</summary>
    public const int Version = 1;

    public static Outcome<PricedQuote> Price(PriceBook book, PriceInput input)
    {
        ArgumentNullException.ThrowIfNull(book);
        ArgumentNullException.ThrowIfNull(input);
        var errors = new FieldErrors();
        PriceInputRules.Check(book, input, errors);
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        var labour = LabourEstimate.Of(book, input);
        var drafts = LineWriter.Write(book, input, labour);
        return TotalsCalculator
            .Calculate(
                new TotalsRequest(
                    book.Currency,
                    book.Rounding,
                    book.TaxPer,
                    book.PricesIncludeTax,
                    [.. drafts.Select(d => d.ToTotalsLine(input.IsTaxExempt))],
                    input.Discount,
                    [.. book.Taxes.Select(t => new TaxRate(t.Code, t.RatePercent))],
                    input.TradeCreditMinor
                )
            )
            .Then<PricedQuote>(totals => Result(book, input, labour, drafts, totals));
    }

    private static PricedQuote Result(
        PriceBook book,
        PriceInput input,
        LabourEstimate labour,
        IReadOnlyList<DraftLine> drafts,
        TotalsResult totals
    ) =>
        new(
            Version,
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
                            book.Taxes[i].RatePercent,
                            tax.TaxableMinor,
                            tax.TaxMinor
                        )
                ),
            ],
            totals.TaxMinor,
            totals.TotalMinor,
            totals.TradeCreditMinor,
            totals.AmountDueMinor,
            Money.Round(totals.AmountDueMinor * book.DepositPercent / 100, book.Rounding),
            labour.Hours,
            Operations(labour),
            [
                .. book
                    .Questions.SelectMany(q => PriceBook.AnswerTo(q, input.Scope.Condition).Precautions)
                    .Distinct(StringComparer.Ordinal),
            ]
        );

    private static List<OperationEstimate> Operations(LabourEstimate labour) =>
        [
            .. labour
                .Items.GroupBy(i => (i.Work.OperationCode, i.Work.Skill))
                .Select(g => new OperationEstimate(
                    g.Key.OperationCode,
                    g.First().Work.OperationTitle,
                    g.First().Work.Phase,
                    g.Key.Skill,
                    decimal.Round(g.Sum(i => i.MeanHours), 4, MidpointRounding.AwayFromZero)
                )),
        ];
}
