using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Quoting;

/// <summary>Adds up lines, discount, taxes and trade credit: the one place where money is totalled, for calculators, quotes and invoices alike.</summary>
/// <remarks>Exact integers throughout; each figure that must be rounded is rounded once. Rates are held in millionths of one (a percentage with 4 decimals).</remarks>
public static class TotalsCalculator
{
    private const long RateScale = 1_000_000;
    private const long QuantityScale = 1_000_000;

    /// <summary>The sums, or the sentences that say which input cannot be taken.</summary>
    public static Outcome<TotalsResult> Calculate(TotalsRequest request)
    {
        ArgumentNullException.ThrowIfNull(request);
        var errors = new FieldErrors();
        TotalsRules.Check(request, errors);
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        var nets = Nets(request, errors);
        var subtotal = nets.Aggregate((Int128)0, (sum, net) => sum + net);
        if (errors.Any || IsTooLarge(subtotal, "lines", "The subtotal", errors))
        {
            return errors.ToFailure();
        }

        var discounted = request.DiscountedLines is { } chosen
            ? [.. nets.Select((net, i) => chosen.Contains(i) ? net : 0)]
            : nets;
        var ceiling = request.DiscountedLines is null ? (long)subtotal : discounted.Sum();
        var discount = DiscountOf(request, ceiling);
        if (discount > ceiling)
        {
            return Failure.Field(
                "discountMinor",
                $"The discount of {request.Text(discount)} is above the {(request.DiscountedLines is null ? "subtotal" : "sum of the chosen lines")} of {request.Text(ceiling)}; give at most that."
            );
        }

        var shares = Shares.Split(discount, discounted);
        var lines = nets.Select((net, i) => new TotalsLineResult(net, shares[i], net - shares[i])).ToList();
        var taxes = request.PricesIncludeTax ? TaxInside(request, lines) : TaxOnTop(request, lines, errors);
        var tax = taxes.Aggregate((Int128)0, (sum, t) => sum + t.TaxMinor);
        var total = subtotal - discount + (request.PricesIncludeTax ? 0 : tax);
        if (errors.Any || IsTooLarge(total, "lines", "The total", errors))
        {
            return errors.ToFailure();
        }

        if (request.TradeCreditMinor > total)
        {
            return Failure.Field(
                "tradeCreditMinor",
                $"The trade credit of {request.Text(request.TradeCreditMinor)} is above the total of {request.Text((long)total)}; give at most the total."
            );
        }

        return new TotalsResult(
            lines,
            (long)subtotal,
            discount,
            taxes,
            (long)tax,
            (long)total,
            request.TradeCreditMinor,
            (long)total - request.TradeCreditMinor
        );
    }

    private static long[] Nets(TotalsRequest request, FieldErrors errors)
    {
        var nets = new long[request.Lines.Count];
        for (var i = 0; i < nets.Length; i++)
        {
            var line = request.Lines[i];
            var quantity = (Int128)decimal.ToInt64(line.Quantity * QuantityScale);
            var net = Shares.Round(quantity * line.UnitPriceMinor, QuantityScale, request.Rounding);
            if (net <= TotalsRules.LargestMinor)
            {
                nets[i] = (long)net;
            }
            else
            {
                IsTooLarge(net, $"lines[{i}].unitPriceMinor", "Quantity times unit price", errors);
            }
        }

        return nets;
    }

    private static long DiscountOf(TotalsRequest request, long subtotal) =>
        request.Discount switch
        {
            { Minor: { } minor } => minor,
            { Percent: { } percent } => (long)Shares.Round(subtotal * Scaled(percent), RateScale, request.Rounding),
            _ => 0,
        };

    /// <summary>Prices without tax: each tax is rounded once for the paper, or once for each line that carries it.</summary>
    private static List<TaxResult> TaxOnTop(TotalsRequest request, List<TotalsLineResult> lines, FieldErrors errors)
    {
        var taxable = new Int128[request.Taxes.Count];
        var taxes = new Int128[request.Taxes.Count];
        var indexes = IndexByCode(request);
        for (var i = 0; i < lines.Count; i++)
        {
            foreach (var code in request.Lines[i].TaxCodes)
            {
                var t = indexes[code];
                taxable[t] += lines[i].TaxableMinor;
                if (request.TaxPer == TaxPer.Line)
                {
                    taxes[t] += Rounded(lines[i].TaxableMinor, request.Taxes[t], request.Rounding);
                }
            }
        }

        for (var t = 0; t < taxes.Length && request.TaxPer == TaxPer.Invoice; t++)
        {
            taxes[t] = Rounded(taxable[t], request.Taxes[t], request.Rounding);
        }

        var results = new List<TaxResult>(taxes.Length);
        for (var t = 0; t < taxes.Length; t++)
        {
            if (!IsTooLarge(taxes[t], "taxes", "A tax", errors))
            {
                results.Add(new TaxResult(request.Taxes[t].Code, (long)taxable[t], (long)taxes[t]));
            }
        }

        return results;
    }

    /// <summary>Prices with tax: lines of one set of codes are taken together (per line: each alone), the tax taken out once and shared among the codes.</summary>
    private static List<TaxResult> TaxInside(TotalsRequest request, List<TotalsLineResult> lines)
    {
        var taxable = new long[request.Taxes.Count];
        var taxes = new long[request.Taxes.Count];
        var indexes = IndexByCode(request);
        var groups = lines
            .Select((line, i) => (line.TaxableMinor, Codes: CodesInOrder(request.Lines[i], indexes), Line: i))
            .GroupBy(l => request.TaxPer == TaxPer.Line ? $"line {l.Line}" : string.Join(' ', l.Codes));
        foreach (var group in groups)
        {
            var codes = group.First().Codes;
            var gross = group.Sum(l => l.TaxableMinor);
            var rates = codes.Select(t => (long)Scaled(request.Taxes[t].RatePercent)).ToList();
            var basis = (long)Shares.Round((Int128)gross * RateScale, RateScale + rates.Sum(), request.Rounding);
            var shares = Shares.Split(gross - basis, rates);
            for (var k = 0; k < codes.Length; k++)
            {
                taxable[codes[k]] += basis;
                taxes[codes[k]] += shares[k];
            }
        }

        return [.. request.Taxes.Select((tax, t) => new TaxResult(tax.Code, taxable[t], taxes[t]))];
    }

    private static Dictionary<string, int> IndexByCode(TotalsRequest request) =>
        request.Taxes.Index().ToDictionary(t => t.Item.Code, t => t.Index, StringComparer.Ordinal);

    private static int[] CodesInOrder(TotalsLine line, Dictionary<string, int> indexes) =>
        [.. line.TaxCodes.Select(code => indexes[code]).Order()];

    private static Int128 Rounded(Int128 taxable, TaxRate tax, MoneyRounding rounding) =>
        Shares.Round(taxable * Scaled(tax.RatePercent), RateScale, rounding);

    private static Int128 Scaled(decimal percent) => (Int128)(percent * (RateScale / 100));

    private static bool IsTooLarge(Int128 amount, string path, string label, FieldErrors errors)
    {
        var isTooLarge = amount > TotalsRules.LargestMinor;
        errors.AddIf(
            isTooLarge,
            path,
            $"{label} comes to more than can be added up (2⁵³ − 1 minor units); check quantities and prices."
        );
        return isTooLarge;
    }
}
