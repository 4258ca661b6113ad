using ShopFloor.Domain.RuleSets;

namespace ShopFloor.Domain.TubeCheck;

/// <summary>Material, make, grade and certificate against a rule set. What no certificate says is not shown, whatever was typed.</summary>
internal static class MaterialComparison
{
    public static IEnumerable<TubeFinding> Findings(TubeUnderCheck tube, RuleSet rules)
    {
        var material = tube.Material;
        yield return Certificate(material);
        yield return Make(material, rules.Find(TubeFigures.Seamless));
        if (Strength(tube.FigureCode, rules) is { } strength)
        {
            yield return Strength(strength, material);
        }

        foreach (
            var (about, code, value) in new[]
            {
                ("Carbon", TubeFigures.Carbon, material.CarbonPercent),
                ("Manganese", TubeFigures.Manganese, material.ManganesePercent),
                ("Other additives", TubeFigures.Others, material.OthersPercent),
            }
        )
        {
            if (rules.Find(code) is { } share)
            {
                yield return Limit(about, value, share, material);
            }
        }
    }

    /// <summary>A part with a strength of its own (a harness bar) is held against that one.</summary>
    private static RuleFigure? Strength(string sizeCode, RuleSet rules) =>
        rules.Find(sizeCode.Replace("-tube", "-tensile", StringComparison.Ordinal))
        ?? rules.Find(TubeFigures.Yield)
        ?? rules.Find(TubeFigures.Tensile);

    /// <summary>Texts differ on whether yield or tensile strength is meant: the figure's code says which one this text asks for.</summary>
    private static TubeFinding Strength(RuleFigure figure, TubeMaterial material)
    {
        var (about, asked, given, other) =
            figure.Code == TubeFigures.Yield
                ? ("Yield strength", material.YieldNPerMm2, material.TensileNPerMm2, "tensile")
                : ("Tensile strength", material.TensileNPerMm2, material.YieldNPerMm2, "yield");
        return asked is null && given is not null
            ? new TubeFinding(
                about,
                TubeVerdict.NotShown,
                $"Only the {other} strength is given, which does not show it; {figure.Printed} is asked for.",
                figure
            )
            : Limit(about, asked, figure, material);
    }

    private static bool HasCertificate(TubeMaterial material) => !string.IsNullOrWhiteSpace(material.Certificate);

    private static TubeFinding Certificate(TubeMaterial material)
    {
        const string About = "Grade and certificate";
        if (!HasCertificate(material))
        {
            return new TubeFinding(
                About,
                TubeVerdict.NotShown,
                "No certificate: nothing shows what the tube is made of."
            );
        }

        return string.IsNullOrWhiteSpace(material.Grade)
            ? new TubeFinding(About, TubeVerdict.NotShown, "Write down the grade the certificate names.")
            : new TubeFinding(
                About,
                TubeVerdict.Meets,
                $"{material.Grade.Trim()} by certificate {material.Certificate!.Trim()}."
            );
    }

    private static TubeFinding Make(TubeMaterial material, RuleFigure? seamless)
    {
        const string About = "Seamless or welded";
        return (material.Make, seamless) switch
        {
            (_, null) => new TubeFinding(
                About,
                TubeVerdict.NotAsked,
                "This rule set holds no figure on the make of the tube; look in the book."
            ),
            (TubeMake.Welded, _) => new TubeFinding(
                About,
                TubeVerdict.DoesNotMeet,
                "The tube is welded; a seamless one is asked for.",
                seamless
            ),
            (TubeMake.Seamless, _) when HasCertificate(material) => new TubeFinding(
                About,
                TubeVerdict.Meets,
                $"Seamless by its certificate. The figure asks for: {seamless.What}.",
                seamless
            ),
            (TubeMake.Seamless, _) => new TubeFinding(
                About,
                TubeVerdict.NotShown,
                "Said to be seamless; only a certificate shows it.",
                seamless
            ),
            _ => new TubeFinding(About, TubeVerdict.NotShown, "Say whether the tube is seamless or welded.", seamless),
        };
    }

    private static TubeFinding Limit(string about, decimal? value, RuleFigure figure, TubeMaterial material)
    {
        if (value is not { } known)
        {
            return new TubeFinding(about, TubeVerdict.NotShown, $"Not given; {figure.Printed} is asked for.", figure);
        }

        var text = $"{TubeComparison.Text(known)} {figure.Unit}";
        if (known < figure.Lower || known > figure.Upper)
        {
            return new TubeFinding(about, TubeVerdict.DoesNotMeet, $"{text}; {figure.Printed} is asked for.", figure);
        }

        return HasCertificate(material)
            ? new TubeFinding(about, TubeVerdict.Meets, $"{text}, by the certificate.", figure)
            : new TubeFinding(about, TubeVerdict.NotShown, $"{text} was typed; only a certificate shows it.", figure);
    }
}
