using ShopFloor.Documents.Papers.Models;
using ShopFloor.Documents.Workbench;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Fabrication;

namespace ShopFloor.Application.Workbench.Sheets;

/// <summary>From tape-measure figures to a notch wrap.</summary>
public sealed class NotchSheet : BenchSheet
{
    /// <summary>Of the printed curve: a chord every quarter of a degree.</summary>
    private const int PaperPoints = 1440;

    private const string Rule =
        "s(φ) = √(R² − (r·sin φ + e)²) / sin θ + r·cos φ / tan θ along the branch from the header's axis; R the header's outside radius, r the radius of the edge, θ the angle between the axes, e the offset";

    private const string Source = "two cylinders that meet: analytic geometry";

    private static readonly IReadOnlyList<(string, NotchEdge)> Edges =
    [
        ("seat", NotchEdge.Seat),
        ("inside", NotchEdge.Inside),
        ("outside", NotchEdge.Outside),
    ];

    public override string Code => "notch";

    public override string Title => "Notch";

    public override string Purpose => "Cut the end of one tube so that it sits on the side of another.";

    public override IReadOnlyList<string> Steps { get; } =
    [
        "Choose the tube that is cut, and give the outside diameter of the tube it lands on.",
        "Measure the smaller angle between the two tubes, and how far their middles pass each other (0 when they meet).",
        "Look at the picture: the curve is the end of the cut tube, unrolled.",
        "Print the wrap at 100 %, check its rulers, wrap it round the tube with the printed face outward, mark, cut, try.",
    ];

    public override string? PresetsLabel => "Tube that is cut, from the rack";

    public override IReadOnlyList<BenchPreset> Presets { get; } =
        Benches.Rack("branchOutsideDiameterMm", "branchWallMm");

    public override IReadOnlyList<string> Cautions { get; } =
    [
        "Cut edges are sharp: deburr inside and outside. Grinding is hot work: where it is done, permit and fire watch apply.",
    ];

    public override IReadOnlyList<BenchField> Fields { get; } =
    [
        new("branchOutsideDiameterMm", "Cut tube: outside diameter", BenchFieldKind.Length, "45"),
        new("branchWallMm", "Cut tube: wall", BenchFieldKind.Length, "2.5"),
        new("headerOutsideDiameterMm", "Tube it lands on: outside diameter", BenchFieldKind.Length, "45"),
        new("angleDegrees", "Angle between the tubes", BenchFieldKind.Angle, "90", "The smaller one, 1 to 90 degrees."),
        new(
            "offsetMm",
            "Offset of the middles",
            BenchFieldKind.Length,
            "0",
            "0 when the middles meet. Plus: the cut tube stands towards the mark 90° of the wrap."
        ),
        new(
            "edge",
            "Which edge meets the other tube",
            BenchFieldKind.Choice,
            "seat",
            Options:
            [
                new("seat", "Seat: touches first, as sawn square"),
                new("inside", "Inside edge"),
                new("outside", "Outside edge, prep ground after"),
            ]
        ),
        new(
            "bendPlaneDegrees",
            "Inside of the tube's bend lies at",
            BenchFieldKind.Angle,
            "",
            "Round the tube from the acute side, 0 to 360. Empty for a straight tube.",
            IsOptional: true
        ),
        new("tube", "Name of the tube", BenchFieldKind.Text, "Tube"),
        new("end", "Which end", BenchFieldKind.Text, "first end"),
    ];

    public override IReadOnlyList<BenchPaperName> Papers { get; } = [new("wrap.pdf", "Wrap to print, 1:1"), new("wrap.svg", "Outline as SVG"), new("wrap.dxf", "Outline as DXF (R12, mm)")];

    protected override Outcome<BenchAnswer> Answer(BenchReader read)
    {
        ArgumentNullException.ThrowIfNull(read);
        var input = new NotchInput(
            read.Length("branchOutsideDiameterMm"),
            read.Length("branchWallMm"),
            read.Length("headerOutsideDiameterMm"),
            read.Number("angleDegrees"),
            read.OptionalLength("offsetMm") ?? 0,
            read.Choice("edge", Edges),
            PaperPoints
        );
        var bendPlane = read.OptionalNumber("bendPlaneDegrees");
        read.Errors.AddIf(
            bendPlane is < 0 or > 360,
            "bendPlaneDegrees",
            "The bend's place round the tube is 0 to 360 degrees."
        );
        var (tube, end) = (read.Name("tube"), read.Name("end"));
        return Notch
            .CurveOf(input)
            .Then(curve =>
                Notch
                    .Calculate(input)
                    .Then<BenchAnswer>(figures => Said(read, input, curve, figures, bendPlane, tube, end))
            );
    }

    private static BenchAnswer Said(
        BenchReader read,
        NotchInput input,
        NotchCurve curve,
        NotchFigures figures,
        double? bendPlane,
        string tube,
        string end
    )
    {
        var inputs = read.Inputs(
            "branchOutsideDiameterMm",
            "branchWallMm",
            "headerOutsideDiameterMm",
            "angleDegrees",
            "offsetMm",
            "edge"
        );
        var deep = figures.MaximumAxialMm - figures.MinimumAxialMm;
        IReadOnlyList<string> warnings = Notch.Overhangs(input)
            ?
            [
                "The inside of the wall meets the other tube, but its outside hangs over the side: there is no metal to weld to there.",
            ]
            : [];
        BenchResult Result(string label, double mm, string rule, bool isMain = false) =>
            new(label, read.Say(mm), new Explanation(rule, inputs, Source, read.Say(mm), []), isMain);

        return new BenchAnswer(
            [
                Result("Depth of the notch", deep, "Greatest less least s of the curve: " + Rule, isMain: true),
                Result(
                    "Take off the length between the middles, at this end",
                    figures.MinimumAxialMm,
                    "Least s of the curve: the tube's square end stands here. " + Rule,
                    isMain: true
                ),
                Result(
                    "Deepest place of the notch from the other tube's middle",
                    figures.MaximumAxialMm,
                    "Greatest s. " + Rule
                ),
                Result("Paper round the tube", figures.CircumferenceMm, "π × outside diameter"),
                Result(
                    "Joint to weld",
                    curve.JointLineMm(),
                    "Length of the line in which the tube's outside meets the other tube, added up in 20,000 steps"
                ),
            ],
            warnings,
            Picture(figures, input.AngleDegrees < 90, bendPlane),
            [
                new(
                    "Where there is no printer: heights above the square end",
                    ["Round the tube", "Along the outside", "Height"],
                    [
                        .. Enumerable
                            .Range(0, 24)
                            .Select(i => figures.Points[i * PaperPoints / 24])
                            .Select(p =>
                                (IReadOnlyList<string>)
                                    [
                                        BenchLengths.Degrees(p.AroundDegrees),
                                        read.Brief(p.AroundMm),
                                        read.Brief(p.AxialMm - figures.MinimumAxialMm),
                                    ]
                            ),
                    ]
                ),
            ],
            PapersOf(input, figures, bendPlane, end, inputs, warnings),
            tube
        );
    }

    private static IReadOnlyList<BenchPaper> PapersOf(
        NotchInput input,
        NotchFigures figures,
        double? bendPlane,
        string end,
        IReadOnlyList<ExplanationInput> inputs,
        IReadOnlyList<string> warnings
    )
    {
        WrapTemplate Template(WorkbenchHead head) =>
            new(
                head,
                end,
                input.BranchOutsideDiameterMm,
                [.. figures.Points.Select(p => new WrapPoint(p.AroundDegrees, p.AxialMm))],
                figures.MinimumAxialMm,
                figures.MaximumAxialMm,
                input.AngleDegrees < 90 ? "acute side" : "zero side",
                bendPlane,
                [.. inputs.Select(i => new PaperFact(i.Name, i.Value))],
                warnings
            );
        return
        [
            new(
                "wrap.pdf",
                "Wrap to print, 1:1",
                "application/pdf",
                (papers, head, settings) =>
                {
                    var template = Template(head);
                    var sheets = papers.SheetsOfWrap(template, settings.Size);
                    return sheets <= WrapLimits.MostSheets
                        ? papers.Wrap(template, settings)
                        : Failure.Because(
                            "tooManySheets",
                            $"This wrap would take {sheets} sheets, more than can be joined true ({WrapLimits.MostSheets}). Take the SVG or DXF outline to a cutter or plotter."
                        );
                }
            ),
            new(
                "wrap.svg",
                "Outline as SVG",
                "image/svg+xml",
                (papers, head, _) => Utf8(papers.WrapSvg(Template(head)))
            ),
            new(
                "wrap.dxf",
                "Outline as DXF (R12, mm)",
                "image/vnd.dxf",
                (papers, head, _) => Utf8(papers.WrapDxf(Template(head)))
            ),
        ];
    }

    private static byte[] Utf8(string text) => System.Text.Encoding.UTF8.GetBytes(text);

    private static BenchPicture Picture(NotchFigures figures, bool isSlanted, double? bendPlane)
    {
        var (width, low) = (figures.CircumferenceMm, figures.MinimumAxialMm);
        var deep = figures.MaximumAxialMm - low;
        var top = deep + Math.Max(12, width * 0.06);
        var pad = Math.Max(width, top) * 0.09;
        double X(double degrees) => (((degrees % 360) + 540) % 360) / 360 * width;
        var curve = figures
            .Points.Select(p => new BenchPoint(X(p.AroundDegrees), p.AxialMm - low))
            .OrderBy(p => p.X)
            .ToList();
        curve.Add(new BenchPoint(width, curve[0].Y));
        var picture = new BenchPicture(
            "The end of the cut tube, unrolled and to scale; the joint is below, the tube goes on above.",
            -pad,
            -pad * 1.4,
            width + (pad * 2.6),
            top + pad
        );
        picture
            .Line("fill", [.. curve, new(width, top), new(0, top)], isClosed: true)
            .Line("guide", 0, 0, width, 0)
            .Line("cut", curve)
            .Line("edge", [new(0, curve[0].Y), new(0, top), new(width, top), new(width, curve[^1].Y)]);
        foreach (var around in (double[])[0, 90, 270])
        {
            picture.Line("guide", X(around), top - (pad * 0.5), X(around), top);
            picture.Words(
                X(around),
                top + (pad * 0.25),
                around == 0 && isSlanted ? "0° acute side" : $"{around}°",
                "middle"
            );
        }

        if (bendPlane is { } bend)
        {
            picture.Line("mark", X(bend), 0, X(bend), top).Words(X(bend), -pad * 0.5, "inside of bend", "middle");
        }

        return picture
            .Up(width + (pad * 0.4), 0, deep, FormattableString.Invariant($"{deep:0.0} mm"))
            .Across(0, width, -pad, FormattableString.Invariant($"round the tube {width:0.0} mm"));
    }
}
