using System.Globalization;

namespace ShopFloor.Domain.Common;

/// <summary>The unit in which a shop reads lengths.</summary>
public enum LengthUnit
{
    Millimetre,
    Inch,
}

/// <summary>A length, held in millimetres (1 in = 25.4 mm exactly, by the international inch). May be negative where it is a coordinate; finite always.</summary>
public readonly record struct Length : IComparable<Length>
{
    /// <summary>Exact by the international yard and pound agreement of 1959.</summary>
    public const double MillimetresPerInch = 25.4;

    private Length(double millimetres) => Millimetres = millimetres;

    public double Millimetres { get; }

    public double Inches => Millimetres / MillimetresPerInch;

    /// <exception cref="ArgumentOutOfRangeException">Not a finite number.</exception>
    public static Length FromMillimetres(double millimetres) =>
        double.IsFinite(millimetres)
            ? new(millimetres)
            : throw new ArgumentOutOfRangeException(nameof(millimetres), millimetres, "A length is a finite number.");

    /// <exception cref="ArgumentOutOfRangeException">Not a finite number.</exception>
    public static Length FromInches(double inches) => FromMillimetres(inches * MillimetresPerInch);

    public static Length operator +(Length a, Length b) => FromMillimetres(a.Millimetres + b.Millimetres);

    public static Length operator -(Length a, Length b) => FromMillimetres(a.Millimetres - b.Millimetres);

    public static bool operator <(Length a, Length b) => a.Millimetres < b.Millimetres;

    public static bool operator >(Length a, Length b) => a.Millimetres > b.Millimetres;

    public static bool operator <=(Length a, Length b) => a.Millimetres <= b.Millimetres;

    public static bool operator >=(Length a, Length b) => a.Millimetres >= b.Millimetres;

    public int CompareTo(Length other) => Millimetres.CompareTo(other.Millimetres);

    /// <summary>Millimetres to two places, or inches to three.</summary>
    public string ToString(LengthUnit unit, CultureInfo culture) =>
        unit == LengthUnit.Millimetre
            ? Millimetres.ToString("0.##", culture) + " mm"
            : Inches.ToString("0.###", culture) + " in";

    public override string ToString() => ToString(LengthUnit.Millimetre, CultureInfo.InvariantCulture);
}
