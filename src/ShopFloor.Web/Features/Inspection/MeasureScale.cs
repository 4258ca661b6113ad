namespace ShopFloor.Web.Features.Inspection;

/// <summary>The stretch of values a picture of a measured line shows, so that limits and readings all lie inside it with some air.</summary>
public sealed record MeasureScale(decimal From, decimal To)
{
    /// <summary>Share of the shown stretch that is left empty at each end.</summary>
    private const decimal Air = 0.12m;

    /// <summary>Takes in every limit, the nominal value and every reading; never of no width.</summary>
    public static MeasureScale Of(decimal? lower, decimal? upper, decimal? nominal, IEnumerable<decimal> readings)
    {
        var points = readings.ToList();
        points.AddRange(new[] { lower, upper, nominal }.OfType<decimal>());
        if (points.Count == 0)
        {
            return new MeasureScale(-1, 1);
        }

        var (least, most) = (points.Min(), points.Max());
        if (least == most)
        {
            // One limit and nothing measured: show its neighbourhood, a tenth of it to either side.
            var reach = Math.Max(Math.Abs(least) / 10, 1);
            return new MeasureScale(least - reach, most + reach);
        }

        var air = (most - least) * Air / (1 - 2 * Air);
        return new MeasureScale(least - air, most + air);
    }

    /// <summary>Where a value lies, 0 at the left end and 1 at the right; values beyond are held at the end.</summary>
    public double At(decimal value) => Math.Clamp((double)((value - From) / (To - From)), 0, 1);
}
