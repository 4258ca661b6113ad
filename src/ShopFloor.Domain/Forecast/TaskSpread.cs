using ShopFloor.Domain.Quoting;

namespace ShopFloor.Domain.Forecast;

/// <summary>How far an operation's hours spread by its low, likely and high ones.</summary>
/// <remarks>
/// Three points are read as everywhere else in the program, <see cref="ThreePoint"/>: mean (l + 4m + h)/6, deviation (h − l)/6; a log-normal of the same
/// mean and deviation has the log-spread √ln(1 + (deviation ÷ mean)²). Of work with several parts means and variances add.
/// </remarks>
public static class TaskSpread
{
    /// <summary>Where nobody gave three points. Assumption, no source.</summary>
    public const double Usual = 0.3;

    /// <summary>Less than this is stated by nobody who has done it twice: three equal points are taken for it. Assumption, no source.</summary>
    public const double Least = 0.05;

    public const double Most = 1.5;

    public static double Of(ThreePointItem item) => Of([item]);

    /// <param name="parts">Work of one operation.</param>
    public static double Of(IReadOnlyCollection<ThreePointItem> parts)
    {
        var mean = parts.Sum(ThreePoint.Mean);
        return mean <= 0 ? Usual : Within(LogNormal.SpreadOf(mean, Math.Sqrt(parts.Sum(ThreePoint.Variance))));
    }

    /// <summary>Log-spreads of a job's operations by their codes.</summary>
    public static IReadOnlyDictionary<string, double> ByOperation(IEnumerable<WorkPart> parts) =>
        parts
            .GroupBy(p => p.OperationCode, StringComparer.Ordinal)
            .ToDictionary(g => g.Key, g => Of([.. g.Select(p => p.Hours)]), StringComparer.Ordinal);

    internal static double Within(double spread) => Math.Clamp(spread, Least, Most);
}
