namespace ShopFloor.Domain.Fabrication;

/// <summary>Mass of steel parts from their nominal size.</summary>
/// <remarks>Tube: π (D − t) t × length × density, exact for a round tube. Density 7850 kg/m³: the customary figure for carbon steel (EN 1993-1-1, 3.2.6, from memory).</remarks>
public static class SteelMass
{
    public const decimal DensityKgPerM3 = 7850;

    /// <summary>Mass in kg of a round tube; all sizes in mm, wall under half the diameter.</summary>
    public static decimal OfTubeKg(decimal outsideDiameterMm, decimal wallMm, decimal lengthMm) =>
        (decimal)Math.PI * (outsideDiameterMm - wallMm) * wallMm * lengthMm * DensityKgPerM3 / 1_000_000_000;

    /// <summary>Mass in kg of a flat plate; all sizes in mm.</summary>
    public static decimal OfPlateKg(decimal lengthMm, decimal widthMm, decimal thicknessMm) =>
        lengthMm * widthMm * thicknessMm * DensityKgPerM3 / 1_000_000_000;
}
