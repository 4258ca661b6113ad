using System.Text.Json.Serialization;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Domain.Accounts;

/// <summary>The line a part was taken from, as it was agreed.</summary>
/// <param name="WholeMinor">What the whole line comes to after its discount.</param>
public sealed record LinePart(decimal Quantity, string Unit, long UnitPriceMinor, long WholeMinor);

/// <summary>A row of agreed work, of an invoice or of a credit note.</summary>
/// <param name="Key">Names the agreed line within the job: number of the charge and of its line, e.g. <c>1.3</c>. The same on every paper that takes from it.</param>
/// <param name="PartOf">Where only a part of the agreed line stands here; null for the whole of it.</param>
public sealed record InvoiceLine(
    string Description,
    decimal Quantity,
    string Unit,
    long UnitPriceMinor,
    long NetMinor,
    long DiscountMinor,
    IReadOnlyList<string> TaxCodes,
    string Key = "",
    LinePart? PartOf = null
)
{
    /// <summary>What the row comes to after its share of the discount; with the tax inside where prices include tax.</summary>
    [JsonIgnore]
    public long AmountMinor => NetMinor - DiscountMinor;
}

/// <summary>What is agreed, invoiced or credited, added up by the same rules as the quote.</summary>
public sealed record InvoiceContent(
    string CurrencyCode,
    bool PricesIncludeTax,
    IReadOnlyList<InvoiceLine> Lines,
    long SubtotalMinor,
    long DiscountMinor,
    IReadOnlyList<QuotedTax> Taxes,
    long TaxMinor,
    long TotalMinor
)
{
    // With several taxes inside a price, parts may differ by units that rounding moved between their bases.
    private const long RoundingSlack = 10;

    /// <summary>The whole of an accepted quote or of an approved change.</summary>
    public static InvoiceContent Of(PricedQuote priced)
    {
        ArgumentNullException.ThrowIfNull(priced);
        return new(
            priced.CurrencyCode,
            priced.PricesIncludeTax,
            [
                .. priced.Lines.Select(l => new InvoiceLine(
                    l.Description,
                    l.Quantity,
                    l.Unit,
                    l.UnitPriceMinor,
                    l.NetMinor,
                    l.DiscountMinor,
                    l.TaxCodes
                )),
            ],
            priced.SubtotalMinor,
            priced.DiscountMinor,
            priced.Taxes,
            priced.TaxMinor,
            priced.TotalMinor
        );
    }

    /// <summary>Nothing at all.</summary>
    public static InvoiceContent Nothing(string currencyCode, bool pricesIncludeTax) =>
        new(currencyCode, pricesIncludeTax, [], 0, 0, [], 0, 0);

    /// <summary>Adds up lines whose taxes are known.</summary>
    public static InvoiceContent Sum(
        string currencyCode,
        bool pricesIncludeTax,
        IReadOnlyList<InvoiceLine> lines,
        IReadOnlyList<QuotedTax> taxes
    )
    {
        ArgumentNullException.ThrowIfNull(lines);
        ArgumentNullException.ThrowIfNull(taxes);
        var subtotal = lines.Sum(l => l.NetMinor);
        var discount = lines.Sum(l => l.DiscountMinor);
        var tax = taxes.Sum(t => t.TaxMinor);
        return new InvoiceContent(
            currencyCode,
            pricesIncludeTax,
            lines,
            subtotal,
            discount,
            taxes,
            tax,
            subtotal - discount + (pricesIncludeTax ? 0 : tax)
        );
    }

    /// <summary>Several contents as one; a tax of the same code is added up.</summary>
    /// <param name="contents">At least one; currency and the way of pricing must agree.</param>
    public static InvoiceContent Join(IReadOnlyList<InvoiceContent> contents)
    {
        ArgumentNullException.ThrowIfNull(contents);
        return Sum(
            contents[0].CurrencyCode,
            contents[0].PricesIncludeTax,
            [.. contents.SelectMany(c => c.Lines)],
            [
                .. contents
                    .SelectMany(c => c.Taxes)
                    .GroupBy(t => t.Code)
                    .Select(g =>
                        g.First() with
                        {
                            TaxableMinor = g.Sum(t => t.TaxableMinor),
                            TaxMinor = g.Sum(t => t.TaxMinor),
                        }
                    ),
            ]
        );
    }

    /// <summary>Gives each line its key within a charge.</summary>
    public InvoiceContent Keyed(int charge) =>
        this with
        {
            Lines = [.. Lines.Select((l, i) => l with { Key = $"{charge}.{i + 1}" })],
        };

    /// <summary>A tax code stands for one rate on one job: a code that came to mean another rate gets the rate in its name.</summary>
    /// <param name="known">Taxes the job has so far.</param>
    public InvoiceContent WithRatesApart(IReadOnlyList<QuotedTax> known)
    {
        var changed = Taxes
            .Where(t => known.Any(k => k.Code == t.Code && k.RatePercent != t.RatePercent))
            .ToDictionary(t => t.Code, t => t.Code + RateInName(t));
        string Name(string code) => changed.GetValueOrDefault(code, code);
        return changed.Count == 0
            ? this
            : this with
            {
                Lines = [.. Lines.Select(l => l with { TaxCodes = [.. l.TaxCodes.Select(Name)] })],
                Taxes = [.. Taxes.Select(t => t with { Code = Name(t.Code) })],
            };
    }

    /// <summary>The code that the price book has for a tax whose rate was put into its name.</summary>
    public static string BookCodeOf(QuotedTax tax)
    {
        ArgumentNullException.ThrowIfNull(tax);
        var added = RateInName(tax);
        return tax.Code.EndsWith(added, StringComparison.Ordinal) ? tax.Code[..^added.Length] : tax.Code;
    }

    private static string RateInName(QuotedTax tax) => FormattableString.Invariant($" {tax.RatePercent:0.####}%");

    /// <summary>What does not add up, in words that go on after the paper's name; empty when all does.</summary>
    public IReadOnlyList<string> Differences()
    {
        var found = new List<string>();
        void Check(bool isRight, string text)
        {
            if (!isRight)
            {
                found.Add(text);
            }
        }

        Check(Lines.Sum(l => l.NetMinor) == SubtotalMinor, "its lines do not add up to its subtotal");
        Check(Lines.Sum(l => l.DiscountMinor) == DiscountMinor, "its lines' discounts do not add up");
        Check(Taxes.Sum(t => t.TaxMinor) == TaxMinor, "its taxes do not add up");
        Check(
            SubtotalMinor - DiscountMinor + (PricesIncludeTax ? 0 : TaxMinor) == TotalMinor,
            "its subtotal, discount and tax do not make its total"
        );
        foreach (var line in Lines)
        {
            Check(
                Math.Abs((line.Quantity * line.UnitPriceMinor) - line.NetMinor) <= 0.5m,
                $"its line '{line.Description}' is not quantity times unit price"
            );
        }

        foreach (var tax in Taxes)
        {
            var carried = Lines.Where(l => l.TaxCodes.Contains(tax.Code)).Sum(l => l.AmountMinor);
            Check(
                PricesIncludeTax
                    ? tax.TaxableMinor + tax.TaxMinor <= carried + RoundingSlack
                    : tax.TaxableMinor == carried,
                $"the base of {tax.Title} is not the sum of its lines"
            );
        }

        return found;
    }
}
