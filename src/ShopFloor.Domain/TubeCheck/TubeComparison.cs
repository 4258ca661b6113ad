using System.Globalization;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Fabrication;
using ShopFloor.Domain.RuleSets;
using TubeSize = ShopFloor.Domain.RuleSets.TubeSize;

namespace ShopFloor.Domain.TubeCheck;

/// <summary>Holds a tube against the figures of one rule set.</summary>
/// <remarks>
/// A book prints pairs such as "45 × 2.5 mm (1.75 × 0.095 in)" although 1.75 × 0.095 in is 44.45 × 2.413 mm. So the size that was ordered is
/// compared only with printed sizes of its own unit, nothing is converted, and both figures of one printed size must be reached.
/// Source of the size rule: FIA Appendix J art. 253 §8.3.3 and Motorsport UK NCR 2026 ch. 7 app. 3 §20 (seen quoted).
/// </remarks>
public static class TubeComparison
{
    public const int MostBends = 50;

    public static Outcome<TubeCheckResult> Compare(TubeUnderCheck tube, RuleSet rules)
    {
        ArgumentNullException.ThrowIfNull(tube);
        ArgumentNullException.ThrowIfNull(rules);
        var errors = TubeCheckRules.Check(tube);
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        if (rules.Find(tube.FigureCode) is not { Kind: FigureKind.SizeAlternatives } size)
        {
            return Failure.Field(
                "figure",
                $"{rules.Title} has no tube sizes called {tube.FigureCode}; choose one it has."
            );
        }

        List<TubeFinding> findings =
        [
            Ordered(tube.Ordered, size),
            Measured(tube),
            .. MaterialComparison.Findings(tube, rules),
            .. BendComparison.Findings(tube, rules),
        ];
        return new TubeCheckResult(Whole(findings), findings, Sections(tube.Ordered, size));
    }

    /// <summary>The worst answer counts; a question the rule set does not ask counts for nothing.</summary>
    internal static TubeVerdict Whole(IEnumerable<TubeFinding> findings)
    {
        var verdicts = findings.Select(f => f.Verdict).ToHashSet();
        return verdicts.Contains(TubeVerdict.DoesNotMeet) ? TubeVerdict.DoesNotMeet
            : verdicts.Contains(TubeVerdict.NotShown) ? TubeVerdict.NotShown
            : TubeVerdict.Meets;
    }

    internal static string Text(TubeSize size) => size.Words();

    internal static string Text(decimal value) => value.ToString("0.####", CultureInfo.InvariantCulture);

    private static TubeFinding Ordered(TubeSize ordered, RuleFigure figure)
    {
        const string About = "Ordered size";
        var printed = figure.Sizes!.Where(s => s.Unit == ordered.Unit).ToList();
        if (printed.Count == 0)
        {
            return new TubeFinding(
                About,
                TubeVerdict.NotShown,
                $"No size in {ordered.Unit} is printed here, and nothing is converted: ask the scrutineer about {Text(ordered)}.",
                figure
            );
        }

        if (printed.Find(s => s.Diameter == ordered.Diameter && s.Wall == ordered.Wall) is { } same)
        {
            return new TubeFinding(About, TubeVerdict.Meets, $"{Text(same)} is printed.{Pair(same)}", figure);
        }

        if (printed.Find(s => ordered.Diameter >= s.Diameter && ordered.Wall >= s.Wall) is { } smaller)
        {
            return new TubeFinding(
                About,
                TubeVerdict.Meets,
                $"{Text(ordered)} is not printed itself, but neither figure is under those of {Text(smaller)}.",
                figure
            );
        }

        return new TubeFinding(
            About,
            TubeVerdict.DoesNotMeet,
            $"{Text(ordered)} reaches none of the printed sizes in {ordered.Unit}: {string.Join("; ", printed.Select(p => Short(ordered, p)))}. Both figures of one size count, and sizes in the other unit are not these sizes.",
            figure
        );
    }

    private static string Short(TubeSize ordered, TubeSize printed)
    {
        var missing = new List<string>();
        if (ordered.Diameter < printed.Diameter)
        {
            missing.Add($"diameter {Text(printed.Diameter - ordered.Diameter)} {ordered.Unit} under");
        }

        if (ordered.Wall < printed.Wall)
        {
            missing.Add($"wall {Text(printed.Wall - ordered.Wall)} {ordered.Unit} under");
        }

        return $"{Text(printed)} ({string.Join(", ", missing)})";
    }

    private static string Pair(TubeSize size) =>
        size.Unit == "in"
            ? string.Create(
                CultureInfo.InvariantCulture,
                $" In millimetres it is {size.Diameter * 25.4m:0.###} × {size.Wall * 25.4m:0.###}, which is not the metric size beside it."
            )
            : "";

    private static TubeFinding Measured(TubeUnderCheck tube)
    {
        const string About = "Measured size";
        if (tube.Measured is not { } measured)
        {
            return new TubeFinding(
                About,
                TubeVerdict.NotShown,
                "Not measured: diameter by caliper, wall at the cut end, against the order with its own tolerance."
            );
        }

        var (ordered, unit) = (tube.Ordered, tube.Ordered.Unit);
        var wrong = new List<string>();
        Off("diameter", measured.Diameter, ordered.Diameter, measured.DiameterTolerance);
        Off("wall", measured.Wall, ordered.Wall, measured.WallTolerance);
        return wrong.Count == 0
            ? new TubeFinding(
                About,
                TubeVerdict.Meets,
                $"{Text(measured.Diameter)} × {Text(measured.Wall)} {unit} lies within the order's tolerance of {Text(ordered)}."
            )
            : new TubeFinding(
                About,
                TubeVerdict.DoesNotMeet,
                $"Not the tube that was ordered ({Text(ordered)}): {string.Join("; ", wrong)}."
            );

        void Off(string what, decimal value, decimal nominal, decimal tolerance)
        {
            if (Math.Abs(value - nominal) > tolerance)
            {
                wrong.Add(
                    $"{what} {Text(value)} {unit}, allowed {Text(nominal - tolerance)} to {Text(nominal + tolerance)}"
                );
            }
        }
    }

    private static List<TubeSection> Sections(TubeSize ordered, RuleFigure figure) =>
        [Section(ordered, true), .. figure.Sizes!.Where(s => s != ordered).Select(s => Section(s, false))];

    private static TubeSection Section(TubeSize size, bool isOrdered)
    {
        var mm = size.Unit == "in" ? Length.MillimetresPerInch : 1;
        var figures = RoundTube.Calculate(new RoundTubeInput((double)size.Diameter * mm, (double)size.Wall * mm)).Value;
        return new TubeSection(size, figures.SectionModulusMm3, figures.MassKgPerM, isOrdered);
    }
}
