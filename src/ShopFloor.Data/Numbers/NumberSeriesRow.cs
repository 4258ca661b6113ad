namespace ShopFloor.Data.Numbers;

/// <summary>The last number given out in a gapless series, e.g. quotes of 2026.</summary>
public sealed class NumberSeriesRow
{
    /// <summary>Letter of the series: Q quote, J job, I invoice, R receipt, C credit note.</summary>
    public required string Series { get; init; }
    public int Year { get; init; }
    public long Last { get; init; }
}
