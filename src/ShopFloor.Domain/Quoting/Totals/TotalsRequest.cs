using System.Globalization;
using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Quoting;

/// <summary>Whether a tax is rounded once for the whole paper or line by line.</summary>
public enum TaxPer
{
    Invoice,
    Line,
}

/// <summary>A tax and its rate.</summary>
/// <param name="RatePercent">0 to 100, up to 4 decimals.</param>
public sealed record TaxRate(string Code, decimal RatePercent);

/// <summary>One row to be added up.</summary>
/// <param name="Quantity">Over 0, at most 10⁶, up to 6 decimals.</param>
/// <param name="UnitPriceMinor">0 or more, at most 2⁵³ − 1 minor units.</param>
/// <param name="TaxCodes">Each a code of the request's taxes, none twice; empty means untaxed.</param>
public sealed record TotalsLine(
    string Description,
    decimal Quantity,
    long UnitPriceMinor,
    IReadOnlyList<string> TaxCodes
);

/// <summary>A reduction of the whole: a percentage of the subtotal or an amount, not both.</summary>
/// <param name="Percent">0 to 100, up to 4 decimals.</param>
/// <param name="Minor">0 or more, not above the subtotal.</param>
public sealed record Discount(decimal? Percent, long? Minor)
{
    public static readonly Discount None = new(null, null);
}

/// <summary>Everything that decides what a quote or an invoice adds up to.</summary>
/// <param name="PricesIncludeTax">True where unit prices are what the customer pays, tax inside.</param>
/// <param name="TradeCreditMinor">Value of work or goods taken in exchange: a means of payment, which lowers only the amount due.</param>
public sealed record TotalsRequest(
    Currency Currency,
    MoneyRounding Rounding,
    TaxPer TaxPer,
    bool PricesIncludeTax,
    IReadOnlyList<TotalsLine> Lines,
    Discount Discount,
    IReadOnlyList<TaxRate> Taxes,
    long TradeCreditMinor
)
{
    /// <summary>Indexes of the lines that the discount is taken from; null for all of them.</summary>
    public IReadOnlySet<int>? DiscountedLines { get; init; }

    /// <summary>An amount as sentences name it.</summary>
    internal string Text(long minor) => new Money(minor, Currency).ToString(CultureInfo.InvariantCulture);
}

/// <summary>A line's money in minor units.</summary>
/// <param name="NetMinor">Quantity × unit price, rounded once.</param>
/// <param name="DiscountMinor">Its share of the discount.</param>
/// <param name="TaxableMinor">Net less share; with the tax inside where prices include tax.</param>
public sealed record TotalsLineResult(long NetMinor, long DiscountMinor, long TaxableMinor);

/// <summary>What one tax comes to.</summary>
/// <param name="TaxableMinor">What it is charged on, without tax.</param>
public sealed record TaxResult(string Code, long TaxableMinor, long TaxMinor);

/// <summary>The sums, all in whole minor units.</summary>
public sealed record TotalsResult(
    IReadOnlyList<TotalsLineResult> Lines,
    long SubtotalMinor,
    long DiscountMinor,
    IReadOnlyList<TaxResult> Taxes,
    long TaxMinor,
    long TotalMinor,
    long TradeCreditMinor,
    long AmountDueMinor
);
