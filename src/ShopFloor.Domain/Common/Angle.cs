using System.Globalization;

namespace ShopFloor.Domain.Common;

/// <summary>An angle, held in degrees; finite always, not reduced to a full turn.</summary>
public readonly record struct Angle : IComparable<Angle>
{
    private Angle(double degrees) => Degrees = degrees;

    public double Degrees { get; }

    public double Radians => Degrees * Math.PI / 180;

    /// <exception cref="ArgumentOutOfRangeException">Not a finite number.</exception>
    public static Angle FromDegrees(double degrees) =>
        double.IsFinite(degrees)
            ? new(degrees)
            : throw new ArgumentOutOfRangeException(nameof(degrees), degrees, "An angle is a finite number.");

    /// <exception cref="ArgumentOutOfRangeException">Not a finite number.</exception>
    public static Angle FromRadians(double radians) => FromDegrees(radians * 180 / Math.PI);

    public static bool operator <(Angle a, Angle b) => a.Degrees < b.Degrees;

    public static bool operator >(Angle a, Angle b) => a.Degrees > b.Degrees;

    public static bool operator <=(Angle a, Angle b) => a.Degrees <= b.Degrees;

    public static bool operator >=(Angle a, Angle b) => a.Degrees >= b.Degrees;

    public int CompareTo(Angle other) => Degrees.CompareTo(other.Degrees);

    public override string ToString() => Degrees.ToString("0.##", CultureInfo.InvariantCulture) + "°";
}
