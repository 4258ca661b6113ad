using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Quoting;

/// <summary>A guess of hours with its range.</summary>
/// <param name="LowHours">0 or more: when all goes well.</param>
/// <param name="LikelyHours">Not under the low one.</param>
/// <param name="HighHours">Not under the likely one, over 0: when it goes badly.</param>
public sealed record ThreePointItem(double LowHours, double LikelyHours, double HighHours);

/// <summary>What the guesses come to together.</summary>
/// <param name="P50Hours">As often more as less.</param>
/// <param name="P80Hours">Not exceeded in four of five.</param>
public sealed record ThreePointResult(
    double MeanHours,
    double StandardDeviationHours,
    double P50Hours,
    double P80Hours
);

/// <summary>Classical three-point estimate (PERT): mean (l + 4m + h)/6, variance ((h − l)/6)²; of independent items means and variances add.</summary>
/// <remarks>Source: D. G. Malcolm, J. H. Roseboom, C. E. Clark, W. Fazar, "Application of a Technique for Research and Development Program Evaluation", Operations Research 7 (1959), from memory. The sum is read as normal.</remarks>
public static class ThreePoint
{
    /// <summary>The standard normal quantile of 80 %.</summary>
    public const double Z80 = 0.8416212335729143;
    public const double LargestHours = 1e7;
    public const int MostItems = 10_000;

    public static double Mean(ThreePointItem item)
    {
        ArgumentNullException.ThrowIfNull(item);
        return (item.LowHours + (4 * item.LikelyHours) + item.HighHours) / 6;
    }

    public static double Variance(ThreePointItem item)
    {
        ArgumentNullException.ThrowIfNull(item);
        var deviation = (item.HighHours - item.LowHours) / 6;
        return deviation * deviation;
    }

    public static Outcome<ThreePointResult> Calculate(IReadOnlyList<ThreePointItem> items)
    {
        ArgumentNullException.ThrowIfNull(items);
        var errors = new FieldErrors();
        errors.AddIf(items.Count == 0, "items", "At least one item is needed.");
        errors.AddIf(
            items.Count > MostItems,
            "items",
            $"{items.Count} items were given; at most {MostItems} are taken."
        );
        for (var i = 0; i < items.Count && items.Count <= MostItems; i++)
        {
            Check(items[i], $"items[{i}]", errors);
        }

        if (errors.Any)
        {
            return errors.ToFailure();
        }

        var mean = items.Sum(Mean);
        var deviation = Math.Sqrt(items.Sum(Variance));
        return new ThreePointResult(mean, deviation, mean, mean + (Z80 * deviation));
    }

    private static void Check(ThreePointItem item, string path, FieldErrors errors)
    {
        CheckRange(item.LowHours, path + ".lowHours", errors);
        CheckRange(item.LikelyHours, path + ".likelyHours", errors);
        CheckRange(item.HighHours, path + ".highHours", errors);
        errors.AddIf(
            item.LikelyHours < item.LowHours,
            path + ".likelyHours",
            "The likely hours are under the low ones; give low, likely and high in rising order."
        );
        errors.AddIf(
            item.HighHours < item.LikelyHours,
            path + ".highHours",
            "The high hours are under the likely ones; give low, likely and high in rising order."
        );
        errors.AddIf(item.HighHours == 0, path + ".highHours", "The high hours are 0; they must be over 0.");
    }

    private static void CheckRange(double hours, string path, FieldErrors errors) =>
        errors.AddIf(
            !(hours is >= 0 and <= LargestHours),
            path,
            $"Hours must be from 0 to {LargestHours:0}; check the figure."
        );
}
