using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Domain.Accounts;

/// <summary>What was taken from a whole so far: by line and by tax.</summary>
internal sealed class Taken
{
    private readonly Dictionary<string, long> lines = new(StringComparer.Ordinal);
    private readonly Dictionary<string, (long Taxable, long Tax)> taxes = new(StringComparer.Ordinal);

    public bool IsNothing => lines.Count == 0;

    public static Taken Of(IEnumerable<(InvoiceContent Content, int Sign)> papers)
    {
        var taken = new Taken();
        foreach (var (content, sign) in papers)
        {
            foreach (var line in content.Lines)
            {
                taken.lines[line.Key] = taken.Of(line.Key) + (sign * line.AmountMinor);
            }

            foreach (var tax in content.Taxes)
            {
                var (taxable, amount) = taken.OfTax(tax.Code);
                taken.taxes[tax.Code] = (taxable + (sign * tax.TaxableMinor), amount + (sign * tax.TaxMinor));
            }
        }

        return taken;
    }

    public bool Knows(string key) => lines.ContainsKey(key);

    public long Of(string key) => lines.GetValueOrDefault(key);

    public (long Taxable, long Tax) OfTax(string code) => taxes.GetValueOrDefault(code);
}

/// <summary>Cuts a whole into parts that add up to it exactly: lines, taxes and total. The same for invoices (parts of what is agreed) and credit notes (parts of an invoice).</summary>
/// <remarks>The tax of a part is what brings the tax taken so far to its exact share of the whole's tax, rounded half up: never more than one minor unit from rate times base, and the last part takes what is left.</remarks>
internal sealed class Portions(InvoiceContent whole, Taken taken)
{
    private const long Near = 4;

    /// <summary>Rates have up to 4 decimals.</summary>
    private const long RatePerPercent = 10_000;

    /// <summary>Sum of the lines not taken yet, before tax where prices are without.</summary>
    public long RestMinor => whole.Lines.Sum(Left);

    public long Left(InvoiceLine line) => line.AmountMinor - taken.Of(line.Key);

    /// <summary>All that is left.</summary>
    public InvoiceContent Rest() => Build([.. whole.Lines.Select(Left)], isRest: true);

    /// <summary>What is left of the lines with these keys; everything where they are all there is.</summary>
    public InvoiceContent Of(IReadOnlySet<string> keys) =>
        BuildOrRest([.. whole.Lines.Select(l => keys.Contains(l.Key) ? Left(l) : 0)]);

    /// <summary>Given amounts of lines, each at most what is left of it.</summary>
    public InvoiceContent Of(IReadOnlyDictionary<string, long> amounts) =>
        BuildOrRest([.. whole.Lines.Select(l => amounts.GetValueOrDefault(l.Key))]);

    /// <summary>A percentage of what is left, spread over all lines.</summary>
    public InvoiceContent OfPercent(decimal percent) =>
        percent == 100 ? Rest() : OfBase(Money.Round(RestMinor * percent / 100, MoneyRounding.HalfUp));

    /// <summary>A part whose total, tax included, is exactly this; null where the taxes' rounding leaves no such part.</summary>
    /// <param name="totalMinor">Over 0, under the total of <see cref="Rest"/>.</param>
    public InvoiceContent? OfTotal(long totalMinor)
    {
        var (low, high) = (0L, RestMinor);
        while (low < high)
        {
            var middle = low + ((high - low + 1) / 2);
            (low, high) = OfBase(middle).TotalMinor <= totalMinor ? (middle, high) : (low, middle - 1);
        }

        // Shares of lines move by single units, so an exact part may lie a few units beside.
        var near = Enumerable
            .Range(0, (int)(2 * Near) + 1)
            .Select(i => low + i - Near)
            .Where(b => b > 0 && b <= RestMinor)
            .Select(OfBase)
            .Where(c => c.TotalMinor <= totalMinor)
            .MaxBy(c => c.TotalMinor);
        return near is null || near.TotalMinor == totalMinor ? near : WithTaxUp(near, totalMinor - near.TotalMinor);
    }

    private InvoiceContent OfBase(long baseMinor) =>
        BuildOrRest(Shares.Split(baseMinor, [.. whole.Lines.Select(l => Math.Max(0, Left(l)))]));

    private InvoiceContent BuildOrRest(long[] amounts) =>
        Build(amounts, isRest: whole.Lines.Select((l, i) => Left(l) == amounts[i]).All(same => same));

    private InvoiceContent Build(long[] amounts, bool isRest)
    {
        var lines = whole
            .Lines.Select((line, i) => (Line: line, Amount: amounts[i]))
            .Where(l => l.Amount != 0 || (isRest && !taken.Knows(l.Line.Key)))
            .Select(l => Row(l.Line, l.Amount))
            .ToList();
        return InvoiceContent.Sum(
            whole.CurrencyCode,
            whole.PricesIncludeTax,
            lines,
            [
                .. whole
                    .Taxes.Select(tax => TaxOf(tax, amounts, isRest))
                    .Where(tax =>
                        tax.TaxableMinor != 0 || tax.TaxMinor != 0 || lines.Exists(l => l.TaxCodes.Contains(tax.Code))
                    ),
            ]
        );
    }

    private InvoiceLine Row(InvoiceLine line, long amount) =>
        amount == line.AmountMinor && taken.Of(line.Key) == 0
            ? line
            : new InvoiceLine(
                line.Description,
                1,
                "part",
                amount,
                amount,
                0,
                line.TaxCodes,
                line.Key,
                line.PartOf ?? new LinePart(line.Quantity, line.Unit, line.UnitPriceMinor, line.AmountMinor)
            );

    private QuotedTax TaxOf(QuotedTax tax, long[] amounts, bool isRest)
    {
        var carrying = whole.Lines.Index().Where(l => l.Item.TaxCodes.Contains(tax.Code)).ToList();
        var part = carrying.Sum(l => amounts[l.Index]);
        var all = carrying.Sum(l => l.Item.AmountMinor);
        var after = carrying.Sum(l => taken.Of(l.Item.Key)) + part;
        var before = taken.OfTax(tax.Code);
        if (isRest || after == all)
        {
            // With the tax inside, a job cancelled after parts may have had a unit more of it; the total is the same.
            var isOver = whole.PricesIncludeTax && before.Tax > tax.TaxMinor;
            return tax with
            {
                TaxableMinor = tax.TaxableMinor - before.Taxable - (isOver ? before.Tax - tax.TaxMinor : 0),
                TaxMinor = isOver ? 0 : tax.TaxMinor - before.Tax,
            };
        }

        if (!whole.PricesIncludeTax)
        {
            var exact = Shares.Round((Int128)tax.TaxMinor * after, Math.Max(1, all), MoneyRounding.HalfUp);
            return tax with { TaxableMinor = part, TaxMinor = Step((long)exact, before.Tax, tax.TaxMinor, part) };
        }

        var (taxable, minor) = TaxInside(
            tax.Code,
            carrying.Select(l => (l.Item, taken.Of(l.Item.Key) + amounts[l.Index]))
        );
        var step = Step(minor, before.Tax, tax.TaxMinor, part);
        return tax with
        {
            TaxMinor = step,
            TaxableMinor = carrying.TrueForAll(l => l.Item.TaxCodes.Count == 1)
                ? part - step
                : Step(taxable, before.Taxable, tax.TaxableMinor, part),
        };
    }

    /// <summary>From what was taken before to what is taken with this part; never below nothing, never above the whole.</summary>
    private static long Step(long after, long before, long all, long part) =>
        part == 0 ? 0 : Math.Clamp(after - before, 0, Math.Max(0, all - before));

    /// <summary>Base and tax of one code in amounts with the tax inside: lines of one set of codes together, as the totals reckon them.</summary>
    private (long Taxable, long Tax) TaxInside(string code, IEnumerable<(InvoiceLine Line, long Minor)> amounts)
    {
        var (taxable, minor) = (0L, 0L);
        foreach (var group in amounts.GroupBy(a => string.Join(' ', a.Line.TaxCodes.Order(StringComparer.Ordinal))))
        {
            var taxes = whole.Taxes.Where(t => group.First().Line.TaxCodes.Contains(t.Code)).ToList();
            var rates = taxes.Select(t => (long)(t.RatePercent * RatePerPercent)).ToList();
            var gross = group.Sum(a => a.Minor);
            var basis = (long)
                Shares.Round(
                    (Int128)gross * 100 * RatePerPercent,
                    (100 * RatePerPercent) + rates.Sum(),
                    MoneyRounding.HalfUp
                );
            taxable += basis;
            minor += Shares.Split(gross - basis, rates)[taxes.FindIndex(t => t.Code == code)];
        }

        return (taxable, minor);
    }

    /// <summary>Rounds taxes up instead of down, one unit each, until the total is reached.</summary>
    private InvoiceContent? WithTaxUp(InvoiceContent content, long missing)
    {
        var taxes = content.Taxes.ToList();
        for (var i = 0; i < taxes.Count && missing > 0; i++)
        {
            var left = whole.Taxes.Single(t => t.Code == taxes[i].Code).TaxMinor - taken.OfTax(taxes[i].Code).Tax;
            if (taxes[i].TaxableMinor > 0 && taxes[i].TaxMinor < left)
            {
                taxes[i] = taxes[i] with { TaxMinor = taxes[i].TaxMinor + 1 };
                missing--;
            }
        }

        return missing > 0
            ? null
            : InvoiceContent.Sum(content.CurrencyCode, content.PricesIncludeTax, content.Lines, taxes);
    }
}
