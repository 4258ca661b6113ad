using System.Globalization;
using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Quoting;

/// <summary>A line before the money of the whole is known.</summary>
/// <param name="CostMinor">What it costs the shop; null where nobody knows.</param>
internal sealed record DraftLine(
    string Code,
    LineGroup Group,
    Phase? Phase,
    string Description,
    decimal Quantity,
    string Unit,
    long UnitPriceMinor,
    IReadOnlyList<string> TaxCodes,
    string Rule,
    string Source,
    IReadOnlyList<ExplanationInput> Inputs,
    IReadOnlyList<Explanation> Parts,
    decimal? CostMinor
)
{
    public TotalsLine ToTotalsLine(bool isTaxExempt) =>
        new(Description, Quantity, UnitPriceMinor, isTaxExempt ? [] : TaxCodes);

    public PricedLine ToLine(TotalsLineResult money, Currency currency, bool isTaxExempt) =>
        new(
            Code,
            Group,
            Phase,
            Description,
            Quantity,
            Unit,
            UnitPriceMinor,
            money.NetMinor,
            money.DiscountMinor,
            money.TaxableMinor,
            isTaxExempt ? [] : TaxCodes,
            new Explanation(
                Rule,
                Inputs,
                Source,
                new Money(money.NetMinor, currency).ToString(CultureInfo.InvariantCulture),
                Parts
            )
        );
}

/// <summary>How figures are worded in explanations.</summary>
internal static class Figures
{
    internal static string Plain(decimal value) => value.ToString("0.######", CultureInfo.InvariantCulture);

    internal static string Hours(decimal hours) => Plain(decimal.Round(hours, 2)) + " h";

    internal static string Money(PriceBook book, long minor) =>
        new Money(minor, book.Currency).ToString(CultureInfo.InvariantCulture);
}
