using System.Globalization;
using ShopFloor.Documents.Papers.Models;
using ShopFloor.Documents.Workbench;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Fabrication;

namespace ShopFloor.Application.Workbench.Sheets;

/// <summary>A tube with several bends, from points in space to marks at the bender.</summary>
public sealed class TubePathSheet : BenchSheet
{
    private const string Source = "vector geometry: d the directions of the straights, n = d × d′ of each bend";

    public override string Code => "tube-path";

    public override string Title => "Tube with bends";

    public override string Purpose =>
        "From measured points to the cut length, the bend marks and the turns between bends.";

    public override IReadOnlyList<string> Steps { get; } =
    [
        "Measure the two ends and the corners where the straight middles would meet: across, along and up, one point a line.",
        "Give the tube, the radius of your die and what the die needs to hold the tube.",
        "Turn the picture (drag it, or its arrow keys) and see that it is your tube.",
        "Print the bend card. Make the springback trial on scrap of the same tube first.",
    ];

    public override string? PresetsLabel => "Tube from the rack";

    public override IReadOnlyList<BenchPreset> Presets { get; } = Benches.Rack("outsideDiameterMm", "wallMm");

    public override IReadOnlyList<(string, string)> Guide { get; } =
    [
        (
            "Points",
            "Choose one corner of the car as zero. Each point is three lengths from it: across, along, up. A corner is where the middles of two straights would meet, outside of the bend."
        ),
        (
            "Turn",
            "How far the tube is turned in the bender before the next bend. Looking along the tube from its first end, clockwise is above zero."
        ),
        (
            "Bender's mark",
            "Many benders want their mark not where the bend begins but somewhat before or after it. Measure that once for your die and write it down with the die."
        ),
        (
            "Springback",
            "The tube opens a little when it is let go. Trials on scrap of the same tube tell how much; the more trials, the better between them."
        ),
        (
            "Mirrored",
            "The same tube for the other side of the car: all turns change their sign, lengths and marks stay."
        ),
    ];

    public override IReadOnlyList<BenchField> Fields { get; } =
    [
        new("outsideDiameterMm", "Outside diameter", BenchFieldKind.Length, "45"),
        new("wallMm", "Wall", BenchFieldKind.Length, "2.5"),
        new("centrelineRadiusMm", "Radius of the die, to the tube's middle", BenchFieldKind.Length, "135"),
        new(
            "points",
            "Points: across, along, up",
            BenchFieldKind.Lines,
            "0; 0; 0\n0; 0; 1000\n1000; 0; 1000\n1000; 0; 0",
            "One point a line, the three lengths with semicolons between. 2 to 1,000 points. A fourth length is the radius of that point's bend, where it is made in another die.",
            LengthParts: 4
        ),
        new(
            "markOffsetMm",
            "Bender's mark against the bend's start",
            BenchFieldKind.Length,
            "0",
            "Minus where the bender's mark comes first.",
            IsOptional: true
        ),
        new(
            "clampMm",
            "Straight that the die needs",
            BenchFieldKind.Length,
            "90",
            "About 1.5 to 2 diameters is common practice; your die's own figure rules.",
            IsOptional: true
        ),
        BenchBender.Trials,
        new(
            "side",
            "Which side of the car",
            BenchFieldKind.Choice,
            "measured",
            Options: [new("measured", "as measured"), new("mirrored", "mirrored: the other side")]
        ),
        new("tube", "Name of the tube", BenchFieldKind.Text, "Tube"),
    ];

    public override IReadOnlyList<BenchPaperName> Papers { get; } = [new("card.pdf", "Bend card")];

    protected override Outcome<BenchAnswer> Answer(BenchReader read)
    {
        ArgumentNullException.ThrowIfNull(read);
        var (points, radii) = read.ReadBends("points", TubePath.MostPoints);
        var isMirrored = read.Choice("side", [("measured", false), ("mirrored", true)]);
        var input = new TubePathInput(
            read.Length("outsideDiameterMm"),
            read.Length("wallMm"),
            read.Length("centrelineRadiusMm"),
            isMirrored ? BenderData.Mirrored(points) : points,
            radii
        );
        var bender = Bender(read) with { RadiusMm = input.CentrelineRadiusMm };
        var name = read.Name("tube");
        if (!read.IsGood)
        {
            return read.Errors.ToFailure();
        }

        var outcome = TubePath.Calculate(input);
        if (outcome.Failure is { } failure)
        {
            // The page has one field for all points: the sentence says which.
            return BenchPoints.Placed(failure, "points", "points", "Point");
        }

        return outcome.Then<BenchAnswer>(path => Said(read, input, path, bender, name));
    }

    private static Bender Bender(BenchReader read)
    {
        var (offset, clamp) = (read.OptionalLength("markOffsetMm") ?? 0, read.OptionalLength("clampMm") ?? 0);
        read.Errors.AddIf(!(Math.Abs(offset) <= 1e7), "markOffsetMm", "The offset is too large.");
        read.Errors.AddIf(!(clamp is >= 0 and <= 1e7), "clampMm", "The straight the die needs is 0 or more.");
        return new Bender(offset, clamp, read.ReadTrials());
    }

    private static BenchAnswer Said(
        BenchReader read,
        TubePathInput input,
        TubePathFigures path,
        Bender bender,
        string name
    )
    {
        var steps = BenderData.Steps(path, bender);
        var inputs = read.Inputs("outsideDiameterMm", "wallMm", "centrelineRadiusMm", "side");
        var cut = read.Say(path.CutLengthMm);
        var mass = FormattableString.Invariant($"{path.MassKg:0.000} kg");
        var warnings = steps
            .Where(s => s.IsClampShort)
            .Select(s =>
                FormattableString.Invariant(
                    $"Straight before bend {s.Number} is {s.StraightBeforeMm:0.0} mm; the die needs {bender.ClampMm:0.0} mm. Bend it in another order or leave more tube."
                )
            )
            .ToList();
        warnings.AddRange(
            steps
                .Where(s => s.IsOtherDie)
                .Select(s =>
                    FormattableString.Invariant(
                        $"Bend {s.Number} has a radius of its own, {path.Bends[s.Number - 1].CentrelineRadiusMm():0.#} mm: its mark is where the bend begins, and its angle has no springback. Use what you know of that die."
                    )
                )
        );
        if (
            path.Bends.Any(b =>
                b.CentrelineRadiusMm() < TubeBend.LeastRadiusToDiameter * input.OutsideDiameterMm * (1 - 1e-9)
            )
        )
        {
            warnings.Add(
                "A radius is under 3 diameters, which a published figure asks for: look into the rule book you build to."
            );
        }

        var facts = inputs.Select(i => new PaperFact(i.Name, i.Value)).Append(new PaperFact("Mass", mass)).ToList();
        return new BenchAnswer(
            [
                new(
                    "Cut length",
                    cut,
                    new Explanation("sum of straights and arcs", inputs, Source, cut, []),
                    IsMain: true
                ),
                new(
                    "Bends",
                    path.Bends.Count.ToString(CultureInfo.InvariantCulture),
                    new Explanation("corners that turn the tube", inputs, Source, "", [])
                ),
                new(
                    "Mass",
                    mass,
                    new Explanation(
                        "area of steel × cut length × 7850 kg/m³",
                        inputs,
                        "strength of materials",
                        mass,
                        []
                    )
                ),
            ],
            warnings,
            null,
            [
                new(
                    "Marks along the straight tube, from the first point's end",
                    ["Bend", "Turn tube", "Bender's mark", "Bend to", "Angle", "Bend from", "to", "Straight before"],
                    [
                        .. steps.Zip(
                            path.Bends,
                            (s, b) =>
                                (IReadOnlyList<string>)
                                    [
                                        s.Number.ToString(CultureInfo.InvariantCulture),
                                        s.Number == 1 ? "–" : BenchLengths.Degrees(b.RotationDegrees),
                                        read.Brief(s.BenderMarkMm),
                                        BenchLengths.Degrees(s.BendToDegrees),
                                        BenchLengths.Degrees(b.AngleDegrees),
                                        read.Brief(b.StartMarkMm),
                                        read.Brief(b.EndMarkMm),
                                        read.Brief(s.StraightBeforeMm),
                                    ]
                        ),
                    ],
                    IsWorkedBy: true
                ),
            ],
            [
                new(
                    "card.pdf",
                    "Bend card",
                    "application/pdf",
                    (papers, head, settings) =>
                        papers.Bends(
                            new BendCard(
                                head,
                                path.CutLengthMm,
                                path.Straights[^1].LengthMm,
                                [
                                    .. steps.Zip(
                                        path.Bends,
                                        (s, b) =>
                                            new BendCardBend(
                                                b.AngleDegrees,
                                                s.BendToDegrees,
                                                b.RotationDegrees,
                                                b.StartMarkMm,
                                                b.EndMarkMm,
                                                s.BenderMarkMm,
                                                s.StraightBeforeMm,
                                                s.IsOtherDie ? b.CentrelineRadiusMm() : null
                                            )
                                    ),
                                ],
                                facts,
                                warnings
                            ),
                            settings
                        )
                ),
            ],
            name,
            (turn, tilt) => TubeView.Draw(input, turn, tilt),
            [
                BenchLink.To(
                    "Nest it from a stick",
                    "nest",
                    read.Unit,
                    ("pieces", $"{BenchValues.Written(path.CutLengthMm, read.Unit)}; 1; {name.Replace(';', ',')}")
                ),
            ]
        );
    }
}
