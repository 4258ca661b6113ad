using ShopFloor.Domain.RuleSets;

namespace ShopFloor.Domain.TubeCheck;

/// <summary>How the tube was made.</summary>
public enum TubeMake
{
    Seamless,
    Welded,
}

/// <summary>What a caliper says of the tube, and how far it may lie from what was ordered.</summary>
/// <param name="Diameter">In the unit of the order, as the wall and both tolerances.</param>
/// <param name="Wall">At the cut end, or by inspection hole or ultrasonic later.</param>
/// <param name="DiameterTolerance">Plus or minus, from the order or the certificate: the program does not guess one.</param>
/// <param name="WallTolerance">Plus or minus, likewise.</param>
public sealed record MeasuredTube(decimal Diameter, decimal Wall, decimal DiameterTolerance, decimal WallTolerance);

/// <summary>What the certificate (or its absence) says.</summary>
/// <param name="Make">Null where nobody knows.</param>
/// <param name="Grade">As written on the certificate.</param>
/// <param name="Certificate">Its number; without one nothing typed of the material is shown to be true.</param>
/// <param name="YieldNPerMm2">The yield strength as written. A rule book asks for one of the two, and neither stands in for the other.</param>
/// <param name="TensileNPerMm2">The tensile strength as written.</param>
/// <param name="CarbonPercent">0 to 100.</param>
/// <param name="ManganesePercent">0 to 100.</param>
/// <param name="OthersPercent">0 to 100; other additives together.</param>
public sealed record TubeMaterial(
    TubeMake? Make = null,
    string? Grade = null,
    string? Certificate = null,
    decimal? YieldNPerMm2 = null,
    decimal? TensileNPerMm2 = null,
    decimal? CarbonPercent = null,
    decimal? ManganesePercent = null,
    decimal? OthersPercent = null
);

/// <summary>One bend of the tube, in the unit of the order.</summary>
/// <param name="MajorDiameter">Largest diameter measured in the bend; null where not measured.</param>
/// <param name="MinorDiameter">Smallest diameter measured in the bend; null where not measured.</param>
/// <param name="HasWrinkles">Null where nobody looked.</param>
public sealed record CheckedBend(
    decimal CentrelineRadius,
    decimal? MajorDiameter,
    decimal? MinorDiameter,
    bool? HasWrinkles
);

/// <summary>A tube to be held against one size figure of a rule set.</summary>
/// <param name="FigureCode">A figure of sizes to choose from, e.g. <c>main-hoop-tube</c>.</param>
/// <param name="Ordered">The nominal size in the unit in which it was ordered.</param>
public sealed record TubeUnderCheck(
    string FigureCode,
    TubeSize Ordered,
    MeasuredTube? Measured,
    TubeMaterial Material,
    IReadOnlyList<CheckedBend> Bends
);

/// <summary>What the comparison says of one question.</summary>
public enum TubeVerdict
{
    /// <summary>As printed.</summary>
    Meets,

    /// <summary>Not as printed.</summary>
    DoesNotMeet,

    /// <summary>Nothing at hand shows it: a certificate, a measurement or a printed size is missing.</summary>
    NotShown,

    /// <summary>This rule set, as it is kept here, has no figure for it.</summary>
    NotAsked,
}

/// <summary>One answer.</summary>
/// <param name="About">What was compared, in our own words.</param>
/// <param name="Figure">The figure it was held against; null where there is none.</param>
public sealed record TubeFinding(string About, TubeVerdict Verdict, string Sentence, RuleFigure? Figure = null);

/// <summary>Section figures beside the answers. Information only: they never prove that a size may stand for a printed one.</summary>
public sealed record TubeSection(TubeSize Size, double SectionModulusMm3, double MassKgPerM, bool IsOrdered);

/// <summary>The whole answer.</summary>
public sealed record TubeCheckResult(
    TubeVerdict Verdict,
    IReadOnlyList<TubeFinding> Findings,
    IReadOnlyList<TubeSection> Sections
);

public static class TubeWords
{
    /// <summary>The verdict as people read it.</summary>
    public static string Words(this TubeVerdict verdict) =>
        verdict switch
        {
            TubeVerdict.Meets => "as printed",
            TubeVerdict.DoesNotMeet => "not as printed",
            TubeVerdict.NotShown => "not shown",
            TubeVerdict.NotAsked => "no figure here",
            _ => throw new ArgumentOutOfRangeException(nameof(verdict), verdict, "Unknown verdict."),
        };
}
