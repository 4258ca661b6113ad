using ShopFloor.Domain.Common;
using ShopFloor.Domain.Fabrication;

namespace ShopFloor.Application.Workbench.Sheets;

/// <summary>One bend.</summary>
public sealed class BendSheet : BenchSheet
{
    public override string Code => "bend";

    public override string Title => "Bend";

    public override string Purpose => "How much tube one bend takes, and where it begins before the corner.";

    public override IReadOnlyList<string> Steps { get; } =
    [
        "Choose the tube and give the radius of your die, measured to the middle of the tube.",
        "Give the bend angle: how far the tube turns from straight.",
        "Mark the setback back from the corner: there the bend begins. The arc is what the bend takes of the tube.",
    ];

    public override string? PresetsLabel => "Tube from the rack";

    public override IReadOnlyList<BenchPreset> Presets { get; } = Benches.Rack("outsideDiameterMm", "wallMm");

    public override IReadOnlyList<(string, string)> Guide { get; } =
    [
        (
            "Setback",
            "How far before the corner the bend begins. The corner is where the middles of both straights would meet."
        ),
        (
            "Radius of the die",
            "To the middle of the tube, not to the groove's bottom: groove radius plus half the tube."
        ),
        (
            "Thinning",
            "The outside of a bend is stretched. The figure here is an estimate from the shape alone; measure the bent tube where the rule book asks for a wall."
        ),
    ];

    public override IReadOnlyList<BenchField> Fields { get; } =
    [
        new("outsideDiameterMm", "Outside diameter", BenchFieldKind.Length, "45"),
        new("wallMm", "Wall", BenchFieldKind.Length, "2.5", "Only for the estimate of the bent wall."),
        new("centrelineRadiusMm", "Radius of the die, to the tube's middle", BenchFieldKind.Length, "135"),
        new("angleDegrees", "Bend angle", BenchFieldKind.Angle, "90", "From straight; under 180."),
        BenchBender.Trials,
    ];

    protected override Outcome<BenchAnswer> Answer(BenchReader read)
    {
        ArgumentNullException.ThrowIfNull(read);
        var input = new TubeBendInput(
            read.Length("outsideDiameterMm"),
            read.Length("centrelineRadiusMm"),
            read.Number("angleDegrees")
        );
        var wall = read.Length("wallMm");
        read.Errors.AddIf(
            !(wall > 0 && wall < input.OutsideDiameterMm / 2),
            "wallMm",
            "The wall must be over 0 and under half the outside diameter."
        );
        var trials = read.ReadTrials();
        var inputs = read.Inputs("outsideDiameterMm", "wallMm", "centrelineRadiusMm", "angleDegrees");
        return TubeBend
            .Calculate(input)
            .Then<BenchAnswer>(f =>
            {
                BenchResult Result(string label, string value, string rule, string source, bool isMain = false) =>
                    new(label, value, new Explanation(rule, inputs, source, value, []), isMain);
                const string geometry = "geometry of a circle";
                const string estimate =
                    "rule of thumb of public tube-bending pages: an estimate, measure the bent tube where it counts";
                var bent = TubeBend.EstimateWall(input.OutsideDiameterMm, wall, input.CentrelineRadiusMm);
                var bendTo = trials.BendToDegrees(input.AngleDegrees);
                return new BenchAnswer(
                    [
                        .. trials.Measured.Count == 0
                            ? Array.Empty<BenchResult>()
                            :
                            [
                                Result(
                                    "Take the bender to",
                                    BenchLengths.Degrees(bendTo),
                                    "between two trials by proportion; outside them by the nearest trial's share",
                                    $"the shop's own trials: {trials.Measured.Count}",
                                    isMain: true
                                ),
                            ],
                        Result(
                            "Setback: the bend begins this far before the corner",
                            read.Say(f.SetbackMm),
                            "R × tan(θ / 2)",
                            geometry,
                            isMain: true
                        ),
                        Result(
                            "Arc: the bend takes this much tube",
                            read.Say(f.ArcLengthMm),
                            "R × θ, θ in radians",
                            geometry,
                            isMain: true
                        ),
                        Result(
                            "Saved against the corner",
                            read.Say((2 * f.SetbackMm) - f.ArcLengthMm),
                            "2 × setback − arc",
                            geometry
                        ),
                        Result("Outer arc", read.Say(f.OuterArcMm), "(R + D/2) × θ", geometry),
                        Result("Inner arc", read.Say(f.InnerArcMm), "(R − D/2) × θ", geometry),
                        Result(
                            "Radius ÷ diameter",
                            FormattableString.Invariant($"{f.RadiusToDiameter:0.00}"),
                            "R / D; at least 3 is a published figure",
                            "Motorsport UK, NCR 2026, ch. 7 app. 3, 20.3 (seen in an excerpt); the current rule book decides"
                        ),
                        Result(
                            "Outer wall after bending, estimate",
                            FormattableString.Invariant(
                                $"{bent.OuterWallMm:0.00} mm, {bent.ThinningPercent:0.0} % thinner"
                            ),
                            "t × R / (R + D/2)",
                            estimate
                        ),
                        Result(
                            "Inner wall after bending, estimate",
                            FormattableString.Invariant($"{bent.InnerWallMm:0.00} mm"),
                            "t × R / (R − D/2)",
                            estimate
                        ),
                    ],
                    f.RadiusToDiameter < TubeBend.LeastRadiusToDiameter
                        ?
                        [
                            FormattableString.Invariant(
                                $"The radius is {f.RadiusToDiameter:0.00} diameters. A published figure asks for at least 3: look into the rule book you build to before you bend."
                            ),
                        ]
                        : [],
                    Picture(input, f),
                    [],
                    [],
                    "Tube"
                );
            });
    }

    private static BenchPicture Picture(TubeBendInput input, TubeBendFigures figures)
    {
        var (radius, half) = (input.CentrelineRadiusMm, input.OutsideDiameterMm / 2);
        var angle = Angle.FromDegrees(input.AngleDegrees).Radians;
        var straight = Math.Min(Math.Max(radius * 0.4, half * 2), radius * 2);
        BenchPoint On(double r, double a) => new(r * Math.Sin(a), radius - (r * Math.Cos(a)));
        List<BenchPoint> Rail(double r)
        {
            var points = new List<BenchPoint> { new(-straight, radius - r) };
            points.AddRange(Enumerable.Range(0, 61).Select(i => On(r, angle * i / 60)));
            var end = points[^1];
            points.Add(new(end.X + (straight * Math.Cos(angle)), end.Y + (straight * Math.Sin(angle))));
            return points;
        }

        var (outer, inner, middle) = (Rail(radius + half), Rail(radius - half), Rail(radius));
        var all = outer.Concat(inner).ToList();
        var pad = Math.Max(all.Max(p => p.X) - all.Min(p => p.X), all.Max(p => p.Y) - all.Min(p => p.Y)) * 0.14;
        // A very sharp bend's corner lies far out; the picture then shows the tube alone.
        var showCorner = figures.SetbackMm < radius * 3;
        var right = Math.Max(all.Max(p => p.X), showCorner ? figures.SetbackMm : 0);
        var picture = new BenchPicture(
            "The bend from the side, to scale.",
            all.Min(p => p.X) - pad,
            all.Min(p => p.Y) - pad,
            right + pad,
            all.Max(p => p.Y) + pad
        );
        picture
            .Line("fill", [.. outer, .. Enumerable.Reverse(inner)], isClosed: true)
            .Line("edge", outer)
            .Line("edge", inner)
            .Line("guide", middle);
        var (start, stop) = (0.0, angle);
        foreach (var at in (double[])[start, stop])
        {
            picture.Line("cut", [On(radius + half, at), On(radius - half, at)]);
        }

        if (showCorner)
        {
            picture.Across(
                0,
                figures.SetbackMm,
                -half - (pad * 0.55),
                FormattableString.Invariant($"setback {figures.SetbackMm:0.0} mm")
            );
        }

        return picture;
    }
}
