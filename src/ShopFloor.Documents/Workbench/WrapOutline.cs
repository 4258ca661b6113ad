namespace ShopFloor.Documents.Workbench;

/// <summary>A point on the unrolled paper, millimetres: x to the right, y up, away from the joint.</summary>
internal readonly record struct PaperPoint(double X, double Y);

/// <summary>
/// The wrap unrolled, seen on its printed face, which lies outward on the tube. With the joint below and the free end above, going round
/// counter-clockwise as seen from the free end is going to the right on that face.
/// </summary>
internal sealed class WrapOutline
{
    /// <summary>The seam lies opposite the line at 0°, which so stands whole in the middle of the paper.</summary>
    public const double SeamDegrees = 180;

    /// <summary>Paper above the highest point of the cut: its straight edge shows whether the wrap sits square.</summary>
    public const double CollarMm = 25;

    /// <summary>Beyond the seam, to glue under the other edge.</summary>
    public const double FlapMm = 5;

    private readonly double radius;

    public WrapOutline(WrapTemplate template)
    {
        radius = template.OutsideDiameterMm / 2;
        WidthMm = 2 * Math.PI * radius;
        DepthMm = template.HighestMm - template.LowestMm;
        Curve = Unrolled(template);
    }

    /// <summary>The tube's circumference.</summary>
    public double WidthMm { get; }

    /// <summary>From the lowest to the highest point of the cut.</summary>
    public double DepthMm { get; }

    public double HeightMm => DepthMm + CollarMm;

    /// <summary>The cut from seam to seam.</summary>
    public IReadOnlyList<PaperPoint> Curve { get; }

    /// <summary>Where a place round the tube lies on the paper.</summary>
    public double X(double aroundDegrees)
    {
        var turned = (aroundDegrees - SeamDegrees) % 360;
        return radius * (turned < 0 ? turned + 360 : turned) * Math.PI / 180;
    }

    /// <summary>The cut's height at a place on the paper, by the straight line between its points.</summary>
    public double CurveAt(double x)
    {
        for (var i = 1; i < Curve.Count; i++)
        {
            if (x <= Curve[i].X)
            {
                return Between(Curve[i - 1], Curve[i], x);
            }
        }

        return Curve[^1].Y;
    }

    private List<PaperPoint> Unrolled(WrapTemplate template)
    {
        var inside = template
            .Edge.Select(p => new PaperPoint(X(p.AroundDegrees), p.AxialMm - template.LowestMm))
            .OrderBy(p => p.X)
            .ToList();
        var (first, last) = (inside[0], inside[^1]);
        // The seam's own height, where no point lies on it: between its neighbours left and right of the seam.
        var seam = first.X < 1e-9 ? first.Y : Between(last with { X = last.X - WidthMm }, first, 0);
        return [new(0, seam), .. inside.Where(p => p.X >= 1e-9), new(WidthMm, seam)];
    }

    private static double Between(PaperPoint a, PaperPoint b, double x) =>
        b.X - a.X <= 0 ? b.Y : a.Y + ((b.Y - a.Y) * (x - a.X) / (b.X - a.X));
}
