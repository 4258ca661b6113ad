using System.Globalization;

namespace ShopFloor.Domain.RuleSets;

/// <summary>How a figure came to be known; shown beside it wherever it is used.</summary>
public enum FigureMark
{
    /// <summary>The source's own text was read.</summary>
    Read,

    /// <summary>Seen in an excerpt, or in another text that quotes the source.</summary>
    Quoted,

    /// <summary>Recalled; the source was not at hand. Check it before relying on it.</summary>
    FromMemory,

    /// <summary>Common practice of the trade; there is no source.</summary>
    CommonPractice,
}

/// <summary>What a figure speaks of, so that a check knows how to compare with it.</summary>
public enum FigureKind
{
    SizeAlternatives,
    AngleRange,
    Distance,
    Area,
    Thickness,
    HardwareGrade,
    YesNo,
    Ratio,
    Strength,
    Composition,
    Duration,
    Ventilation,
    Count,
}

public static class FigureWords
{
    /// <summary>The mark as people read it.</summary>
    public static string Words(this FigureMark mark) =>
        mark switch
        {
            FigureMark.Read => "read in the source",
            FigureMark.Quoted => "seen quoted",
            FigureMark.FromMemory => "from memory",
            FigureMark.CommonPractice => "common practice, no source",
            _ => throw new ArgumentOutOfRangeException(nameof(mark), mark, "Unknown mark."),
        };

    /// <summary>The kind as people read it.</summary>
    public static string Words(this FigureKind kind) =>
        kind switch
        {
            FigureKind.SizeAlternatives => "tube sizes to choose from",
            FigureKind.AngleRange => "angle range",
            FigureKind.Distance => "distance",
            FigureKind.Area => "area",
            FigureKind.Thickness => "thickness",
            FigureKind.HardwareGrade => "hardware grade",
            FigureKind.YesNo => "yes or no",
            FigureKind.Ratio => "ratio",
            FigureKind.Strength => "strength",
            FigureKind.Composition => "share of the steel",
            FigureKind.Duration => "duration",
            FigureKind.Ventilation => "ventilation",
            FigureKind.Count => "number",
            _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "Unknown kind."),
        };

    /// <summary>A tube size as a book prints it.</summary>
    public static string Words(this TubeSize size) =>
        string.Create(CultureInfo.InvariantCulture, $"{size.Diameter:0.####} × {size.Wall:0.0###} {size.Unit}");
}

/// <summary>One tube size as a book prints it; metric and inch sizes stay apart, because a listed pair is seldom exactly equal.</summary>
/// <param name="Diameter">Outside diameter in <paramref name="Unit"/>; over 0.</param>
/// <param name="Wall">Wall thickness in <paramref name="Unit"/>; over 0 and under half the diameter.</param>
/// <param name="Unit"><c>mm</c> or <c>in</c>.</param>
public sealed record TubeSize(decimal Diameter, decimal Wall, string Unit);

/// <summary>One figure of a rule book: the number, the clause, and how surely it is known. Never the book's sentence.</summary>
/// <param name="Code">Unique in its rule set, e.g. <c>foot-plate-area</c>.</param>
/// <param name="Clause">Where it stands in the book, e.g. <c>§8.3.3</c>; may be empty for common practice only.</param>
/// <param name="What">Our own words for what is limited.</param>
/// <param name="Printed">The figure with its unit as printed, e.g. <c>≥ 120 cm²</c>.</param>
/// <param name="Kind">What it speaks of.</param>
/// <param name="Mark">How it came to be known.</param>
/// <param name="Unit">Unit of <paramref name="Lower"/> and <paramref name="Upper"/>; null when there are none.</param>
/// <param name="Lower">Least allowed value, inclusive.</param>
/// <param name="Upper">Greatest allowed value, inclusive.</param>
/// <param name="Sizes">The alternatives of a <see cref="FigureKind.SizeAlternatives"/> figure.</param>
/// <param name="Caution">A short warning that belongs to this figure.</param>
public sealed record RuleFigure(
    string Code,
    string Clause,
    string What,
    string Printed,
    FigureKind Kind,
    FigureMark Mark,
    string? Unit = null,
    decimal? Lower = null,
    decimal? Upper = null,
    IReadOnlyList<TubeSize>? Sizes = null,
    string? Caution = null
);
