using System.Globalization;

namespace ShopFloor.Domain.Common;

/// <summary>A length read on an inch tape: whole inches, a fraction in lowest terms, and what the fraction leaves out.</summary>
/// <param name="IsNegative">The length lies below zero; inches and fraction are of its size.</param>
/// <param name="Numerator">0 where the length is whole inches.</param>
/// <param name="RemainderMm">The length less what the tape shows; at most half a division either way.</param>
public readonly record struct FractionalInches(
    bool IsNegative,
    long Inches,
    int Numerator,
    int Denominator,
    double RemainderMm
)
{
    /// <summary>The nearest division of an inch tape; a length halfway between two goes to the larger.</summary>
    /// <param name="millimetres">Finite, at most 10¹² either way.</param>
    /// <param name="divisions">2, 4, 8, 16, 32 or 64 in an inch.</param>
    /// <exception cref="ArgumentOutOfRangeException">Not a tape's division, or no length.</exception>
    public static FractionalInches Nearest(double millimetres, int divisions)
    {
        if (divisions is not (2 or 4 or 8 or 16 or 32 or 64))
        {
            throw new ArgumentOutOfRangeException(
                nameof(divisions),
                divisions,
                "A tape has 2, 4, 8, 16, 32 or 64 parts in an inch."
            );
        }

        if (!(Math.Abs(millimetres) <= 1e12))
        {
            throw new ArgumentOutOfRangeException(
                nameof(millimetres),
                millimetres,
                "A length on a tape is a finite number."
            );
        }

        var parts = (long)
            Math.Round(Math.Abs(millimetres) / Length.MillimetresPerInch * divisions, MidpointRounding.AwayFromZero);
        var shown = parts * Length.MillimetresPerInch / divisions;
        var (numerator, denominator) = ((int)(parts % divisions), divisions);
        while (numerator > 0 && numerator % 2 == 0)
        {
            (numerator, denominator) = (numerator / 2, denominator / 2);
        }

        var isNegative = millimetres < 0 && parts > 0;
        return new(
            isNegative,
            parts / divisions,
            numerator,
            numerator == 0 ? 1 : denominator,
            millimetres - (isNegative ? -shown : shown)
        );
    }

    /// <summary>E.g. <c>39 3/8 in</c>, <c>5/16 in</c>, <c>-1 1/2 in</c>.</summary>
    public override string ToString()
    {
        var sign = IsNegative ? "-" : "";
        var text = (Inches, Numerator) switch
        {
            (_, 0) => string.Create(CultureInfo.InvariantCulture, $"{Inches}"),
            (0, _) => string.Create(CultureInfo.InvariantCulture, $"{Numerator}/{Denominator}"),
            _ => string.Create(CultureInfo.InvariantCulture, $"{Inches} {Numerator}/{Denominator}"),
        };
        return sign + text + " in";
    }
}
