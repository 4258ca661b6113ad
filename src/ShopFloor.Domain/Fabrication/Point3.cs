namespace ShopFloor.Domain.Fabrication;

/// <summary>A point or a direction in space; millimetres where it is a point.</summary>
public readonly record struct Point3(double X, double Y, double Z)
{
    public double Size => Math.Sqrt(Dot(this));

    public static Point3 operator +(Point3 a, Point3 b) => new(a.X + b.X, a.Y + b.Y, a.Z + b.Z);

    public static Point3 operator -(Point3 a, Point3 b) => new(a.X - b.X, a.Y - b.Y, a.Z - b.Z);

    public static Point3 operator *(double factor, Point3 a) => new(factor * a.X, factor * a.Y, factor * a.Z);

    public double Dot(Point3 b) => (X * b.X) + (Y * b.Y) + (Z * b.Z);

    public Point3 Cross(Point3 b) => new((Y * b.Z) - (Z * b.Y), (Z * b.X) - (X * b.Z), (X * b.Y) - (Y * b.X));

    /// <summary>The direction; the point must not be the origin.</summary>
    public Point3 Unit() => (1 / Size) * this;

    /// <summary>Turned right-handed about an axis of length 1.</summary>
    public Point3 Turned(Point3 axis, double radians) =>
        (Math.Cos(radians) * this)
        + (Math.Sin(radians) * axis.Cross(this))
        + ((1 - Math.Cos(radians)) * axis.Dot(this) * axis);

    /// <summary>The angle between two directions, 0 to π; good for very small and very large ones.</summary>
    public double AngleTo(Point3 b) => Math.Atan2(Cross(b).Size, Dot(b));
}
