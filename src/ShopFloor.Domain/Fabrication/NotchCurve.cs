namespace ShopFloor.Domain.Fabrication;

/// <summary>Which edge of the branch meets the header.</summary>
public enum NotchEdge
{
    /// <summary>The profile on which a tube cut square to its wall touches without interfering: at each place the greatest over the whole wall.</summary>
    Seat,

    /// <summary>The inside of the wall.</summary>
    Inside,

    /// <summary>The outside of the wall, for a tube whose weld preparation is ground afterwards.</summary>
    Outside,
}

/// <summary>A round branch that meets a round header: how far along the branch its end lies at each place round it.</summary>
/// <remarks>
/// <para>A point at radius r and angle φ of the branch lies at u = r sin φ + e beside the header's axis, so the header's surface is met at
/// s(φ) = √(R² − u²) / sin θ + r cos φ / tan θ along the branch, from where the branch passes the header's axis (two cylinders; analytic geometry).</para>
/// <para>φ = 0 is the acute side; seen from the branch's free end towards the header φ grows counter-clockwise; a positive offset moves the branch's
/// axis towards φ = 90°.</para>
/// </remarks>
/// <param name="outerMm">Outside radius of the branch.</param>
/// <param name="innerMm">Inside radius of the branch.</param>
/// <param name="headerMm">Outside radius of the header; not under the edge's radius + the offset.</param>
/// <param name="angleRadians">Between the axes, over 0 to π/2.</param>
/// <param name="offsetMm">Between the axes.</param>
public sealed class NotchCurve(
    double outerMm,
    double innerMm,
    double headerMm,
    double angleRadians,
    double offsetMm,
    NotchEdge edge
)
{
    private readonly double sine = Math.Sin(angleRadians);
    private readonly double cosine = angleRadians >= Math.PI / 2 ? 0 : Math.Cos(angleRadians);

    /// <summary>Radius of the branch's outside, on which paper is wrapped.</summary>
    public double OuterMm => outerMm;

    public double CircumferenceMm => 2 * Math.PI * outerMm;

    /// <summary>Along the branch from the header's axis, in mm.</summary>
    public double AxialMm(double around)
    {
        var (sin, cos) = Math.SinCos(around);
        return edge switch
        {
            NotchEdge.Outside => At(outerMm, sin, cos),
            NotchEdge.Inside => At(innerMm, sin, cos),
            _ => At(Touching(sin, cos), sin, cos),
        };
    }

    /// <summary>The least and the greatest of the curve, with where they are.</summary>
    public (double Around, double AxialMm) Extreme(bool greatest) => AroundExtremes.Of(AxialMm, greatest);

    /// <summary>Length of the line along which the branch's outside meets the header, in mm: the weld to lay.</summary>
    public double JointLineMm() => LineMm(Outside().AxialMm, outerMm);

    /// <summary>The same tubes with the outside of the branch.</summary>
    internal NotchCurve Outside() => new(outerMm, innerMm, headerMm, angleRadians, offsetMm, NotchEdge.Outside);

    /// <summary>Length of a line round the outside of a tube, in mm.</summary>
    internal static double LineMm(Func<double, double> axialMm, double outerMm)
    {
        const int steps = 20_000;
        var chord = 2 * outerMm * Math.Sin(Math.PI / steps);
        var (length, before) = (0.0, axialMm(0));
        for (var i = 1; i <= steps; i++)
        {
            var here = axialMm(2 * Math.PI * i / steps);
            length += Math.Sqrt((chord * chord) + ((here - before) * (here - before)));
            before = here;
        }

        return length;
    }

    private double At(double radius, double sin, double cos)
    {
        var beside = (radius * sin) + offsetMm;
        // Where the branch's edge runs along the header's side, rounding must not make the root negative.
        return (Math.Sqrt(Math.Max(0, (headerMm - beside) * (headerMm + beside))) / sine)
            + (radius * cos * cosine / sine);
    }

    /// <summary>The radius within the wall at which the tube touches first.</summary>
    /// <remarks>For a given φ, s is concave in r, so the greatest lies where ds/dr = 0, or at the nearer end of the wall:
    /// u sin φ = cos φ cos θ √(R² − u²), which gives u = R cos φ cos θ sign(sin φ) / √(sin² φ + cos² φ cos² θ).</remarks>
    private double Touching(double sin, double cos)
    {
        var along = cos * cosine;
        if (sin == 0)
        {
            return along >= 0 ? outerMm : innerMm;
        }

        var beside = headerMm * along * Math.Sign(sin) / Math.Sqrt((sin * sin) + (along * along));
        return Math.Clamp((beside - offsetMm) / sin, innerMm, outerMm);
    }
}
