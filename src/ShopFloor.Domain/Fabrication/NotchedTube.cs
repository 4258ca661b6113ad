namespace ShopFloor.Domain.Fabrication;

/// <summary>A header at one end of a tube.</summary>
/// <param name="Curve">Of the notch for it.</param>
/// <param name="TurnRadians">Where the notch's φ = 0 lies from the tube's own zero, counted as φ is: counter-clockwise for one who looks from the free end towards the header.</param>
/// <param name="ShiftMm">Where the tube's axis passes this header, along the tube from the node towards its free end.</param>
public sealed record NotchAtNode(NotchCurve Curve, double TurnRadians, double ShiftMm = 0)
{
    /// <summary>Along the tube from the node, in mm.</summary>
    public double AxialMm(double around) => Curve.AxialMm(around - TurnRadians) + ShiftMm;
}

/// <summary>How a tube with a notch at each end is measured out.</summary>
/// <param name="AxisToAxisMm">Between the headers' axes, along the tube.</param>
/// <param name="BlankMm">What is sawn off the stick: from the point that reaches nearest to one header's axis to that of the other.</param>
/// <param name="ShortPointsMm">Between the deepest places of both notches: what remains uncut all the way.</param>
public sealed record NotchedLengths(double AxisToAxisMm, double BlankMm, double ShortPointsMm);

/// <summary>Tubes with notches at both ends, and ends that meet two headers.</summary>
public static class NotchedTube
{
    /// <summary>Lengths from the distance of the axes, measured along the tube.</summary>
    public static NotchedLengths Lengths(double axisToAxisMm, NotchCurve first, NotchCurve second)
    {
        ArgumentNullException.ThrowIfNull(first);
        ArgumentNullException.ThrowIfNull(second);
        return new(
            axisToAxisMm,
            axisToAxisMm - first.Extreme(greatest: false).AxialMm - second.Extreme(greatest: false).AxialMm,
            axisToAxisMm - first.Extreme(greatest: true).AxialMm - second.Extreme(greatest: true).AxialMm
        );
    }

    /// <summary>Where the end lies that meets two headers at one node: at each place the deeper of both notches.</summary>
    /// <param name="around">Radians, from the tube's own zero.</param>
    public static double AxialAtNodeMm(NotchAtNode first, NotchAtNode second, double around)
    {
        ArgumentNullException.ThrowIfNull(first);
        ArgumentNullException.ThrowIfNull(second);
        return Math.Max(first.AxialMm(around), second.AxialMm(around));
    }

    /// <summary>How far the acute side of the notch at the tube's end is turned against that at its start.</summary>
    /// <param name="tube">Direction from the start to the end.</param>
    /// <param name="startHeader">Direction of the header at the start; not along the tube.</param>
    /// <param name="endHeader">Direction of the header at the end; not along the tube.</param>
    /// <returns>Degrees over −180 to 180, right-handed about the tube's direction. Null where a header runs along the tube.</returns>
    public static double? TwistDegrees(Point3 tube, Point3 startHeader, Point3 endHeader)
    {
        var along = tube.Unit();
        var (start, end) = (AcuteSide(along, startHeader), AcuteSide(-1 * along, endHeader));
        if (start is not { } from || end is not { } to)
        {
            return null;
        }

        var degrees = Common.Angle.FromRadians(Math.Atan2(along.Dot(from.Cross(to)), from.Dot(to))).Degrees;
        return degrees <= -180 ? 180 : degrees;
    }

    /// <summary>Where on a notch's wrap the tube's bend lies: the mark that sets the wrap against the bend plane.</summary>
    /// <param name="away">From the header along the tube, towards its free end and its bend.</param>
    /// <param name="header">Direction of the header; not along the tube.</param>
    /// <param name="bendsTowards">The way in which the tube bends; not along the tube.</param>
    /// <returns>Degrees on the wrap, 0 to under 360, growing as φ does. Null where a direction runs along the tube.</returns>
    public static double? BendMarkDegrees(Point3 away, Point3 header, Point3 bendsTowards)
    {
        var along = away.Unit();
        if (AcuteSide(along, header) is not { } zero || SquareTo(along, bendsTowards.Unit()) is not { } bend)
        {
            return null;
        }

        var degrees = Common.Angle.FromRadians(Math.Atan2(along.Dot(zero.Cross(bend)), zero.Dot(bend))).Degrees;
        return degrees < 0 ? Math.Min(degrees + 360, Math.BitDecrement(360)) : degrees;
    }

    /// <summary>The direction square to the tube in which φ = 0 lies: towards the header on the side where both make an acute angle; at a right angle the header's own direction.</summary>
    /// <param name="away">From the header towards the tube's free end.</param>
    internal static Point3? AcuteSide(Point3 away, Point3 header)
    {
        var direction = header.Unit();
        var toward = away.Dot(direction) < 0 ? -1 * direction : direction;
        return SquareTo(away, toward);
    }

    private static Point3? SquareTo(Point3 along, Point3 direction)
    {
        var square = direction - (along.Dot(direction) * along);
        return square.Size < 1e-9 ? null : square.Unit();
    }
}
