namespace ShopFloor.Domain.Nesting;

/// <param name="LengthMm">As bought or as left over; at most four decimals.</param>
/// <param name="Quantity">How many there are; null for as many as are needed.</param>
public sealed record NestStock(decimal LengthMm, int? Quantity = null);

/// <param name="Label">What is written on the piece.</param>
public sealed record NestPiece(string Label, decimal LengthMm, int Quantity);

/// <summary>What is to be cut, from what.</summary>
/// <param name="KerfMm">What each cut takes away.</param>
/// <param name="EndTrimMm">What is cut off each bar first and never used.</param>
public sealed record NestRequest(
    IReadOnlyList<NestStock> Stock,
    IReadOnlyList<NestPiece> Pieces,
    decimal KerfMm = 0,
    decimal EndTrimMm = 0
);

public sealed record NestCut(string Label, decimal LengthMm);

/// <summary>One bar and its pieces in the order of sawing, the longest first.</summary>
/// <param name="RemnantMm">What is left after the last cut; 0 where the last cut takes it.</param>
public sealed record NestBar(decimal StockLengthMm, IReadOnlyList<NestCut> Cuts, decimal RemnantMm);

/// <summary>A nest with what no nest can beat.</summary>
/// <param name="LowerBoundStockMm">No nest uses less stock.</param>
/// <param name="LowerBoundBars">No nest uses fewer bars, however much stock it takes.</param>
/// <param name="IsProvenOptimal">No nest uses less stock, and none with as little stock uses fewer bars.</param>
public sealed record NestAnswer(
    IReadOnlyList<NestBar> Bars,
    decimal LowerBoundStockMm,
    int LowerBoundBars,
    bool IsProvenOptimal
)
{
    public int BarsUsed => Bars.Count;
    public decimal StockUsedMm => Bars.Sum(b => b.StockLengthMm);
}
