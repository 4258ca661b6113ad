using ShopFloor.Documents.Papers.Models;
using ShopFloor.Documents.Workbench;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Fabrication;

namespace ShopFloor.Application.Workbench.Sheets;

/// <summary>From tape-measure figures to a notch wrap.</summary>
public sealed class NotchSheet : BenchSheet
{
    private const string Rule =
        "s(φ) = √(R² − (r·sin φ + e)²) / sin θ + r·cos φ / tan θ along the branch from the header's axis; R the header's outside radius, r the radius of the edge, θ the angle between the axes, e the offset";

    private const string Source = "two cylinders that meet: analytic geometry";

    internal static readonly IReadOnlyList<(string, NotchEdge)> Edges =
    [
        ("seat", NotchEdge.Seat),
        ("inside", NotchEdge.Inside),
        ("outside", NotchEdge.Outside),
    ];

    internal static BenchField EdgeField { get; } =
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
        );

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

    public override IReadOnlyList<(string, string)> Guide { get; } =
    [
        (
            "Seat, inside or outside edge",
            "Seat is right for a tube sawn square: it touches the other tube first, whatever part of the wall that is. Inside is for a tube pressed tight onto the other; outside leaves metal for a weld preparation that is ground afterwards."
        ),
        ("Angle", "The smaller angle between the two tubes, as an angle gauge reads it. Square is 90."),
        (
            "Offset",
            "How far the middle of the cut tube passes the middle of the other. 0 for nearly every joint of a bar."
        ),
        (
            "Where the wrap goes",
            "The line 0° lies on the side of the sharp angle. At 90° it lies on the side of the other tube's positive way: mark one side with chalk and stay with it."
        ),
        (
            "Inside of the bend",
            "On a bent tube, how far round from the sharp side the inside of its bend lies, counter-clockwise as seen from the free end. The wrap then carries a line for it."
        ),
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
        EdgeField,
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

    public override IReadOnlyList<BenchPaperName> Papers { get; } = WrapPapers.Names();

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
            WrapPapers.Points
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
        var edge = figures.Points.Select(p => new WrapPoint(p.AroundDegrees, p.AxialMm)).ToList();
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
            WrapPicture.Draw(
                edge,
                figures.CircumferenceMm,
                figures.MinimumAxialMm,
                figures.MaximumAxialMm,
                input.AngleDegrees < 90 ? "0° acute side" : "0°",
                bendPlane is { } bend ? [(bend, "inside of bend")] : []
            ),
            [
                WrapPapers.Heights(
                    read,
                    edge,
                    figures.CircumferenceMm,
                    figures.MinimumAxialMm,
                    "Where there is no printer: heights above the square end"
                ),
            ],
            WrapPapers.Of(head => new WrapTemplate(
                head,
                end,
                input.BranchOutsideDiameterMm,
                edge,
                figures.MinimumAxialMm,
                figures.MaximumAxialMm,
                input.AngleDegrees < 90 ? "acute side" : "zero side",
                bendPlane,
                [.. inputs.Select(i => new PaperFact(i.Name, i.Value))],
                warnings
            )),
            tube,
            Links: [BenchLink.ToWeld(read, curve.JointLineMm(), JointName(tube, end))]
        );
    }

    /// <summary>Of the joint on the papers of its weld, not longer than a name may be.</summary>
    internal static string JointName(string tube, string end)
    {
        var name = $"{tube}, {end}";
        return name.Length <= BenchReader.LongestName ? name : tube;
    }
}
