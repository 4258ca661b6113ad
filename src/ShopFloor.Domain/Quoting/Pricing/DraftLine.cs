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
    internal static string Plain(decimal value) => PlainFigures.Number(value);

    internal static string Hours(decimal hours) => Plain(decimal.Round(hours, 2)) + " h";

    /// <summary>A sum of minutes as hours with two decimals, halves up: in whole numbers, because a division of decimals is the dearest thing here.</summary>
    /// <param name="parts">What the sum is divided by: 6 for low + 4 × likely + high.</param>
    internal static string HoursOfMinutes(decimal minutes, int parts = 1)
    {
        const long scale = 1_000_000;
        // Hundredths of an hour are minutes × 5 / 3.
        var scaled = decimal.ToInt64(decimal.Truncate(minutes * scale)) * 5;
        var divisor = 3 * scale * parts;
        return PlainFigures.Scaled((scaled + (divisor / 2)) / divisor, 2);
    }

    internal static string Money(PriceBook book, long minor) =>
        new Money(minor, book.Currency).ToString(CultureInfo.InvariantCulture);
}
