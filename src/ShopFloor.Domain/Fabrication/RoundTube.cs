using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Fabrication;

/// <summary>A round tube to be looked up.</summary>
/// <param name="OutsideDiameterMm">Over 0.</param>
/// <param name="WallMm">Over 0, under half the diameter.</param>
/// <param name="DensityKgPerM3">7850 is customary for carbon steel.</param>
/// <param name="LengthMm">For the mass of a piece; null for none.</param>
public sealed record RoundTubeInput(
    double OutsideDiameterMm,
    double WallMm,
    double DensityKgPerM3 = RoundTube.SteelKgPerM3,
    double? LengthMm = null
);

/// <summary>Figures of a round tube's section.</summary>
/// <param name="SectionModulusMm3">Elastic: 2 I / D.</param>
/// <param name="PlasticModulusMm3">(D³ − d³) / 6.</param>
/// <param name="MassKg">Of the length asked for; null without one.</param>
public sealed record RoundTubeFigures(
    double AreaMm2,
    double SecondMomentMm4,
    double SectionModulusMm3,
    double PlasticModulusMm3,
    double RadiusOfGyrationMm,
    double MassKgPerM,
    double? MassKg
);

/// <summary>Section and mass of a round tube, exact for a circular ring of even wall.</summary>
/// <remarks>
/// Strength of materials: A = π (D² − d²)/4, I = π (D⁴ − d⁴)/64 with d = D − 2t. The figures compare tubes; they never prove that a size may
/// stand for the one a rule book prints.
/// </remarks>
public static class RoundTube
{
    /// <summary>Carbon steel, EN 1993-1-1 clause 3.2.6 (from memory); 7850 kg/m³ is 0.2836 lb/in³.</summary>
    public const double SteelKgPerM3 = 7850;

    public static Outcome<RoundTubeFigures> Calculate(RoundTubeInput input)
    {
        ArgumentNullException.ThrowIfNull(input);
        var errors = new FieldErrors();
        FigureRules.IsTube(input.OutsideDiameterMm, input.WallMm, "outsideDiameterMm", "wallMm", errors);
        FigureRules.IsSize(input.DensityKgPerM3, "densityKgPerM3", "The density", errors);
        if (input.LengthMm is { } asked)
        {
            FigureRules.IsSize(asked, "lengthMm", "The length", errors);
        }

        if (errors.Any)
        {
            return errors.ToFailure();
        }

        // Written with (D − t) t instead of differences of powers, which lose digits in thin walls.
        var (outside, wall) = (input.OutsideDiameterMm, input.WallMm);
        var inside = outside - (2 * wall);
        var area = AreaMm2(outside, wall);
        var second = area * ((outside * outside) + (inside * inside)) / 16;
        var massPerM = area * input.DensityKgPerM3 / 1e6;
        return new RoundTubeFigures(
            area,
            second,
            2 * second / outside,
            wall * ((outside * outside) + (outside * inside) + (inside * inside)) / 3,
            Math.Sqrt((outside * outside) + (inside * inside)) / 4,
            massPerM,
            input.LengthMm is { } length ? massPerM * length / 1000 : null
        );
    }

    /// <summary>Area of steel in the section.</summary>
    internal static double AreaMm2(double outsideMm, double wallMm) => Math.PI * (outsideMm - wallMm) * wallMm;
}
