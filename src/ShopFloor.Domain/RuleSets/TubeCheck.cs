using System.Globalization;
using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.RuleSets;

/// <summary>How a tube was made, as its certificate says.</summary>
public enum TubeMake
{
    Seamless,
    Welded,
}

/// <summary>A tube as ordered.</summary>
/// <param name="Size">Nominal size in the unit in which it is sold.</param>
/// <param name="Make">Null where nothing says it.</param>
/// <param name="HasCertificate">The certificate of this heat is at hand; without it material and strength stay open.</param>
/// <param name="MeetsComposition">The certificate's analysis lies within the printed composition; null where it was not compared.</param>
/// <param name="YieldNPerMm2">From the certificate.</param>
/// <param name="TensileNPerMm2">From the certificate.</param>
public sealed record OrderedTube(
    TubeSize Size,
    TubeMake? Make = null,
    bool HasCertificate = false,
    bool? MeetsComposition = null,
    decimal? YieldNPerMm2 = null,
    decimal? TensileNPerMm2 = null
);

/// <summary>The tube as measured; it is held against its own nominal size, not against the book.</summary>
/// <param name="DiameterMm">By caliper.</param>
/// <param name="WallMm">At a cut end, an inspection hole, or by ultrasound.</param>
/// <param name="DiameterToleranceMm">How far the diameter may be off its nominal size.</param>
/// <param name="WallTolerancePercent">How much thinner than nominal the wall may be.</param>
public sealed record MeasuredTube(
    decimal? DiameterMm,
    decimal? WallMm,
    decimal DiameterToleranceMm = MeasuredTube.UsualDiameterToleranceMm,
    decimal WallTolerancePercent = MeasuredTube.UsualWallTolerancePercent
)
{
    /// <summary>A beginning, common practice, no source: the tube's own standard or its seller's word decides.</summary>
    public const decimal UsualDiameterToleranceMm = 0.2m;

    /// <summary>Customary mill tolerance of a wall, common practice, no source.</summary>
    public const decimal UsualWallTolerancePercent = 10;
}

/// <summary>A bend as measured.</summary>
/// <param name="CentrelineRadiusMm">To the tube's middle line.</param>
/// <param name="MinorMm">Smallest diameter in the bend.</param>
/// <param name="MajorMm">Greatest diameter in the bend.</param>
/// <param name="IsSmooth">No wrinkle, ripple, kink or crack; null where nobody looked.</param>
public sealed record MeasuredBend(decimal? CentrelineRadiusMm, decimal? MinorMm, decimal? MajorMm, bool? IsSmooth);

public enum TubeVerdict
{
    Met,
    NotMet,

    /// <summary>Nothing was said that would answer it.</summary>
    Open,
}

/// <summary>One point of the check.</summary>
/// <param name="Figure">Code of the rule set's figure; null where the tube is held against its own nominal size.</param>
/// <param name="What">What was held against what.</param>
/// <param name="Printed">The figure as printed.</param>
/// <param name="Text">Why it is so, in a sentence.</param>
/// <param name="Source">Book, edition, clause and how surely the figure is known.</param>
public sealed record TubeFinding(
    string? Figure,
    string What,
    string Printed,
    TubeVerdict Verdict,
    string Text,
    string Source
);

/// <summary>Holds a tube against the figures of one rule set, as they are printed.</summary>
/// <remarks>
/// A book that lists 45 × 2.5 mm beside 1.75 × 0.095 in prints two alternatives, not one size: 1.75 × 0.095 in is 44.45 × 2.413 mm, less in both.
/// A metric tube is therefore held against metric alternatives only and an inch tube against inch ones. A larger diameter with a thinner wall (or the
/// reverse) meets nothing but the alternative that it fills in both: no section modulus proves it equal. Common practice of scrutineering, no source.
/// </remarks>
public static class TubeCheck
{
    /// <summary>Least centreline radius of a bend, in diameters.</summary>
    public const string BendRadius = "bend-radius";

    /// <summary>Least ratio of minor to major diameter in a bend.</summary>
    public const string BendRoundness = "bend-roundness";

    /// <summary>Whether the tube fills one of the printed alternatives of its own unit, in diameter and in wall.</summary>
    public static bool Fills(TubeSize ordered, IReadOnlyList<TubeSize> alternatives)
    {
        ArgumentNullException.ThrowIfNull(ordered);
        return alternatives.Any(a =>
            a.Unit == ordered.Unit && ordered.Diameter >= a.Diameter && ordered.Wall >= a.Wall
        );
    }

    /// <param name="rules">The book.</param>
    /// <param name="member">Code of the <see cref="FigureKind.SizeAlternatives"/> figure of the member that the tube is for.</param>
    /// <param name="ordered">As ordered.</param>
    /// <param name="measured">Null where nothing was measured yet.</param>
    /// <param name="bend">Null for a straight tube.</param>
    /// <returns>A finding for each figure that speaks of tube; field errors where the input cannot be.</returns>
    public static Outcome<IReadOnlyList<TubeFinding>> Check(
        RuleSet rules,
        string member,
        OrderedTube ordered,
        MeasuredTube? measured,
        MeasuredBend? bend
    )
    {
        ArgumentNullException.ThrowIfNull(rules);
        ArgumentNullException.ThrowIfNull(ordered);
        var errors = new FieldErrors();
        if (rules.Find(member) is not { Kind: FigureKind.SizeAlternatives, Sizes: { } sizes } figure)
        {
            return Failure.Field(
                "member",
                $"{rules.Title} has no tube sizes under '{(member.Length > 40 ? member[..40] + "…" : member)}'."
            );
        }

        CheckInput(ordered, measured, bend, errors);
        return errors.Any
            ? errors.ToFailure()
            : new List<TubeFinding>([
                Size(rules, figure, sizes, ordered.Size),
                .. Own(ordered.Size, measured),
                .. Material(rules, member, ordered),
                .. Bends(rules, ordered.Size, bend),
            ]);
    }

    private static TubeFinding Size(RuleSet rules, RuleFigure figure, IReadOnlyList<TubeSize> sizes, TubeSize ordered)
    {
        var own = sizes.Where(s => s.Unit == ordered.Unit).ToList();
        var said = Said(ordered);
        var list = string.Join(" or ", own.Select(Said));
        return Fills(ordered, sizes) ? Finding(rules, figure, TubeVerdict.Met, $"{said} fills {list}.")
            : own.Count == 0
                ? Finding(
                    rules,
                    figure,
                    TubeVerdict.NotMet,
                    $"The book prints no size in {Unit(ordered)} here; {said} is none of its alternatives."
                )
            : Finding(
                rules,
                figure,
                TubeVerdict.NotMet,
                $"{said} is less than {list} in diameter or wall. Sizes in the other unit count only for tube sold in it."
            );
    }

    private static IEnumerable<TubeFinding> Own(TubeSize nominal, MeasuredTube? measured)
    {
        if (measured is null)
        {
            yield break;
        }

        var (diameter, wall) = (InMm(nominal, nominal.Diameter), InMm(nominal, nominal.Wall));
        if (measured.DiameterMm is { } d)
        {
            var tolerance = measured.DiameterToleranceMm;
            yield return OfOwn(
                "Diameter as measured",
                Say($"{diameter} ± {tolerance} mm"),
                Math.Abs(d - diameter) <= tolerance,
                Say($"Measured {d} mm, nominal {diameter} mm.")
            );
        }

        if (measured.WallMm is { } t)
        {
            var least = wall * (100 - measured.WallTolerancePercent) / 100;
            yield return OfOwn(
                "Wall as measured",
                Say($"≥ {least} mm ({wall} mm less {measured.WallTolerancePercent} %)"),
                t >= least,
                Say($"Measured {t} mm, nominal {wall} mm.")
            );
        }
    }

    private static IEnumerable<TubeFinding> Material(RuleSet rules, string member, OrderedTube tube)
    {
        foreach (var figure in rules.Figures.Where(f => IsOf(f, member)))
        {
            yield return figure.Kind == FigureKind.Composition
                ? Composition(rules, figure, tube)
                : Strength(rules, figure, tube);
        }
    }

    /// <summary>A strength or composition that names a member by the start of its code (<c>harness-bar-tensile</c>) is for that member only.</summary>
    private static bool IsOf(RuleFigure figure, string member)
    {
        var isMaterial = figure.Kind is FigureKind.Strength or FigureKind.Composition;
        var cut = figure.Code.LastIndexOf('-');
        return isMaterial && (cut < 0 || member.StartsWith(figure.Code[..cut], StringComparison.Ordinal));
    }

    private static TubeFinding Composition(RuleSet rules, RuleFigure figure, OrderedTube tube)
    {
        if (figure.NeedsSeamless && tube.Make == TubeMake.Welded)
        {
            return Finding(rules, figure, TubeVerdict.NotMet, "The tube is welded; the figure asks for seamless.");
        }

        if (!tube.HasCertificate || tube.MeetsComposition is null || (figure.NeedsSeamless && tube.Make is null))
        {
            return Finding(
                rules,
                figure,
                TubeVerdict.Open,
                "Compare the certificate of this heat with the figure: how the tube was made, and its analysis."
            );
        }

        return tube.MeetsComposition.Value
            ? Finding(rules, figure, TubeVerdict.Met, "The certificate says so.")
            : Finding(rules, figure, TubeVerdict.NotMet, "The certificate's analysis is outside the figure.");
    }

    private static TubeFinding Strength(RuleSet rules, RuleFigure figure, OrderedTube tube)
    {
        var isYield = figure.Code.EndsWith("yield", StringComparison.Ordinal);
        var stated = isYield ? tube.YieldNPerMm2 : tube.TensileNPerMm2;
        var name = isYield ? "yield strength" : "tensile strength";
        return !tube.HasCertificate || stated is null
                ? Finding(rules, figure, TubeVerdict.Open, $"Read the {name} in the certificate of this heat.")
            : stated >= figure.Lower ? Finding(rules, figure, TubeVerdict.Met, Say($"Certificate: {stated} N/mm²."))
            : Finding(rules, figure, TubeVerdict.NotMet, Say($"Certificate: {stated} N/mm²."));
    }

    private static IEnumerable<TubeFinding> Bends(RuleSet rules, TubeSize size, MeasuredBend? bend)
    {
        if (bend is null)
        {
            yield break;
        }

        if (rules.Find(BendRadius) is { Lower: { } ratio } radius)
        {
            var least = InMm(size, size.Diameter) * ratio;
            yield return bend.CentrelineRadiusMm is not { } r
                ? Finding(rules, radius, TubeVerdict.Open, Say($"Measure the centreline radius; at least {least} mm."))
                : Finding(
                    rules,
                    radius,
                    r >= least ? TubeVerdict.Met : TubeVerdict.NotMet,
                    Say($"Radius {r} mm; {ratio} diameters are {least} mm.")
                );
        }

        if (rules.Find(BendRoundness) is { Lower: { } round } roundness)
        {
            yield return bend is not { MinorMm: { } minor, MajorMm: { } major }
                ? Finding(
                    rules,
                    roundness,
                    TubeVerdict.Open,
                    "Measure the smallest and the greatest diameter in the bend."
                )
                : Finding(
                    rules,
                    roundness,
                    minor >= round * major ? TubeVerdict.Met : TubeVerdict.NotMet,
                    Say($"{minor} : {major} mm = {decimal.Round(minor / major, 4)}.")
                );
        }

        yield return OfOwn(
            "Bend smooth",
            "no wrinkle, ripple, kink or crack",
            bend.IsSmooth,
            bend.IsSmooth switch
            {
                null => "Look at the bend all round.",
                true => "Looked at: smooth.",
                false => "A wrinkled or kinked tube is not used.",
            }
        );
    }

    private static TubeFinding Finding(RuleSet rules, RuleFigure figure, TubeVerdict verdict, string text) =>
        new(figure.Code, figure.What, figure.Printed, verdict, text, rules.SourceOf(figure));

    private static TubeFinding OfOwn(string what, string printed, bool? isMet, string text) =>
        new(
            null,
            what,
            printed,
            isMet switch
            {
                null => TubeVerdict.Open,
                true => TubeVerdict.Met,
                false => TubeVerdict.NotMet,
            },
            text,
            "the tube's own nominal size and tolerance; common practice, no source"
        );

    private static void CheckInput(OrderedTube ordered, MeasuredTube? measured, MeasuredBend? bend, FieldErrors errors)
    {
        errors
            .AddIf(ordered.Size.Unit is not ("mm" or "in"), "unit", "The size is in mm or in.")
            .AddIf(ordered.Size.Diameter is <= 0 or > 1000, "diameter", "The diameter is over 0, at most 1000.")
            .AddIf(
                ordered.Size.Wall <= 0 || ordered.Size.Wall * 2 >= ordered.Size.Diameter,
                "wall",
                "The wall is over 0 and under half the diameter."
            );
        (decimal? Value, string Path, string Name)[] figures =
        [
            (ordered.YieldNPerMm2, "yieldNPerMm2", "The yield strength"),
            (ordered.TensileNPerMm2, "tensileNPerMm2", "The tensile strength"),
            (measured?.DiameterMm, "measuredDiameterMm", "The measured diameter"),
            (measured?.WallMm, "measuredWallMm", "The measured wall"),
            (bend?.CentrelineRadiusMm, "centrelineRadiusMm", "The centreline radius"),
            (bend?.MinorMm, "minorMm", "The smallest diameter"),
            (bend?.MajorMm, "majorMm", "The greatest diameter"),
        ];
        foreach (var (value, path, name) in figures)
        {
            errors.AddIf(value is <= 0 or > 100_000, path, $"{name} is over 0, at most 100000.");
        }

        errors
            .AddIf(
                measured is { DiameterToleranceMm: < 0 or > 5 },
                "diameterToleranceMm",
                "The tolerance is from 0 to 5 mm."
            )
            .AddIf(
                measured is { WallTolerancePercent: < 0 or > 50 },
                "wallTolerancePercent",
                "The tolerance is from 0 to 50 %."
            )
            .AddIf(
                bend is { MinorMm: { } minor, MajorMm: { } major } && minor > major,
                "minorMm",
                "The smallest diameter is not greater than the greatest."
            );
    }

    private static decimal InMm(TubeSize size, decimal value) => size.Unit == "in" ? value * 25.4m : value;

    private static string Unit(TubeSize size) => size.Unit == "in" ? "inches" : "millimetres";

    private static string Said(TubeSize size) => Say($"{size.Diameter} × {size.Wall} {size.Unit}");

    private static string Say(FormattableString text) =>
        string.Format(
            CultureInfo.InvariantCulture,
            text.Format,
            [
                .. text.GetArguments()
                    .Select(a => a is decimal d ? d.ToString("0.####", CultureInfo.InvariantCulture) : a),
            ]
        );
}
