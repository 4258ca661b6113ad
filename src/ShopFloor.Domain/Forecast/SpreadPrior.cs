namespace ShopFloor.Domain.Forecast;

/// <summary>What is taken for likely of a shop before its own cars have said anything. Assumptions, no source; the shop's own cars outweigh them soon.</summary>
/// <param name="CarSpread">Log-spread of whole cars: the price book's whole-car spread; the middle of a log-normal belief.</param>
/// <param name="CarSpreadDoubt">Log-spread of that belief: 0.7 says that it may well be half or double.</param>
/// <param name="Bias">Deviation of the logarithm of logged ÷ estimated hours of the shop as a whole, around 0.</param>
/// <param name="Weight">Logged operations that the stated spread of operations counts for.</param>
public sealed record SpreadPrior(
    double CarSpread = 0.2,
    double CarSpreadDoubt = 0.7,
    double Bias = 0.25,
    double Weight = 8
)
{
    /// <summary>A book that says that cars do not differ is not believed to the letter.</summary>
    public const double LeastCarSpread = 0.05;

    public static SpreadPrior Of(Quoting.PriceBook book)
    {
        ArgumentNullException.ThrowIfNull(book);
        return new SpreadPrior(Math.Max(LeastCarSpread, LogNormal.SpreadOf(1, (double)book.WholeCarSpread)));
    }
}
