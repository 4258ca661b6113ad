using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Fabrication;

/// <summary>One bend to be figured.</summary>
/// <param name="CentrelineRadiusMm">Over half the diameter.</param>
/// <param name="AngleDegrees">Deflection from straight, over 0 and under 180.</param>
public sealed record TubeBendInput(double OutsideDiameterMm, double CentrelineRadiusMm, double AngleDegrees);

/// <summary>What a bend takes.</summary>
/// <param name="ArcLengthMm">Along the centreline.</param>
/// <param name="SetbackMm">From the tangent point to where the straight centrelines meet.</param>
/// <param name="RadiusToDiameter">Centreline radius ÷ outside diameter; see <see cref="TubeBend.LeastRadiusToDiameter"/>.</param>
public sealed record TubeBendFigures(
    double ArcLengthMm,
    double SetbackMm,
    double OuterArcMm,
    double InnerArcMm,
    double RadiusToDiameter
);

/// <summary>The wall after bending, an estimate from geometry alone; measure the bent tube where it counts.</summary>
public sealed record BentWallEstimate(double OuterWallMm, double InnerWallMm, double ThinningPercent);

/// <summary>A circular bend of a tube.</summary>
/// <remarks>Arc = R θ, setback = R tan(θ/2).</remarks>
public static class TubeBend
{
    /// <summary>Centreline radius of at least three diameters: Motorsport UK, NCR 2026, ch. 7 app. 3, 20.3 (seen in an excerpt). The current rule book decides.</summary>
    public const double LeastRadiusToDiameter = 3;

    public static Outcome<TubeBendFigures> Calculate(TubeBendInput input)
    {
        ArgumentNullException.ThrowIfNull(input);
        var errors = new FieldErrors();
        if (FigureRules.IsSize(input.OutsideDiameterMm, "outsideDiameterMm", "The outside diameter", errors))
        {
            FigureRules.IsBendRadius(input.CentrelineRadiusMm, input.OutsideDiameterMm, "centrelineRadiusMm", errors);
        }
        else
        {
            FigureRules.IsSize(input.CentrelineRadiusMm, "centrelineRadiusMm", "The centreline radius", errors);
        }

        FigureRules.Holds(
            input.AngleDegrees is > 0 and < 180,
            "angleDegrees",
            "The bend angle is the deflection from straight: over 0 and under 180 degrees.",
            errors
        );
        var ratio = input.CentrelineRadiusMm / input.OutsideDiameterMm;
        if (errors.Any || !FigureRules.HasEnd(ratio, "outsideDiameterMm", "The outside diameter", errors))
        {
            return errors.ToFailure();
        }

        var angle = Angle.FromDegrees(input.AngleDegrees).Radians;
        var (radius, half) = (input.CentrelineRadiusMm, input.OutsideDiameterMm / 2);
        return new TubeBendFigures(
            radius * angle,
            SetbackMm(radius, angle),
            (radius + half) * angle,
            (radius - half) * angle,
            ratio
        );
    }

    /// <summary>Outer wall t R / (R + D/2), inner wall t R / (R − D/2): a rule of thumb on public tube-bending pages, not a measurement.</summary>
    public static BentWallEstimate EstimateWall(double outsideDiameterMm, double wallMm, double centrelineRadiusMm)
    {
        var half = outsideDiameterMm / 2;
        var outer = wallMm * centrelineRadiusMm / (centrelineRadiusMm + half);
        return new(outer, wallMm * centrelineRadiusMm / (centrelineRadiusMm - half), 100 * (wallMm - outer) / wallMm);
    }

    internal static double SetbackMm(double radiusMm, double angleRadians) => radiusMm * Math.Tan(angleRadians / 2);
}
