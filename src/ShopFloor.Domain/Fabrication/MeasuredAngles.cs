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
