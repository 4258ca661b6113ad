using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Fabrication;

/// <summary>Angles from what a tape measures.</summary>
public static class MeasuredAngles
{
    /// <summary>How far something leans out of the vertical.</summary>
    /// <param name="sidewaysMm">How far the top stands off the plumb line.</param>
    /// <param name="heightMm">Over 0.</param>
    public static Angle Lean(double sidewaysMm, double heightMm) => Angle.FromRadians(Math.Atan2(sidewaysMm, heightMm));

    /// <summary>Angle to the horizontal, falling below zero: shoulder straps, a harness bar's level.</summary>
    /// <param name="dropMm">How much lower the second point is; negative where it is higher.</param>
    /// <param name="runMm">Between the points, level; over 0.</param>
    public static Angle Below(double dropMm, double runMm) => Angle.FromRadians(Math.Atan2(dropMm, runMm));

    /// <summary>Angle of a brace to the vertical.</summary>
    /// <param name="runMm">Level distance between its ends.</param>
    /// <param name="heightMm">Height between its ends; over 0.</param>
    public static Angle FromVertical(double runMm, double heightMm) => Angle.FromRadians(Math.Atan2(runMm, heightMm));

    /// <summary>Whether two readings of one angle agree: before and past a bend, or of both hinge axes.</summary>
    public static bool Agree(Angle first, Angle second, Angle limit) =>
        Math.Abs(first.Degrees - second.Degrees) <= limit.Degrees;
}

/// <summary>How a nearly upright axis stands, read with an angle gauge from two sides that are square to each other.</summary>
/// <param name="Along">Out of the vertical along the car, forward above zero; between −90 and 90 degrees.</param>
/// <param name="Across">Out of the vertical across the car, to the right above zero; between −90 and 90 degrees.</param>
public readonly record struct AxisReadings(Angle Along, Angle Across)
{
    /// <summary>The angle between two axes in space: 0 where they are parallel.</summary>
    public Angle Between(AxisReadings other) => Angle.FromRadians(Direction.AngleTo(other.Direction));

    private Point3 Direction => new(Math.Tan(Along.Radians), Math.Tan(Across.Radians), 1);
}
