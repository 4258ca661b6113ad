namespace ShopFloor.Domain.Throughput;

/// <summary>Percentiles of the shop's own figures: type 7 of Hyndman and Fan, the default of R and NumPy.</summary>
/// <remarks>
/// With the n values in order, h = (n − 1)p + 1, and the percentile lies linearly between the values number ⌊h⌋ and ⌊h⌋ + 1.
/// Source: R. J. Hyndman, Y. Fan, Sample Quantiles in Statistical Packages, The American Statistician 50 (1996), as the manuals of R
/// (quantile, type 7) and NumPy (percentile, method linear) repeat it; the article itself was not read.
/// </remarks>
public static class Percentile
{
    /// <param name="values">In any order.</param>
    /// <param name="share">0 to 1: 0.5 is the median.</param>
    /// <returns>Null where there are no values.</returns>
    public static double? Of(IEnumerable<double> values, double share)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(share);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(share, 1);
        var sorted = values.Order().ToList();
        if (sorted.Count == 0)
        {
            return null;
        }

        var h = ((sorted.Count - 1) * share) + 1;
        var below = (int)Math.Floor(h);
        var above = Math.Min(below + 1, sorted.Count);
        return sorted[below - 1] + ((h - below) * (sorted[above - 1] - sorted[below - 1]));
    }

    /// <summary>Where a value stands among past ones: the percent of them that are not greater. Null where there are none.</summary>
    public static double? StandingOf(double value, IReadOnlyCollection<double> past) =>
        past.Count == 0 ? null : 100.0 * past.Count(v => v <= value) / past.Count;
}
