using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Quoting;

/// <summary>What the engine is asked to price.</summary>
/// <param name="Content">The route's work content for this scope, before condition factors.</param>
/// <param name="TradeCreditMinor">Value agreed for work or goods taken in exchange, tax not lowered.</param>
/// <param name="On">The local day whose tax rates count.</param>
/// <param name="IsTaxExempt">True where the customer has shown an exemption: no tax is charged on any line.</param>
public sealed record PriceInput(
    JobScope Scope,
    IReadOnlyList<WorkContent> Content,
    Discount Discount,
    long TradeCreditMinor,
    DateOnly On,
    bool IsTaxExempt = false
)
{
    public PriceExtras Extras { get; init; } = PriceExtras.None;
}

/// <summary>What is priced beside kit, doors and the route's work.</summary>
/// <param name="Lines">Rows agreed at the counter, at most 100.</param>
/// <param name="OutsideWorkCodes">Outside work of the price book, each once.</param>
/// <param name="FreightZoneCode">Where it is sent; needed for a kit that is shipped.</param>
/// <param name="FreightMassKg">Mass that is sent; null for the kit's own.</param>
/// <param name="DiscountLineCodes">Codes of the lines that the discount is taken from; empty for all.</param>
/// <param name="FreeReason">Why a return visit costs nothing; null where it is charged.</param>
public sealed record PriceExtras(
    IReadOnlyList<ExtraLine> Lines,
    IReadOnlyList<string> OutsideWorkCodes,
    string? FreightZoneCode,
    decimal? FreightMassKg,
    IReadOnlyList<string> DiscountLineCodes,
    string? FreeReason
)
{
    public const int MostLines = 100;
    public const decimal LargestMassKg = 10_000;

    public static readonly PriceExtras None = new([], [], null, null, [], null);
}

/// <summary>A row agreed at the counter that the price book does not have.</summary>
/// <param name="Quantity">Over 0, at most 10⁶, up to 6 decimals.</param>
/// <param name="UnitPriceMinor">0 or more.</param>
/// <param name="TaxCodes">Taxes of the price book.</param>
/// <param name="UnitCostMinor">What one unit costs the shop; null where nobody knows.</param>
public sealed record ExtraLine(
    string Description,
    decimal Quantity,
    string Unit,
    long UnitPriceMinor,
    IReadOnlyList<string> TaxCodes,
    long? UnitCostMinor = null
);
