using ShopFloor.Domain.Common;
using ShopFloor.Domain.RuleSets;

namespace ShopFloor.Domain.TubeCheck;

/// <summary>What can be typed of a tube before anything is compared.</summary>
internal static class TubeCheckRules
{
    /// <summary>No tube of a car is thicker, in millimetres or in inches.</summary>
    private const decimal Largest = 1000;

    public static FieldErrors Check(TubeUnderCheck tube)
    {
        var errors = new FieldErrors();
        TextRules.Required(tube.FigureCode, "figure", "The part of the cage", TextRules.Code, errors);
        Size(tube.Ordered.Diameter, tube.Ordered.Wall, "ordered", errors);
        errors
            .AddIf(tube.Ordered.Unit is not ("mm" or "in"), "ordered.unit", "The ordered size is in mm or in.")
            .AddIf(
                tube.Bends.Count > TubeComparison.MostBends,
                "bends",
                $"At most {TubeComparison.MostBends} bends are compared at once."
            );
        if (tube.Measured is { } measured)
        {
            Size(measured.Diameter, measured.Wall, "measured", errors);
            NotNegative(measured.DiameterTolerance, "measured.diameterTolerance", errors);
            NotNegative(measured.WallTolerance, "measured.wallTolerance", errors);
        }

        Material(tube.Material, errors);
        foreach (var (i, bend) in tube.Bends.Take(TubeComparison.MostBends).Index())
        {
            Bend(bend, $"bends[{i}].", errors);
        }

        return errors;
    }

    private static void Material(TubeMaterial material, FieldErrors errors)
    {
        TextRules.Optional(material.Grade, "material.grade", "The grade", TextRules.Name, errors);
        TextRules.Optional(material.Certificate, "material.certificate", "The certificate", TextRules.Name, errors);
        Percent(material.CarbonPercent, "material.carbonPercent", errors);
        Percent(material.ManganesePercent, "material.manganesePercent", errors);
        Percent(material.OthersPercent, "material.othersPercent", errors);
        Strength(material.YieldNPerMm2, "material.yieldNPerMm2", errors);
        Strength(material.TensileNPerMm2, "material.tensileNPerMm2", errors);
        errors.AddIf(
            material.YieldNPerMm2 > material.TensileNPerMm2,
            "material.tensileNPerMm2",
            "The tensile strength does not lie under the yield strength."
        );
    }

    private static void Strength(decimal? value, string path, FieldErrors errors) =>
        errors.AddIf(
            value is not null and not (> 0 and <= 10_000),
            path,
            "The strength lies over 0 and at most at 10000 N/mm²."
        );

    private static void Bend(CheckedBend bend, string path, FieldErrors errors) =>
        errors
            .AddIf(
                bend.CentrelineRadius is not (> 0 and <= Largest * 10),
                path + "centrelineRadius",
                "The centreline radius must be over 0 and at most 10000."
            )
            .AddIf(
                bend.MajorDiameter is null != bend.MinorDiameter is null,
                path + "minorDiameter",
                "Give both diameters measured in the bend, or neither."
            )
            .AddIf(
                bend.MajorDiameter is not null and not (> 0 and <= Largest),
                path + "majorDiameter",
                "The largest diameter must be over 0 and at most 1000."
            )
            .AddIf(
                bend.MinorDiameter is { } minor && (minor <= 0 || minor > bend.MajorDiameter),
                path + "minorDiameter",
                "The smallest diameter must be over 0 and at most the largest."
            );

    private static void Size(decimal diameter, decimal wall, string path, FieldErrors errors) =>
        errors
            .AddIf(
                diameter is not (> 0 and <= Largest),
                $"{path}.diameter",
                "The outside diameter must be over 0 and at most 1000."
            )
            .AddIf(
                diameter is > 0 and <= Largest && (wall <= 0 || wall * 2 >= diameter),
                $"{path}.wall",
                "The wall must be over 0 and under half the outside diameter."
            );

    private static void NotNegative(decimal value, string path, FieldErrors errors) =>
        errors.AddIf(value is not (>= 0 and <= Largest), path, "A tolerance is 0 or more.");

    private static void Percent(decimal? value, string path, FieldErrors errors) =>
        errors.AddIf(value is not null and not (>= 0 and <= 100), path, "A share lies between 0 and 100 %.");
}
