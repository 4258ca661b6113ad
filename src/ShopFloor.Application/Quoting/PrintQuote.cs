using System.Globalization;
using ShopFloor.Application.Common;
using ShopFloor.Application.Papers;
using ShopFloor.Documents.Papers;
using ShopFloor.Documents.Papers.Models;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Application.Quoting;

/// <summary>A quote as a PDF, from what is stored: nothing is priced again.</summary>
public sealed class PrintQuote(
    QueryRunner runner,
    DescribeQuote describe,
    PaperHeads heads,
    IPapers papers,
    TimeProvider clock
) : IUseCase
{
    /// <param name="isExplained">Adds how each line came about.</param>
    public Task<Outcome<PrintedPaper>> RunAsync(
        QuoteId id,
        PaperSize? size,
        bool isExplained,
        Actor actor,
        CancellationToken ct
    ) =>
        runner.RunAsync<PrintedPaper>(
            Permission.SeeMoney,
            actor,
            async db =>
            {
                if (await QuoteReader.FindAsync(db, id, ct) is not { } quote)
                {
                    return Failure.Missing("quote");
                }

                var (shop, customer, car) = await PaperHeads.ReadAsync(db, quote.CustomerId, quote.CarId, ct);
                var words = await describe.OfAsync(db, quote, ct);
                var now = clock.GetUtcNow();
                var state = quote.StateOn(shop.LocalDay(now));
                var paper = new QuotePaper(
                    await heads.LetterheadAsync(shop, ct),
                    PaperHeads.Of(customer),
                    PaperHeads.Of(car, quote.Scope.Kind.Title()),
                    quote.Number,
                    quote.Revision,
                    state.ToString(),
                    state == QuoteState.Draft,
                    shop.LocalDay(quote.SentAt ?? now),
                    quote.ValidUntil,
                    quote.PromiseDate,
                    [.. words.Choices.Select(c => new PaperFact(c.Label, c.Value))],
                    quote.Scope.Kind == SaleKind.Fitted
                        ? [.. words.Condition.Select(c => new PaperFact(c.Label, c.Value))]
                        : [],
                    [.. quote.Priced.Lines.Select(l => Line(l, quote.Priced))],
                    Totals(quote.Priced),
                    new PaperHours((double)quote.Priced.Hours.P50, (double)quote.Priced.Hours.P80),
                    [.. Notes(quote)],
                    null,
                    quote.ContentHash,
                    state == QuoteState.Accepted
                        ? new PaperSignature(
                            quote.AcceptedBy!,
                            TimeZoneInfo.ConvertTime(quote.ClosedAt!.Value, shop.Zone)
                        )
                        : null,
                    isExplained ? [.. quote.Priced.Lines.Select(l => Explained(l.Explanation, l.Description))] : null
                );
                return new PrintedPaper(
                    papers.Quote(paper, PaperHeads.SettingsOf(shop, size, now)),
                    string.Create(CultureInfo.InvariantCulture, $"{quote.Number}-{quote.Revision}.pdf")
                );
            },
            ct
        );

    private static PaperExplained Explained(Explanation explanation, string? title = null) =>
        new(
            title,
            explanation.Rule,
            [.. explanation.Inputs.Select(i => new PaperFact(i.Name, i.Value))],
            explanation.Source,
            explanation.Result,
            [.. explanation.Parts.Select(p => Explained(p))]
        );

    internal static PaperLine Line(PricedLine line, PricedQuote priced)
    {
        var currency = Currency.Of(priced.CurrencyCode);
        return new PaperLine(
            line.Description,
            line.Quantity,
            line.Unit == "piece" ? null : line.Unit,
            new Money(line.UnitPriceMinor, currency),
            new Money(line.NetMinor, currency),
            null,
            line.TaxCodes
        );
    }

    internal static PaperTotals Totals(PricedQuote priced)
    {
        var currency = Currency.Of(priced.CurrencyCode);
        return new PaperTotals(
            new Money(priced.SubtotalMinor, currency),
            new Money(priced.DiscountMinor, currency),
            [
                .. priced.Taxes.Select(t => new PaperTax(
                    t.Code,
                    t.Title,
                    t.RatePercent,
                    new Money(t.TaxableMinor, currency),
                    new Money(t.TaxMinor, currency)
                )),
            ],
            new Money(priced.TotalMinor, currency),
            new Money(priced.TradeCreditMinor, currency),
            new Money(priced.AmountDueMinor, currency),
            priced.PricesIncludeTax
        );
    }

    private static IEnumerable<string> Notes(Quote quote)
    {
        if (quote.Terms.CustomerNote is { } note)
        {
            yield return note;
        }

        if (quote.Terms.TradeCreditNote is { } trade)
        {
            yield return "In exchange: " + trade;
        }

        if (quote.Priced.DepositMinor > 0)
        {
            var deposit = new Money(quote.Priced.DepositMinor, Currency.Of(quote.Priced.CurrencyCode));
            yield return $"Deposit on acceptance: {deposit.ToString(CultureInfo.InvariantCulture)}.";
        }

        if (quote.Terms.TradeCreditMinor > 0)
        {
            yield return MoneyCautions.TradeCredit;
        }

        foreach (var gate in quote.Priced.Gates)
        {
            yield return gate;
        }

        foreach (var precaution in quote.Priced.Precautions)
        {
            yield return precaution;
        }

        yield return Cautions.WhoDecides;
    }
}

/// <summary>Sentences that stand wherever money is agreed, on screens and papers.</summary>
public static class MoneyCautions
{
    public const string TradeCredit =
        "Work or goods taken in exchange may be taxable for both sides, and the tax on this job is not lowered by it. A tax adviser decides.";

    public const string Estimate =
        "What a written estimate must say, and how far a bill may go beyond it, differs by place. Local law decides.";
}
