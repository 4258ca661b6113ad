using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Fabrication;

/// <summary>The ranges in which the workbench's calculators take figures; outside them the answer is a sentence at the field.</summary>
internal static class FigureRules
{
    /// <summary>Ten kilometres in millimetres: nothing in a workshop is larger, and every square of it is exact enough.</summary>
    public const double Largest = 1e7;

    /// <summary>Over 0 and at most <see cref="Largest"/>.</summary>
    public static bool IsSize(double value, string path, string label, FieldErrors errors) =>
        Holds(
            value is > 0 and <= Largest,
            path,
            $"{label} must be over 0 and at most {Largest:0}; check the figure.",
            errors
        );

    /// <summary>0 to <see cref="Largest"/>.</summary>
    public static bool IsSizeOrNone(double value, string path, string label, FieldErrors errors) =>
        Holds(
            value is >= 0 and <= Largest,
            path,
            $"{label} must be 0 or more and at most {Largest:0}; check the figure.",
            errors
        );

    /// <summary>Between −<see cref="Largest"/> and <see cref="Largest"/>.</summary>
    public static bool IsCoordinate(double value, string path, string label, FieldErrors errors) =>
        Holds(
            value is >= -Largest and <= Largest,
            path,
            $"{label} must lie between -{Largest:0} and {Largest:0}; check the figure.",
            errors
        );

    /// <summary>A tube's outside diameter and wall: the wall under half the diameter.</summary>
    public static bool IsTube(
        double diameterMm,
        double wallMm,
        string diameterPath,
        string wallPath,
        FieldErrors errors
    )
    {
        var isDiameter = IsSize(diameterMm, diameterPath, "The outside diameter", errors);
        var isWall = IsSize(wallMm, wallPath, "The wall", errors);
        return isDiameter
            && isWall
            && Holds(
                wallMm < diameterMm / 2,
                wallPath,
                "The wall must be under half the outside diameter; a solid bar is not a tube.",
                errors
            );
    }

    /// <summary>A bend's centreline radius: over half the tube's diameter, so that the inside of the bend is not a point.</summary>
    public static bool IsBendRadius(double radiusMm, double diameterMm, string path, FieldErrors errors) =>
        IsSize(radiusMm, path, "The centreline radius", errors)
        && Holds(
            radiusMm > diameterMm / 2,
            path,
            "The centreline radius must be over half the tube's outside diameter.",
            errors
        );

    /// <summary>The result can be written down: a figure so near to 0 that something divided by it has no end is complained of at its field.</summary>
    public static bool HasEnd(double result, string path, string label, FieldErrors errors) =>
        Holds(
            double.IsFinite(result),
            path,
            $"{label} is so near to 0 that the result has no end; check the figure.",
            errors
        );

    public static bool Holds(bool isRight, string path, string text, FieldErrors errors)
    {
        errors.AddIf(!isRight, path, text);
        return isRight;
    }
}
