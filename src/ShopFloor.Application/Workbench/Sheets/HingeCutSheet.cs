using ShopFloor.Documents.Workbench;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Fabrication;

namespace ShopFloor.Application.Workbench.Sheets;

/// <summary>Where a door bar is cut for its hinges.</summary>
public sealed class HingeCutSheet : BenchSheet
{
    private const string Source =
        "lengths along the bar; about 63.5 mm (2 1/2 in) a hinge is common practice without a source: the hinge's own figure rules";

    private static readonly IReadOnlyList<(string, HingePlace)> Places =
    [
        ("centre", HingePlace.Centre),
        ("nearJoint", HingePlace.NearJoint),
        ("nearBend", HingePlace.NearBend),
    ];

    public override string Code => "hinge-cut";

    public override string Title => "Hinge cuts";

    public override string Purpose => "Where to cut a door bar so that its hinges keep clear of joints and bends.";

    public override IReadOnlyList<string> Steps { get; } =
    [
        "Tack the bar in its place against the customer's door panel first. Measure each end from its own joint.",
        "Joint root: where the notch ends on the bar. Bend: where the bar begins to turn.",
        "Measure your hinge: how far its insert goes into the tube, and how much its body takes out.",
        "Cut at the two marks. Push the inserts home, bolt and pin in, align, tack, weld.",
    ];

    public override IReadOnlyList<string> Cautions { get; } =
    [
        "Both hinge axes must read the same angle, and the bar the same before and past its bend; else the door bar binds or springs.",
        Domain.Common.Cautions.BareTube.Text,
    ];

    public override IReadOnlyList<(string, string)> Guide { get; } =
    [
        (
            "Joint root",
            "The deepest place of the notch, where the bar's metal ends on the other tube. The insert may not come nearer than the clearance."
        ),
        ("Bend", "Where the bar begins to turn, measured along the bar from its own joint."),
        (
            "Insert and body",
            "The insert is the part that goes into the tube on each side; the body is what stands between the two cut faces. Take both from your hinge, not from a picture of another."
        ),
        (
            "Wanted place",
            "In the middle leaves most room for both welds. Near the joint keeps the hinge's axis by the hoop; near the bend keeps the weld away from the notch."
        ),
    ];

    public override IReadOnlyList<BenchField> Fields { get; } = [.. End(0, "front"), .. End(1, "rear")];

    public override IReadOnlyList<BenchPaperName> Papers { get; } = [new("card.pdf", "Hinge cut card")];

    protected override Outcome<BenchAnswer> Answer(BenchReader read)
    {
        ArgumentNullException.ThrowIfNull(read);
        var ends = new[] { 0, 1 }
            .Where(i => i == 0 || read.Text("ends[1].jointRootMm").Length > 0)
            .Select(i => new HingeEnd(
                read.Name($"ends[{i}].name"),
                read.Length($"ends[{i}].jointRootMm"),
                read.Length($"ends[{i}].bendTangentMm"),
                read.Length($"ends[{i}].insertLengthMm"),
                read.Length($"ends[{i}].bodyLengthMm"),
                read.OptionalLength($"ends[{i}].clearanceMm") ?? 0,
                read.Choice($"ends[{i}].prefer", Places)
            ))
            .ToList();
        return HingeCut.Calculate(ends).Then<BenchAnswer>(f => Said(read, ends, f));
    }

    private static BenchAnswer Said(BenchReader read, List<HingeEnd> ends, HingeCutFigures figures)
    {
        var results = new List<BenchResult>();
        for (var i = 0; i < ends.Count; i++)
        {
            var cut = figures.Ends[i];
            string[] names =
            [
                "jointRootMm",
                "bendTangentMm",
                "insertLengthMm",
                "bodyLengthMm",
                "clearanceMm",
                "prefer",
            ];
            var inputs = read.Inputs([.. names.Select(n => $"ends[{i}].{n}")]);
            void Add(string label, string value, string rule, bool isMain) =>
                results.Add(
                    new($"{cut.Name}: {label}", value, new Explanation(rule, inputs, Source, value, []), isMain)
                );
            if (cut is { FirstCutMm: { } first, SecondCutMm: { } second })
            {
                Add(
                    "first cut from the joint",
                    read.Say(first),
                    "between the earliest and the latest cut, as preferred",
                    true
                );
                Add("second cut from the joint", read.Say(second), "first cut + body of the hinge", true);
                Add(
                    "the first cut may lie from",
                    read.Say(cut.EarliestCutMm),
                    "joint root + insert + clearance",
                    false
                );
                Add("to", read.Say(cut.LatestCutMm), "bend − insert − clearance − body", false);
            }
            else
            {
                Add("does not fit, short by", read.Say(cut.ShortfallMm), "earliest − latest cut", true);
            }
        }

        results.Add(
            new(
                "Length that comes out of the bar",
                read.Say(figures.RemovedMm),
                new Explanation("sum of the hinge bodies that fit", [], Source, read.Say(figures.RemovedMm), []),
                IsMain: true
            )
        );
        return new BenchAnswer(
            results,
            [.. figures.Ends.Where(e => !e.IsPossible).SelectMany(e => e.Reasons.Select(r => $"{e.Name}: {r}"))],
            Picture(ends, figures),
            [],
            [
                new(
                    "card.pdf",
                    "Hinge cut card",
                    "application/pdf",
                    (papers, head, settings) => papers.HingeCuts(Card(head, ends, figures), settings)
                ),
            ],
            "Door bar"
        );
    }

    private static HingeCard Card(WorkbenchHead head, List<HingeEnd> ends, HingeCutFigures figures) =>
        new(
            head,
            [
                .. ends.Zip(
                    figures.Ends,
                    (e, c) =>
                        new HingeCardEnd(
                            e.Name,
                            e.JointRootMm,
                            e.BendTangentMm,
                            e.InsertLengthMm,
                            e.BodyLengthMm,
                            e.ClearanceMm,
                            c.EarliestCutMm,
                            c.LatestCutMm,
                            c.FirstCutMm,
                            c.SecondCutMm,
                            c.Reasons
                        )
                ),
            ],
            figures.RemovedMm
        );

    private static BenchPicture Picture(List<HingeEnd> ends, HingeCutFigures figures)
    {
        var longest = ends.Max(e => e.BendTangentMm);
        var (row, tube) = (longest * 0.4, longest * 0.07);
        var picture = new BenchPicture(
            "Each end of the bar from its joint to its bend, to scale along the bar.",
            -longest * 0.03,
            -row * ends.Count,
            longest * 1.06,
            row * 0.1
        );
        for (var i = 0; i < ends.Count; i++)
        {
            var (end, cut, y) = (ends[i], figures.Ends[i], -row * (i + 0.4));
            picture
                .Words(0, y + (tube * 1.7), $"{end.Name}: joint left, bend right")
                .Box("tube", 0, y - (tube / 2), end.BendTangentMm, y + (tube / 2))
                .Line("mark", end.JointRootMm, y - tube, end.JointRootMm, y + tube)
                .Line("mark", end.BendTangentMm, y - tube, end.BendTangentMm, y + tube);
            if (cut is { FirstCutMm: { } first, SecondCutMm: { } second })
            {
                picture
                    .Box(
                        "insert",
                        first - end.InsertLengthMm,
                        y - (tube / 4),
                        second + end.InsertLengthMm,
                        y + (tube / 4)
                    )
                    .Box("fill", first, y - (tube / 2), second, y + (tube / 2))
                    .Line("cut", first, y - tube, first, y + tube)
                    .Line("cut", second, y - tube, second, y + tube)
                    .Across(0, first, y - (tube * 2.3), FormattableString.Invariant($"{first:0.0} mm"))
                    .Across(first, second, y - (tube * 2.3), FormattableString.Invariant($"{end.BodyLengthMm:0.0} mm"));
            }
            else
            {
                picture.Words(end.BendTangentMm / 2, y - (tube * 0.3), "does not fit: do not cut", "middle");
            }
        }

        return picture;
    }

    private static IEnumerable<BenchField> End(int i, string name)
    {
        var group = i == 0 ? "Front end" : "Rear end (leave the joint root empty for a bar with one hinge)";
        string P(string field) => $"ends[{i}].{field}";
        return
        [
            new(P("name"), "Name of this end", BenchFieldKind.Text, name, Group: group),
            new(
                P("jointRootMm"),
                "Joint root",
                BenchFieldKind.Length,
                "40",
                "From the joint to where the notch ends.",
                IsOptional: i == 1,
                Group: group
            ),
            new(P("bendTangentMm"), "Bend begins at", BenchFieldKind.Length, "400", Group: group),
            new(P("insertLengthMm"), "Insert, each side", BenchFieldKind.Length, "50", Group: group),
            new(P("bodyLengthMm"), "Body of the hinge", BenchFieldKind.Length, "63.5", Group: group),
            new(P("clearanceMm"), "Clearance kept", BenchFieldKind.Length, "5", IsOptional: true, Group: group),
            new(
                P("prefer"),
                "Place the hinge",
                BenchFieldKind.Choice,
                "centre",
                Options:
                [
                    new("centre", "in the middle"),
                    new("nearJoint", "near the joint"),
                    new("nearBend", "near the bend"),
                ],
                Group: group
            ),
        ];
    }
}
