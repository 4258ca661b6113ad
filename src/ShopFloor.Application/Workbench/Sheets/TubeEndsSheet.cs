using System.Globalization;
using ShopFloor.Documents.Papers.Models;
using ShopFloor.Documents.Workbench;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Fabrication;

namespace ShopFloor.Application.Workbench.Sheets;

/// <summary>A tube, straight or bent, between two others: both notches, how they are turned against each other, and where it is sawn.</summary>
public sealed class TubeEndsSheet : BenchSheet
{
    private const string Source = "vector geometry and two cylinders that meet: analytic geometry";

    public override string Code => "tube-ends";

    public override string Title => "Tube between two tubes";

    public override string Purpose =>
        "Both notches of one tube, how far they are turned against each other, and the length to saw.";

    public override IReadOnlyList<string> Steps { get; } =
    [
        "Measure the points of the tube as for a tube with bends. The first and the last lie on the middle of the tube that is landed on.",
        "For each end measure one more point on the middle of the tube it lands on.",
        "Saw the tube square to the length given. Draw a straight line along it: the line 0° of the first end.",
        "Print both wraps. On each, the other end's line 0° lies at the turn given; on a bent tube the mark for the bend sets the wrap.",
    ];

    public override IReadOnlyList<(string, string)> Guide { get; } =
    [
        (
            "Points",
            "Choose one corner of the car as zero. Every point is three lengths from it: across the car, along the car, up. A straight tube has two points."
        ),
        (
            "Which point on the other tube",
            "Any point on its middle that is not the joint itself; far away is better than near. It only tells which way that tube runs."
        ),
        (
            "The turn",
            "It is right-handed: looking from the first end along the tube, a turn above zero is clockwise. It holds for the tube before it is bent."
        ),
        (
            "The bend",
            "On a bent tube notch after bending, or mark the inside of the bend on the straight tube and lay the mark of each wrap on it."
        ),
    ];

    public override string? PresetsLabel => "Tube from the rack";

    public override IReadOnlyList<BenchPreset> Presets { get; } = Benches.Rack("outsideDiameterMm", "wallMm");

    public override IReadOnlyList<string> Cautions { get; } =
    [
        "Cut edges are sharp: deburr inside and outside. Grinding is hot work: where it is done, permit and fire watch apply.",
    ];

    public override IReadOnlyList<BenchField> Fields { get; } =
    [
        new("outsideDiameterMm", "Outside diameter", BenchFieldKind.Length, "38"),
        new("wallMm", "Wall", BenchFieldKind.Length, "2.5"),
        new(
            "points",
            "Points of the tube: across, along, up",
            BenchFieldKind.Lines,
            "0; 0; 1000\n1000; 300; 1000",
            "One point a line, semicolons between. The first and the last lie on the middles of the other tubes."
        ),
        new(
            "centrelineRadiusMm",
            "Radius of the die, to the tube's middle",
            BenchFieldKind.Length,
            "114",
            "Counts only where the tube bends."
        ),
        new("startHeaderDiameterMm", "First end lands on: outside diameter", BenchFieldKind.Length, "45"),
        new(
            "startHeader",
            "First end: another point on that tube's middle",
            BenchFieldKind.Point,
            "0; 0; 0",
            "Across; along; up."
        ),
        new("endHeaderDiameterMm", "Last end lands on: outside diameter", BenchFieldKind.Length, "45"),
        new(
            "endHeader",
            "Last end: another point on that tube's middle",
            BenchFieldKind.Point,
            "1000; 0; 0",
            "Across; along; up."
        ),
        NotchSheet.EdgeField,
        new("tube", "Name of the tube", BenchFieldKind.Text, "Tube"),
    ];

    public override IReadOnlyList<BenchPaperName> Papers { get; } =
    [.. WrapPapers.Names("wrap-first", ", first end"), .. WrapPapers.Names("wrap-last", ", last end")];

    protected override Outcome<BenchAnswer> Answer(BenchReader read)
    {
        ArgumentNullException.ThrowIfNull(read);
        var points = read.ReadPoints("points", TubePath.MostPoints);
        var path = new TubePathInput(
            read.Length("outsideDiameterMm"),
            read.Length("wallMm"),
            read.Length("centrelineRadiusMm"),
            points
        );
        var (startPoint, endPoint) = (read.ReadPoint("startHeader"), read.ReadPoint("endHeader"));
        var (startSize, endSize) = (read.Length("startHeaderDiameterMm"), read.Length("endHeaderDiameterMm"));
        var edge = read.Choice("edge", NotchSheet.Edges);
        var name = read.Name("tube");
        if (!read.IsGood)
        {
            return read.Errors.ToFailure();
        }

        var outcome = TubePath.Calculate(path);
        if (!outcome.TryGet(out var figures, out var failure))
        {
            return BenchPoints.Placed(failure, "points", "points", "Point");
        }

        return TubeEnds
            .Of(points, startPoint - points[0], endPoint - points[^1])
            .Then(ends =>
            {
                NotchInput Input(double size, double degrees) =>
                    new(path.OutsideDiameterMm, path.WallMm, size, degrees, 0, edge);
                var (first, last) = (Input(startSize, ends.StartDegrees), Input(endSize, ends.EndDegrees));
                var errors = new FieldErrors();
                var (one, two) = (Notch.CurveOf(first), Notch.CurveOf(last));
                Said(one, "startHeaderDiameterMm", errors);
                Said(two, "endHeaderDiameterMm", errors);
                return errors.Any
                    ? errors.ToFailure()
                    : Answer(read, path, figures, ends, (first, one.Value), (last, two.Value), name);
            });
    }

    /// <summary>What is wrong with a notch is said at the tube it lands on: the branch was checked before.</summary>
    private static void Said(Outcome<NotchCurve> curve, string path, FieldErrors errors)
    {
        if (curve.Failure is Failure.Invalid invalid)
        {
            foreach (var error in invalid.Errors)
            {
                errors.Add(path, error.Text);
            }
        }
    }

    private static Outcome<BenchAnswer> Answer(
        BenchReader read,
        TubePathInput path,
        TubePathFigures figures,
        TubeEnds ends,
        (NotchInput Input, NotchCurve Curve) first,
        (NotchInput Input, NotchCurve Curve) last,
        string name
    )
    {
        var inputs = read.Inputs(
            "outsideDiameterMm",
            "wallMm",
            "startHeaderDiameterMm",
            "startHeader",
            "endHeaderDiameterMm",
            "endHeader",
            "edge"
        );
        var lengths = NotchedTube.Lengths(figures.CutLengthMm, first.Curve, last.Curve);
        var takenFirst = first.Curve.Extreme(greatest: false).AxialMm;
        var round = first.Curve.CircumferenceMm * ends.TwistDegrees / 360;
        BenchResult Result(string label, string value, string rule, bool isMain = false) =>
            new(label, value, new Explanation(rule, inputs, Source, value, []), isMain);
        var bent = figures.Bends.Count > 0;
        List<string> warnings = [];
        foreach (var (which, notch) in ((string, NotchInput)[])[("first", first.Input), ("last", last.Input)])
        {
            if (Notch.Overhangs(notch))
            {
                warnings.Add(
                    $"At the {which} end the inside of the wall meets the other tube, but its outside hangs over the side: there is no metal to weld to there."
                );
            }
        }

        List<BenchResult> results =
        [
            Result(
                "Saw the tube square to",
                read.Say(lengths.BlankMm),
                "length along the middle from axis to axis − least s of both notches",
                isMain: true
            ),
            Result(
                "Turn of the last end against the first",
                $"{BenchLengths.Degrees(ends.TwistDegrees)}, {read.Say(Math.Abs(round))} round the outside, {(ends.TwistDegrees >= 0 ? "clockwise" : "counter-clockwise")} seen from the first end",
                "acute side of the last notch, carried back along the tube through its bends, against that of the first; right-handed about the tube",
                isMain: true
            ),
            Result(
                "Angle at the first end",
                BenchLengths.Degrees(ends.StartDegrees),
                "between the tube and the way the other tube runs"
            ),
            Result(
                "Angle at the last end",
                BenchLengths.Degrees(ends.EndDegrees),
                "between the tube and the way the other tube runs"
            ),
            Result("From middle to middle, along the tube", read.Say(figures.CutLengthMm), "sum of straights and arcs"),
            Result(
                "Uncut from deepest to deepest",
                read.Say(lengths.ShortPointsMm),
                "axis to axis − greatest s of both notches"
            ),
            Result(
                "Joints to weld, both ends",
                read.Say(first.Curve.JointLineMm() + last.Curve.JointLineMm()),
                "lengths of the lines in which the tube's outside meets the other tubes"
            ),
        ];
        return new BenchAnswer(
            results,
            warnings,
            null,
            bent
                ?
                [
                    new(
                        "Bend marks from the sawn first end",
                        ["Bend", "Turn tube", "Angle", "Bend from", "to"],
                        [
                            .. figures.Bends.Select(
                                (b, i) =>
                                    (IReadOnlyList<string>)
                                        [
                                            (i + 1).ToString(CultureInfo.InvariantCulture),
                                            i == 0 ? "–" : BenchLengths.Degrees(b.RotationDegrees),
                                            BenchLengths.Degrees(b.AngleDegrees),
                                            read.Brief(b.StartMarkMm - takenFirst),
                                            read.Brief(b.EndMarkMm - takenFirst),
                                        ]
                            ),
                        ],
                        IsWorkedBy: true
                    ),
                ]
                : [],
            [
                .. Wrap("wrap-first", ", first end", "first end", first, ends.StartBendDegrees),
                .. Wrap("wrap-last", ", last end", "last end", last, ends.EndBendDegrees),
            ],
            name,
            (turn, tilt) => TubeView.Draw(path, turn, tilt)
        );

        IReadOnlyList<BenchPaper> Wrap(
            string file,
            string which,
            string end,
            (NotchInput Input, NotchCurve Curve) notch,
            double? bend
        )
        {
            var (low, high) = (
                notch.Curve.Extreme(greatest: false).AxialMm,
                notch.Curve.Extreme(greatest: true).AxialMm
            );
            var other = ((ends.TwistDegrees % 360) + 360) % 360;
            return WrapPapers.Of(
                head => new WrapTemplate(
                    head,
                    end,
                    path.OutsideDiameterMm,
                    WrapPapers.Edge(notch.Curve.AxialMm),
                    low,
                    high,
                    notch.Input.AngleDegrees < 90 ? "acute side" : "zero side",
                    bend ?? other,
                    [
                        .. inputs.Select(i => new PaperFact(i.Name, i.Value)),
                        new("Angle here", BenchLengths.Degrees(notch.Input.AngleDegrees)),
                        new("Saw the tube to", read.Say(lengths.BlankMm)),
                        new("The other end's line 0° lies at", BenchLengths.Degrees(other)),
                    ],
                    warnings,
                    bend is null ? "other end's 0°" : WrapTemplate.InsideOfBend
                ),
                file,
                which
            );
        }
    }
}
