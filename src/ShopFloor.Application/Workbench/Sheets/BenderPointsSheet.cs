using System.Globalization;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Fabrication;

namespace ShopFloor.Application.Workbench.Sheets;

/// <summary>From what was set at a bender to the points of the tube: the way back of a tube path.</summary>
public sealed class BenderPointsSheet : BenchSheet
{
    private const string Source = "vector geometry: each bend turns the way of the tube about the axis of its plane";

    public override string Code => "bender-points";

    public override string Title => "Points of a bent tube";

    public override string Purpose =>
        "From straights, bends and turns, as read off a bent tube, to its points, for a copy or its mirror.";

    public override IReadOnlyList<string> Steps { get; } =
    [
        "Measure the bent tube from its first end: a straight, then the angle of the bend, then how far its plane is turned against the bend before.",
        "Write one bend a line: straight; bend; turn. The last line is the last straight alone.",
        "Turn the picture and see that it is your tube.",
        "Open the points as a tube with bends for its bend card, or take the other side of the car.",
    ];

    public override IReadOnlyList<(string, string)> Guide { get; } =
    [
        ("Straight", "Between the places where the tube begins to bend, not to the corners. 0 where two bends touch."),
        (
            "Bend",
            "From straight: a right-angled bend is 90. Measure on both legs with an angle gauge; the difference of both readings is the bend."
        ),
        (
            "Turn",
            "0 for a tube that lies flat on a table. Looking along the tube from its first end, clockwise is above zero. The first line has no bend before it: write 0."
        ),
    ];

    public override string? PresetsLabel => "Tube from the rack";

    public override IReadOnlyList<BenchPreset> Presets { get; } = Benches.Rack("outsideDiameterMm", "wallMm");

    public override IReadOnlyList<BenchField> Fields { get; } =
    [
        new("outsideDiameterMm", "Outside diameter", BenchFieldKind.Length, "45"),
        new("wallMm", "Wall", BenchFieldKind.Length, "2.5"),
        new("centrelineRadiusMm", "Radius of the die, to the tube's middle", BenchFieldKind.Length, "135"),
        new(
            "rows",
            "Straight; bend; turn",
            BenchFieldKind.Lines,
            "865; 90; 0\n730; 90; 90\n665",
            "One bend a line, the straight before it first. The last line is the last straight alone. A fourth figure is the radius of that bend, where it was made in another die.",
            LengthParts: 1,
            AlsoLength: 3
        ),
        new(
            "side",
            "Which side of the car",
            BenchFieldKind.Choice,
            "measured",
            Options: [new("measured", "as measured"), new("mirrored", "mirrored: the other side")]
        ),
        new("tube", "Name of the tube", BenchFieldKind.Text, "Tube"),
    ];

    protected override Outcome<BenchAnswer> Answer(BenchReader read)
    {
        ArgumentNullException.ThrowIfNull(read);
        var (straights, bends) = Rows(read);
        var isMirrored = read.Choice("side", [("measured", false), ("mirrored", true)]);
        var (diameter, wall, radius) = (
            read.Length("outsideDiameterMm"),
            read.Length("wallMm"),
            read.Length("centrelineRadiusMm")
        );
        var name = read.Name("tube");
        if (!read.IsGood)
        {
            return read.Errors.ToFailure();
        }

        if (!BenderData.Points(radius, straights, bends).TryGet(out var points, out var failure))
        {
            return BenchPoints.Placed(
                BenchPoints.Placed(failure, "straights", "rows", "Line"),
                "bends",
                "rows",
                "Line"
            );
        }

        // The ends make no bend.
        IReadOnlyList<double?>? radii = bends.Exists(b => b.RadiusMm is not null)
            ? [null, .. bends.Select(b => b.RadiusMm), null]
            : null;
        var input = new TubePathInput(diameter, wall, radius, isMirrored ? BenderData.Mirrored(points) : points, radii);
        return TubePath.Calculate(input).TryGet(out var path, out failure)
            ? Said(read, input, path, name)
            : BenchPoints.Placed(failure, "points", "rows", "Point");
    }

    private static (List<double> Straights, List<BenderBend> Bends) Rows(BenchReader read)
    {
        var (straights, bends) = (new List<double>(), new List<BenderBend>());
        var lines = read.Text("rows")
            .Split('\n', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);
        read.Errors.AddIf(lines.Length == 0, "rows", "At least one straight is needed.");
        // One point more than bends at each end.
        read.Errors.AddIf(
            lines.Length > TubePath.MostPoints - 1,
            "rows",
            $"At most {TubePath.MostPoints - 2} bends are taken."
        );
        for (var i = 0; i < lines.Length && read.IsGood; i++)
        {
            var parts = lines[i].Split(';', StringSplitOptions.TrimEntries);
            var (isLast, straight, bend, turn, own) = (i == lines.Length - 1, 0.0, 0.0, 0.0, 0.0);
            var isRight =
                (isLast ? parts.Length == 1 : parts.Length is 3 or 4)
                && LengthText.TryReadMm(parts[0], read.Unit, out straight)
                && (
                    isLast
                    || (
                        LengthText.TryReadDegrees(parts[1], out bend)
                        && LengthText.TryReadDegrees(parts[2], out turn)
                        && (parts.Length == 3 || LengthText.TryReadMm(parts[3], read.Unit, out own))
                    )
                );
            read.Errors.AddIf(
                !isRight,
                "rows",
                isLast
                    ? $"Line {i + 1} is the last straight alone, such as 665."
                    : $"Line {i + 1} is not a straight, a bend and a turn with semicolons between, such as 730; 90; 0."
            );
            straights.Add(straight);
            if (!isLast)
            {
                bends.Add(new BenderBend(bend, turn, isRight && parts.Length == 4 ? own : null));
            }
        }

        return (straights, bends);
    }

    private static BenchAnswer Said(BenchReader read, TubePathInput input, TubePathFigures path, string name)
    {
        var inputs = read.Inputs("outsideDiameterMm", "wallMm", "centrelineRadiusMm", "rows", "side");
        var ends = (input.Points[^1] - input.Points[0]).Size;
        BenchResult Result(string label, string value, string rule, bool isMain = false) =>
            new(label, value, new Explanation(rule, inputs, Source, value, []), isMain);
        string Typed(Point3 p, int i) =>
            string.Join(
                "; ",
                new[] { p.X, p.Y, p.Z, input.Radii?[i] }.OfType<double>().Select(v => BenchValues.Written(v, read.Unit))
            );
        var points = string.Join('\n', input.Points.Select(Typed));
        return new BenchAnswer(
            [
                Result("Cut length", read.Say(path.CutLengthMm), "sum of straights and arcs", isMain: true),
                Result(
                    "From end to end, as the crow flies",
                    read.Say(ends),
                    "distance of the first and the last point",
                    isMain: true
                ),
                Result(
                    "Mass",
                    FormattableString.Invariant($"{path.MassKg:0.000} kg"),
                    "area of steel × cut length × 7850 kg/m³"
                ),
            ],
            [],
            null,
            [
                new(
                    "Points: the tube begins at zero, runs across, and its first bend lies flat",
                    ["Point", "Across", "Along", "Up"],
                    [
                        .. input.Points.Select(
                            (p, i) =>
                                (IReadOnlyList<string>)
                                    [
                                        (i + 1).ToString(CultureInfo.InvariantCulture),
                                        read.Brief(p.X),
                                        read.Brief(p.Y),
                                        read.Brief(p.Z),
                                    ]
                        ),
                    ]
                ),
            ],
            [],
            name,
            (turn, tilt) => TubeView.Draw(input, turn, tilt),
            points.Length > 4_000
                ? []
                :
                [
                    BenchLink.To(
                        "Open as a tube with bends",
                        "tube-path",
                        read.Unit,
                        ("outsideDiameterMm", read.Text("outsideDiameterMm")),
                        ("wallMm", read.Text("wallMm")),
                        ("centrelineRadiusMm", read.Text("centrelineRadiusMm")),
                        ("points", points),
                        ("tube", name)
                    ),
                ]
        );
    }
}
