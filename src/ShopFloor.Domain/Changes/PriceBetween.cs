using System.Globalization;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Domain.Changes;

/// <summary>What lies between two prices of the same quote, line by line: the first and the difference make the second, to the last unit.</summary>
public static class PriceBetween
{
    public static PricedQuote Of(PricedQuote agreed, PricedQuote found, IReadOnlyList<string> precautions)
    {
        ArgumentNullException.ThrowIfNull(agreed);
        ArgumentNullException.ThrowIfNull(found);
        var codes = found.Lines.Concat(agreed.Lines).Select(l => l.Code).Distinct(StringComparer.Ordinal);
        return found with
        {
            Lines = [.. codes.Select(c => Line(c, agreed, found)).OfType<PricedLine>().OrderBy(l => l.Group)],
            SubtotalMinor = found.SubtotalMinor - agreed.SubtotalMinor,
            DiscountMinor = found.DiscountMinor - agreed.DiscountMinor,
            Taxes = Taxes(agreed, found),
            TaxMinor = found.TaxMinor - agreed.TaxMinor,
            TotalMinor = found.TotalMinor - agreed.TotalMinor,
            TradeCreditMinor = 0,
            AmountDueMinor = found.TotalMinor - agreed.TotalMinor,
            DepositMinor = 0,
            DepositBeforeStart = false,
            Hours = new QuoteHours(
                found.Hours.P50 - agreed.Hours.P50,
                found.Hours.P80 - agreed.Hours.P80,
                found.Hours.Priced - agreed.Hours.Priced,
                found.Hours.ConfidencePercent
            ),
            Operations = Operations(agreed, found),
            Precautions = precautions,
            Gates = [.. found.Gates.Except(agreed.Gates, StringComparer.Ordinal)],
            Cost = Cost(agreed.Cost, found.Cost),
        };
    }

    private static PricedLine? Line(string code, PricedQuote agreed, PricedQuote found)
    {
        var (was, now) = (
            agreed.Lines.FirstOrDefault(l => l.Code == code),
            found.Lines.FirstOrDefault(l => l.Code == code)
        );
        var net = (now?.NetMinor ?? 0) - (was?.NetMinor ?? 0);
        var discount = (now?.DiscountMinor ?? 0) - (was?.DiscountMinor ?? 0);
        var either = now ?? was!;
        if (net == 0 && discount == 0)
        {
            return null;
        }

        string Text(long minor) =>
            new Money(minor, Currency.Of(found.CurrencyCode)).ToString(CultureInfo.InvariantCulture);
        string Amount(PricedLine? line) =>
            line is null
                ? "not on it"
                : $"{line.Quantity.ToString("0.######", CultureInfo.InvariantCulture)} {line.Unit}, {Text(line.NetMinor)}";
        return either with
        {
            Quantity = 1,
            Unit = "piece",
            UnitPriceMinor = net,
            NetMinor = net,
            DiscountMinor = discount,
            TaxableMinor = (now?.TaxableMinor ?? 0) - (was?.TaxableMinor ?? 0),
            Explanation = new Explanation(
                "This line with the condition found, less the same line as agreed before.",
                [new("As agreed", Amount(was)), new("As found", Amount(now))],
                "The quote's own price book and rules, with other answers",
                Text(net),
                [.. new[] { was?.Explanation, now?.Explanation }.OfType<Explanation>()]
            ),
        };
    }

    private static List<QuotedTax> Taxes(PricedQuote agreed, PricedQuote found) =>
        [
            .. found
                .Taxes.Select(t =>
                    t with
                    {
                        TaxableMinor = t.TaxableMinor - Sum(agreed, t.Code, a => a.TaxableMinor),
                        TaxMinor = t.TaxMinor - Sum(agreed, t.Code, a => a.TaxMinor),
                    }
                )
                .Concat(
                    agreed
                        .Taxes.Where(a => found.Taxes.All(t => t.Code != a.Code))
                        .Select(a => a with { TaxableMinor = -a.TaxableMinor, TaxMinor = -a.TaxMinor })
                )
                .Where(t => t.TaxableMinor != 0 || t.TaxMinor != 0),
        ];

    private static long Sum(PricedQuote priced, string code, Func<QuotedTax, long> figure) =>
        priced.Taxes.Where(t => t.Code == code).Sum(figure);

    private static List<OperationEstimate> Operations(PricedQuote agreed, PricedQuote found) =>
        [
            .. found
                .Operations.Concat(agreed.Operations.Select(o => o with { Hours = -o.Hours }))
                .GroupBy(o => (o.OperationCode, o.Skill))
                .Select(g => g.First() with { Hours = g.Sum(o => o.Hours) })
                .Where(o => o.Hours != 0),
        ];

    private static QuoteCost? Cost(QuoteCost? agreed, QuoteCost? found) =>
        agreed is null || found is null
            ? null
            : new QuoteCost(
                found.RevenueMinor - agreed.RevenueMinor,
                found.CostMinor - agreed.CostMinor,
                found.TargetPercent,
                found
                    .Lines.Keys.Union(agreed.Lines.Keys)
                    .ToDictionary(
                        k => k,
                        k => found.Lines.GetValueOrDefault(k) - agreed.Lines.GetValueOrDefault(k),
                        StringComparer.Ordinal
                    )
            );
}
