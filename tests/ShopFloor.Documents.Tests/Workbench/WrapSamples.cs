using ShopFloor.Documents.Workbench;

namespace ShopFloor.Documents.Tests.Workbench;

/// <summary>A round tube on a round header, reckoned here by itself: r the radius of the edge, R the header's radius, θ between the axes, e the offset.</summary>
internal sealed record Saddle(
    double DiameterMm,
    double EdgeRadiusMm,
    double HeaderRadiusMm,
    double Degrees,
    double OffsetMm
)
{
    public double Theta => Degrees * Math.PI / 180;

    /// <summary>Along the branch from where its axis passes nearest the header's.</summary>
    public double At(double aroundDegrees)
    {
        var phi = aroundDegrees * Math.PI / 180;
        var across = (EdgeRadiusMm * Math.Sin(phi)) + OffsetMm;
        return (Math.Sqrt((HeaderRadiusMm * HeaderRadiusMm) - (across * across)) / Math.Sin(Theta))
            + (EdgeRadiusMm * Math.Cos(phi) / Math.Tan(Theta));
    }

    public double Lowest => Enumerable.Range(0, 36_000).Min(i => At(i / 100.0));

    public WrapTemplate Template(double? bendPlane = null, int points = 1440) =>
        new(
            new WorkbenchHead("Hollow Lane Fabrication", "Harness bar", "J-2026-0004 · operation 180"),
            "left end",
            DiameterMm,
            [.. Enumerable.Range(0, points).Select(i => new WrapPoint(i * 360.0 / points, At(i * 360.0 / points)))],
            Lowest,
            Enumerable.Range(0, 36_000).Max(i => At(i / 100.0)),
            "acute side",
            bendPlane,
            [new("Branch", "44.45 mm"), new("Header", "60 mm"), new("Angle", "55°"), new("Offset", "4 mm")],
            ["The outside of the wall overhangs by 0.4 mm."]
        );
}

internal static class WrapSamples
{
    /// <summary>Neither equal halves nor equal sides: a mirrored or turned template cannot pass for it.</summary>
    public static Saddle Skew { get; } = new(44.45, 22.225, 30, 55, 4);

    /// <summary>38.1 × 2.413 mm, inside edge, on 44.45 mm at 45°.</summary>
    public static Saddle Plain { get; } = new(38.1, 16.637, 22.225, 45, 0);

    /// <summary>Too wide for one sheet.</summary>
    public static Saddle Wide { get; } = new(114.3, 57.15, 70, 40, 6);
}
