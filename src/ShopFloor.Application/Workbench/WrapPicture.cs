using ShopFloor.Documents.Workbench;

namespace ShopFloor.Application.Workbench;

/// <summary>The end of a cut tube, unrolled and to scale.</summary>
internal static class WrapPicture
{
    /// <param name="edge">The curve.</param>
    /// <param name="circumferenceMm">Round the tube's outside.</param>
    /// <param name="lowestMm">Where the tube's square end lies.</param>
    /// <param name="highestMm">Where the cut is deepest.</param>
    /// <param name="zero">What stands at 0°, such as "0° acute side".</param>
    /// <param name="marks">Other lines along the tube, in degrees, with their words.</param>
    public static BenchPicture Draw(
        IReadOnlyList<WrapPoint> edge,
        double circumferenceMm,
        double lowestMm,
        double highestMm,
        string zero,
        params IReadOnlyList<(double Degrees, string Words)> marks
    )
    {
        var (width, deep) = (circumferenceMm, highestMm - lowestMm);
        var top = deep + Math.Max(12, width * 0.06);
        var pad = Math.Max(width, top) * 0.09;
        double X(double degrees) => (((degrees % 360) + 540) % 360) / 360 * width;
        var curve = edge.Select(p => new BenchPoint(X(p.AroundDegrees), p.AxialMm - lowestMm))
            .OrderBy(p => p.X)
            .ToList();
        curve.Add(new BenchPoint(width, curve[0].Y));
        var picture = new BenchPicture(
            "The end of the cut tube, unrolled and to scale; the joint is below, the tube goes on above.",
            -pad,
            -pad * 1.4,
            width + (pad * 2.6),
            top + (pad * 1.35)
        );
        picture
            .Line("fill", [.. curve, new(width, top), new(0, top)], isClosed: true)
            .Line("guide", 0, 0, width, 0)
            .Line("cut", curve)
            .Line("edge", [new(0, curve[0].Y), new(0, top), new(width, top), new(width, curve[^1].Y)]);
        foreach (var around in (double[])[0, 90, 270])
        {
            picture.Line("guide", X(around), top - (pad * 0.5), X(around), top);
            // The long words stand above the others, so that they do not run into them on a small screen.
            picture.Words(
                X(around),
                top + (pad * (around == 0 ? 0.75 : 0.25)),
                around == 0 ? zero : $"{around}°",
                "middle"
            );
        }

        foreach (var (degrees, words) in marks)
        {
            picture
                .Line("mark", X(degrees), 0, X(degrees), top)
                .Words(Math.Clamp(X(degrees), width * 0.1, width * 0.9), -pad * 0.5, words, "middle");
        }

        return picture
            .Up(width + (pad * 0.4), 0, deep, FormattableString.Invariant($"{deep:0.0} mm"))
            .Across(0, width, -pad, FormattableString.Invariant($"round the tube {width:0.0} mm"));
    }
}
