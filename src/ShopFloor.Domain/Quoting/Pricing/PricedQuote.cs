using System.Text.Json.Serialization;
using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Quoting;

/// <summary>Where a line stands on the quote.</summary>
public enum LineGroup
{
    Kit,
    Doors,
    Labour,
    Consumables,
    Paint,
    Outside,
    Freight,
    Extra,
    Minimum,
}

/// <summary>One row of a quote with its money and how it came about.</summary>
/// <param name="Code">Stable within the quote, e.g. <c>labour:PlateFit:welder</c>.</param>
/// <param name="Quantity">Of <paramref name="Unit"/>: hours to two places, pieces, m, m².</param>
public sealed record PricedLine(
    string Code,
    LineGroup Group,
    Phase? Phase,
    string Description,
    decimal Quantity,
    string Unit,
    long UnitPriceMinor,
    long NetMinor,
    long DiscountMinor,
    long TaxableMinor,
    IReadOnlyList<string> TaxCodes,
    Explanation Explanation
);

/// <summary>The hours of the whole car, rounded to four decimals.</summary>
/// <param name="P50">Hours that are as often exceeded as not: the mean.</param>
/// <param name="P80">Hours not exceeded by four cars of five.</param>
/// <param name="Priced">Hours at the confidence at which the shop prices.</param>
public sealed record QuoteHours(decimal P50, decimal P80, decimal Priced, int ConfidencePercent);

/// <summary>What one operation is expected to take; the job measures logged time against it.</summary>
/// <param name="Hours">Mean hours after condition factors, four decimals.</param>
public sealed record OperationEstimate(string OperationCode, string Title, Phase Phase, string Skill, decimal Hours);

/// <summary>A tax on the quote, with the rate that was used.</summary>
public sealed record QuotedTax(string Code, string Title, decimal RatePercent, long TaxableMinor, long TaxMinor);

/// <summary>A price with everything that explains it.</summary>
/// <param name="EngineVersion">Which rules computed it; stored results are never computed again by newer ones.</param>
/// <param name="DepositMinor">Asked for on acceptance by the price book's rule.</param>
/// <param name="Precautions">What the condition asks people to be careful about.</param>
public sealed record PricedQuote(
    int EngineVersion,
    int PriceBookEdition,
    string CurrencyCode,
    bool PricesIncludeTax,
    MoneyRounding Rounding,
    TaxPer TaxPer,
    IReadOnlyList<PricedLine> Lines,
    long SubtotalMinor,
    long DiscountMinor,
    IReadOnlyList<QuotedTax> Taxes,
    long TaxMinor,
    long TotalMinor,
    long TradeCreditMinor,
    long AmountDueMinor,
    long DepositMinor,
    QuoteHours Hours,
    IReadOnlyList<OperationEstimate> Operations,
    IReadOnlyList<string> Precautions
)
{
    /// <summary>Expected hours of each operation, all skills together.</summary>
    [JsonIgnore]
    public IReadOnlyDictionary<string, decimal> HoursByOperation =>
        Operations
            .GroupBy(o => o.OperationCode, StringComparer.Ordinal)
            .ToDictionary(g => g.Key, g => g.Sum(o => o.Hours), StringComparer.Ordinal);

    /// <summary>What the condition makes the work wait for, a sentence each.</summary>
    public IReadOnlyList<string> Gates { get; init; } = [];

    /// <summary>Whether work waits until the deposit is paid.</summary>
    public bool DepositBeforeStart { get; init; }

    /// <summary>The shop's own figures: never printed, never frozen into what the customer is shown. Null where nothing was known.</summary>
    public QuoteCost? Cost { get; init; }
}

/// <summary>What the shop expects a sale to cost and to leave.</summary>
/// <param name="RevenueMinor">Net of discount and tax.</param>
/// <param name="CostMinor">Purchase costs and expected hours at the shop's own cost.</param>
/// <param name="TargetPercent">The price book's aim; 0 for none.</param>
/// <param name="Lines">Cost of each line by its code; a line left out has no known cost.</param>
public sealed record QuoteCost(
    long RevenueMinor,
    long CostMinor,
    decimal TargetPercent,
    IReadOnlyDictionary<string, long> Lines
)
{
    [JsonIgnore]
    public long MarginMinor => RevenueMinor - CostMinor;

    /// <summary>Margin in percent of revenue, one decimal; null without revenue.</summary>
    [JsonIgnore]
    public decimal? MarginPercent => RevenueMinor == 0 ? null : decimal.Round(100m * MarginMinor / RevenueMinor, 1);

    [JsonIgnore]
    public bool IsUnderTarget => TargetPercent > 0 && (MarginPercent ?? 0) < TargetPercent;
}
