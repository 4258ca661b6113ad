using ShopFloor.Documents.Papers.Models;
using ShopFloor.Documents.Workbench;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Fabrication;

namespace ShopFloor.Application.Workbench.Sheets;

/// <summary>The end of a tube that meets two others at one node.</summary>
public sealed class NodeSheet : BenchSheet
{
    private const string Rule =
        "at each place round the tube the greater s of both notches: s(φ) = √(R² − (r·sin φ + e)²) / sin θ + r·cos φ / tan θ, the second turned and moved";

    private const string Source = "two cylinders that meet: analytic geometry";

    public override string Code => "node";

    public override string Title => "Node: two tubes at one end";

    public override string Purpose => "Cut the end of one tube so that it sits on two others that meet there.";

    public override IReadOnlyList<string> Steps { get; } =
    [
        "Choose the tube that is cut, and give the outside diameters of the two it lands on.",
        "Measure the angle to each of the two: the smaller one.",
        "Look along the tube from its free end: measure how far the second tube is turned against the first, counter-clockwise.",
        "Print the wrap at 100 %, lay its line 0° on the side of the first tube, mark, cut, try on both.",
    ];

    public override IReadOnlyList<(string, string)> Guide { get; } =
    [
        (
            "First and second tube",
            "Take as first the one that you can measure from best. The cut is the deeper of both notches at each place, so the order changes nothing in the metal, only where 0° lies."
        ),
        (
            "The turn",
            "Where the acute side towards the second tube lies, counted from that of the first: 180 for two tubes that lean to opposite sides, 90 for one square to the other."
        ),
        (
            "When the middles do not meet in one point",
            "Give how much further down the tube's middle passes the second one; minus where it passes it earlier."
        ),
    ];

    public override string? PresetsLabel => "Tube that is cut, from the rack";

    public override IReadOnlyList<BenchPreset> Presets { get; } =
        Benches.Rack("branchOutsideDiameterMm", "branchWallMm");

    public override IReadOnlyList<string> Cautions { get; } =
    [
        "Weld the two tubes to each other first where this tube will cover their joint.",
        "Cut edges are sharp: deburr inside and outside. Grinding is hot work: where it is done, permit and fire watch apply.",
    ];

    public override IReadOnlyList<BenchField> Fields { get; } =
    [
        new("branchOutsideDiameterMm", "Cut tube: outside diameter", BenchFieldKind.Length, "38"),
        new("branchWallMm", "Cut tube: wall", BenchFieldKind.Length, "2.5"),
        NotchSheet.EdgeField,
        new(
            "headerOutsideDiameterMm",
            "Outside diameter",
            BenchFieldKind.Length,
            "45",
            Group: "First tube it lands on"
        ),
        new(
            "angleDegrees",
            "Angle to it",
            BenchFieldKind.Angle,
            "60",
            "The smaller one, 1 to 90 degrees.",
            Group: "First tube it lands on"
        ),
        new(
            "offsetMm",
            "Offset of the middles",
            BenchFieldKind.Length,
            "0",
            IsOptional: true,
            Group: "First tube it lands on"
        ),
        new(
            "second.headerOutsideDiameterMm",
            "Outside diameter ",
            BenchFieldKind.Length,
            "45",
            Group: "Second tube it lands on"
        ),
        new(
            "second.angleDegrees",
            "Angle to the second",
            BenchFieldKind.Angle,
            "60",
            "The smaller one, 1 to 90 degrees.",
            Group: "Second tube it lands on"
        ),
        new(
            "second.offsetMm",
            "Offset of the middles, second",
            BenchFieldKind.Length,
            "0",
            IsOptional: true,
            Group: "Second tube it lands on"
        ),
        new(
            "turnDegrees",
            "Turned against the first",
            BenchFieldKind.Angle,
            "180",
            "Counter-clockwise, looking from the free end towards the node.",
            Group: "Second tube it lands on"
        ),
        new(
            "shiftMm",
            "Its middle is passed later by",
            BenchFieldKind.Length,
            "0",
            "0 where all three middles meet.",
            IsOptional: true,
            Group: "Second tube it lands on"
        ),
        new("tube", "Name of the tube", BenchFieldKind.Text, "Tube", Group: "Names on the paper"),
        new("end", "Which end", BenchFieldKind.Text, "first end", Group: "Names on the paper"),
    ];

    public override IReadOnlyList<BenchPaperName> Papers { get; } = WrapPapers.Names();

    protected override Outcome<BenchAnswer> Answer(BenchReader read)
    {
        ArgumentNullException.ThrowIfNull(read);
        var edge = read.Choice("edge", NotchSheet.Edges);
        var (diameter, wall) = (read.Length("branchOutsideDiameterMm"), read.Length("branchWallMm"));
        NotchInput Header(string prefix) =>
            new(
                diameter,
                wall,
                read.Length(prefix + "headerOutsideDiameterMm"),
                read.Number(prefix + "angleDegrees"),
                read.OptionalLength(prefix + "offsetMm") ?? 0,
                edge
            );
        var input = new NodeInput(
            Header(""),
            Header("second."),
            read.Number("turnDegrees"),
            read.OptionalLength("shiftMm") ?? 0
        );
        var (tube, end) = (read.Name("tube"), read.Name("end"));
        return NodeCurve.Of(input).TryGet(out var curve, out var failure)
            ? Said(read, input, curve, tube, end)
            : Placed(failure);
    }

    /// <summary>The tube that is cut has one pair of fields: what the second notch says of it is said there once, or at the second tube where only that is too small.</summary>
    private static Failure Placed(Failure failure)
    {
        const string second = "second.branch";
        if (failure is not Failure.Invalid invalid)
        {
            return failure;
        }

        var isSaid = invalid.Errors.Any(e => e.Path.StartsWith("branch", StringComparison.Ordinal));
        return new Failure.Invalid([
            .. invalid
                .Errors.Where(e => !isSaid || !e.Path.StartsWith(second, StringComparison.Ordinal))
                .Select(e =>
                    e.Path.StartsWith(second, StringComparison.Ordinal)
                        ? e with
                        {
                            Path = "second.headerOutsideDiameterMm",
                        }
                        : e
                ),
        ]);
    }

    private static BenchAnswer Said(BenchReader read, NodeInput input, NodeCurve curve, string tube, string end)
    {
        var inputs = read.Inputs(
            "branchOutsideDiameterMm",
            "branchWallMm",
            "headerOutsideDiameterMm",
            "angleDegrees",
            "offsetMm",
            "second.headerOutsideDiameterMm",
            "second.angleDegrees",
            "second.offsetMm",
            "turnDegrees",
            "shiftMm",
            "edge"
        );
        var edge = WrapPapers.Edge(curve.AxialMm);
        var (low, high) = (curve.Extreme(greatest: false).AxialMm, curve.Extreme(greatest: true).AxialMm);
        var share = edge.Count(p => curve.IsFirst(p.AroundDegrees * Math.PI / 180)) / (double)edge.Count;
        BenchResult Result(string label, string value, string rule, bool isMain = false) =>
            new(label, value, new Explanation(rule, inputs, Source, value, []), isMain);
        List<string> warnings = [];
        if (share is 0 or 1)
        {
            warnings.Add(
                $"The {(share == 0 ? "second" : "first")} tube alone sets the cut all round: the end does not reach the other one as measured. Measure the turn and the distance again, or take the page for one notch."
            );
        }

        return new BenchAnswer(
            [
                Result(
                    "Depth of the cut",
                    read.Say(high - low),
                    "Greatest less least of the curve: " + Rule,
                    isMain: true
                ),
                Result(
                    "Take off the length to the node, at this end",
                    read.Say(low),
                    "Least of the curve: the tube's square end stands here, measured from where the middles of this and the first tube meet. "
                        + Rule,
                    isMain: true
                ),
                Result("Deepest place from the node", read.Say(high), "Greatest of the curve. " + Rule),
                Result("Paper round the tube", read.Say(curve.CircumferenceMm), "π × outside diameter"),
                Result(
                    "Joint to weld",
                    read.Say(curve.JointLineMm()),
                    "Length of the line in which the tube's outside meets both others, added up in 20,000 steps; the joint between those two is not in it"
                ),
                Result(
                    "Round the tube, the first one sets",
                    FormattableString.Invariant($"{share * 100:0} % of the cut"),
                    "places at which the first notch is the deeper one"
                ),
            ],
            warnings,
            WrapPicture.Draw(edge, curve.CircumferenceMm, low, high, "0° towards the first"),
            [
                WrapPapers.Heights(
                    read,
                    edge,
                    curve.CircumferenceMm,
                    low,
                    "Where there is no printer: heights above the square end"
                ),
            ],
            WrapPapers.Of(head => new WrapTemplate(
                head,
                end,
                input.First.BranchOutsideDiameterMm,
                edge,
                low,
                high,
                "side of the first tube",
                null,
                [.. inputs.Select(i => new PaperFact(i.Name, i.Value))],
                warnings
            )),
            tube,
            Links: [BenchLink.ToWeld(read, curve.JointLineMm(), NotchSheet.JointName(tube, end))]
        );
    }
}
