using ShopFloor.Domain.RuleSets;

namespace ShopFloor.Domain.TubeCheck;

/// <summary>Codes of the figures that the tube check looks for in a rule set beside the sizes.</summary>
public static class TubeFigures
{
    public const string Seamless = "seamless";
    public const string Yield = "yield";
    public const string Tensile = "tensile";
    public const string Carbon = "carbon";
    public const string Manganese = "manganese";
    public const string Others = "additives";
    public const string BendRadius = "bend-radius";
    public const string BendRoundness = "bend-roundness";
    public const string BendSmooth = "bend-smooth";
}

/// <summary>Bends against a rule set: radius in diameters of the ordered tube, roundness, wrinkles.</summary>
internal static class BendComparison
{
    public static IEnumerable<TubeFinding> Findings(TubeUnderCheck tube, RuleSet rules) =>
        tube.Bends.SelectMany((bend, i) => Of(bend, tube.Bends.Count == 1 ? "Bend" : $"Bend {i + 1}", tube, rules));

    private static IEnumerable<TubeFinding> Of(CheckedBend bend, string name, TubeUnderCheck tube, RuleSet rules)
    {
        yield return Radius(bend, $"{name}: radius", tube, rules.Find(TubeFigures.BendRadius));
        yield return Roundness(bend, $"{name}: roundness", rules.Find(TubeFigures.BendRoundness));
        yield return Wrinkles(bend, $"{name}: wrinkles", rules.Find(TubeFigures.BendSmooth));
    }

    private static TubeFinding NotAsked(string about) =>
        new(about, TubeVerdict.NotAsked, "This rule set holds no figure for it; look in the book.");

    private static TubeFinding Radius(CheckedBend bend, string about, TubeUnderCheck tube, RuleFigure? figure)
    {
        if (figure?.Lower is not { } least)
        {
            return NotAsked(about);
        }

        var (unit, diameter) = (tube.Ordered.Unit, tube.Ordered.Diameter);
        var sentence =
            $"Centreline radius {TubeComparison.Text(bend.CentrelineRadius)} {unit}; at least {TubeComparison.Text(least)} × {TubeComparison.Text(diameter)} = {TubeComparison.Text(least * diameter)} {unit}.";
        return new TubeFinding(
            about,
            bend.CentrelineRadius >= least * diameter ? TubeVerdict.Meets : TubeVerdict.DoesNotMeet,
            sentence,
            figure
        );
    }

    private static TubeFinding Roundness(CheckedBend bend, string about, RuleFigure? figure)
    {
        if (figure?.Lower is not { } least)
        {
            return NotAsked(about);
        }

        if (bend is not { MinorDiameter: { } minor, MajorDiameter: { } major })
        {
            return new TubeFinding(
                about,
                TubeVerdict.NotShown,
                "Measure the smallest and the largest diameter in the bend.",
                figure
            );
        }

        // Compared as a product, so that no rounding of the ratio decides; the ratio is for reading.
        return new TubeFinding(
            about,
            minor >= least * major ? TubeVerdict.Meets : TubeVerdict.DoesNotMeet,
            $"{TubeComparison.Text(minor)} : {TubeComparison.Text(major)} = {TubeComparison.Text(minor / major)}; at least {TubeComparison.Text(least)}.",
            figure
        );
    }

    private static TubeFinding Wrinkles(CheckedBend bend, string about, RuleFigure? figure) =>
        (figure, bend.HasWrinkles) switch
        {
            (null, _) => NotAsked(about),
            (_, null) => new TubeFinding(about, TubeVerdict.NotShown, "Look at the inside of the bend.", figure),
            (_, true) => new TubeFinding(about, TubeVerdict.DoesNotMeet, "Wrinkled on the inside.", figure),
            _ => new TubeFinding(about, TubeVerdict.Meets, "Smooth.", figure),
        };
}
