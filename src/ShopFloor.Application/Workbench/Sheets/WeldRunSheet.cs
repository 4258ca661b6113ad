using ShopFloor.Documents.Papers.Models;
using ShopFloor.Documents.Workbench;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Fabrication;

namespace ShopFloor.Application.Workbench.Sheets;

/// <summary>A floor plate's seam in short runs, with the heat that goes in.</summary>
public sealed class WeldRunSheet : BenchSheet
{
    private static readonly IReadOnlyList<(string, WeldProcess)> Processes =
    [
        ("gmaw", WeldProcess.Gmaw),
        ("gtaw", WeldProcess.Gtaw),
        ("smaw", WeldProcess.Smaw),
        ("fcaw", WeldProcess.Fcaw),
        ("saw", WeldProcess.Saw),
    ];

    public override string Code => "heat-input";

    public override string Title => "Heat and short welds";

    public override string Purpose =>
        "Weld a plate to thin metal without warping or burning it: how many runs, in which order, how long.";

    public override IReadOnlyList<string> Steps { get; } =
    [
        "Measure the plate. The seam goes round it.",
        "Give the length of one run (about 9.5 mm on a floor is common practice) and the pause until the metal is touch-warm.",
        "Take voltage, current and travel speed from a trial on scrap of the same thickness.",
        "Weld the numbers in their order: each is far from the ones just laid.",
    ];

    public override IReadOnlyList<string> Cautions { get; } =
    [
        Domain.Common.Cautions.HotWork.Text,
        Domain.Common.Cautions.Fuel.Text,
        Domain.Common.Cautions.Fumes.Text,
        Domain.Common.Cautions.Electrical.Text,
        "4130 cools slowly by itself: never blow air on it.",
    ];

    public override IReadOnlyList<BenchField> Fields { get; } =
    [
        new("lengthMm", "Plate: length", BenchFieldKind.Length, "120"),
        new("widthMm", "Plate: width", BenchFieldKind.Length, "100"),
        new("runMm", "Length of one run, at most", BenchFieldKind.Length, "9.525"),
        new("pauseSeconds", "Pause after each run", BenchFieldKind.Number, "20", Unit: "s"),
        new(
            "process",
            "Process",
            BenchFieldKind.Choice,
            "gmaw",
            Options:
            [
                new("gmaw", "MIG/MAG, solid wire"),
                new("gtaw", "TIG"),
                new("smaw", "Stick"),
                new("fcaw", "Flux-cored wire"),
                new("saw", "Submerged arc"),
            ]
        ),
        new("voltageV", "Voltage", BenchFieldKind.Number, "17", Unit: "V"),
        new("currentA", "Current", BenchFieldKind.Number, "90", Unit: "A"),
        new("travelSpeedMmPerS", "Travel speed", BenchFieldKind.Number, "6", Unit: "mm/s"),
        new(
            "legMm",
            "Leg of the fillet",
            BenchFieldKind.Length,
            "",
            "For the filler; leave it empty if you do not need that.",
            IsOptional: true
        ),
        new("plate", "Name of the plate", BenchFieldKind.Text, "Floor plate"),
    ];

    public override IReadOnlyList<BenchPaperName> Papers { get; } = [new("card.pdf", "Skip-weld card")];

    protected override Outcome<BenchAnswer> Answer(BenchReader read)
    {
        ArgumentNullException.ThrowIfNull(read);
        var (length, width) = (read.Length("lengthMm"), read.Length("widthMm"));
        read.Errors.AddIf(!(length > 0), "lengthMm", "The plate's length must be over 0.");
        read.Errors.AddIf(!(width > 0), "widthMm", "The plate's width must be over 0.");
        var input = new WeldRunInput(
            2 * (length + width),
            read.Length("runMm"),
            read.Number("pauseSeconds"),
            true,
            new HeatInputInput(
                read.Choice("process", Processes),
                read.Number("voltageV"),
                read.Number("currentA"),
                read.Number("travelSpeedMmPerS")
            ),
            read.OptionalLength("legMm")
        );
        var name = read.Name("plate");
        if (!read.IsGood)
        {
            return read.Errors.ToFailure();
        }

        if (input.SeamMm > 1e7)
        {
            return Failure.Field("lengthMm", "The seam is too long for a plan.");
        }

        return WeldRunPlan
            .Calculate(input)
            .Then(plan =>
                HeatInput
                    .Calculate(input.Settings)
                    .Then<BenchAnswer>(heat => Said(read, input, plan, heat, length, width, name))
            );
    }

    private BenchAnswer Said(
        BenchReader read,
        WeldRunInput input,
        WeldRunPlanFigures plan,
        HeatInputFigures heat,
        double length,
        double width,
        string name
    )
    {
        var arc = read.Inputs("process", "voltageV", "currentA", "travelSpeedMmPerS");
        var runs = read.Inputs("lengthMm", "widthMm", "runMm", "pauseSeconds", "travelSpeedMmPerS");
        BenchResult Result(
            string label,
            FormattableString value,
            string rule,
            IReadOnlyList<ExplanationInput> inputs,
            string source,
            bool isMain = false
        )
        {
            var said = FormattableString.Invariant(value);
            return new(label, said, new Explanation(rule, inputs, source, said, []), isMain);
        }

        const string counted = "counted along the seam";
        List<BenchResult> results =
        [
            Result(
                "Runs",
                $"{plan.Runs.Count} of {plan.RunMm:0.00} mm",
                "seam ÷ longest run, rounded up; all runs equal",
                runs,
                "short runs on thin metal: common practice, no source",
                isMain: true
            ),
            Result(
                "Time with pauses",
                $"{plan.TotalSeconds / 60:0.0} min",
                "arc time + pauses between the runs",
                runs,
                counted,
                isMain: true
            ),
            Result(
                "Heat input",
                $"{heat.HeatInputKjPerMm:0.0000} kJ/mm · {heat.HeatInputKjPerMm * 25.4:0.00} kJ/in",
                "k × U × I / v / 1000, k = "
                    + heat.ThermalEfficiency.ToString("0.0", System.Globalization.CultureInfo.InvariantCulture),
                arc,
                heat.Source,
                isMain: true
            ),
            Result("Arc time", $"{plan.ArcSeconds:0.0} s", "seam ÷ travel speed", runs, counted),
            Result("Heat of one run", $"{plan.HeatPerRunKj:0.000} kJ", "heat input × run", arc, heat.Source),
            Result(
                "Heat in all",
                $"{plan.HeatInAllKj:0.00} kJ, on average {plan.AverageKw * 1000:0} W",
                "heat input × seam; over the whole time",
                arc,
                heat.Source
            ),
        ];
        if (plan.FillerG is { } filler)
        {
            results.Add(
                Result(
                    "Filler, estimate",
                    $"{filler:0} g",
                    "leg² / 2 × seam × 7850 kg/m³; spatter and stubs not counted",
                    read.Inputs("legMm"),
                    "geometry of a flat fillet: an estimate"
                )
            );
        }

        IReadOnlyList<BenchPaper> papers =
        [
            new(
                "card.pdf",
                "Skip-weld card",
                "application/pdf",
                (makes, head, settings) =>
                    makes.SkipWelds(
                        new SkipWeldCard(
                            head,
                            [new(0, 0), new(length, 0), new(length, width), new(0, width)],
                            [.. plan.Runs.Select(r => new SkipWeldRun(r.FromMm, r.ToMm))],
                            [.. results.Select(r => new PaperFact(r.Label, r.Value))],
                            Cautions
                        ),
                        settings
                    )
            ),
        ];
        return new BenchAnswer(
            results,
            [],
            Picture(plan, length, width),
            [
                new(
                    "The order, along the seam from the lower left corner",
                    ["Run", "From", "To"],
                    [
                        .. plan
                            .Runs.Take(200)
                            .Select(r =>
                                (IReadOnlyList<string>)
                                    [
                                        r.Order.ToString(System.Globalization.CultureInfo.InvariantCulture),
                                        read.Brief(r.FromMm),
                                        read.Brief(r.ToMm),
                                    ]
                            ),
                    ]
                ),
            ],
            papers,
            name
        );
    }

    private static BenchPicture Picture(WeldRunPlanFigures plan, double length, double width)
    {
        var pad = Math.Max(length, width) * 0.12;
        var picture = new BenchPicture(
            "The plate with its runs, numbered in the order of welding.",
            -pad,
            -pad,
            length + pad,
            width + pad
        );
        picture.Box("fill", 0, 0, length, width).Box("edge", 0, 0, length, width);
        foreach (var run in plan.Runs.Take(400))
        {
            var (x, y, outX, outY) = Along((run.FromMm + run.ToMm) / 2, length, width);
            var (fromX, fromY, _, _) = Along(run.FromMm, length, width);
            var tick = pad * 0.12;
            picture.Line(
                "cut",
                fromX - (outX * tick),
                fromY - (outY * tick),
                fromX + (outX * tick),
                fromY + (outY * tick)
            );
            if (plan.Runs.Count <= 80)
            {
                picture.Words(
                    x + (outX * pad * 0.45),
                    y + (outY * pad * 0.45) - (pad * 0.08),
                    run.Order.ToString(System.Globalization.CultureInfo.InvariantCulture),
                    "middle"
                );
            }
        }

        return picture;
    }

    private static (double X, double Y, double OutX, double OutY) Along(double at, double length, double width)
    {
        if (at < length)
        {
            return (at, 0, 0, -1);
        }

        if (at < length + width)
        {
            return (length, at - length, 1, 0);
        }

        return at < (2 * length) + width
            ? ((2 * length) + width - at, width, 0, 1)
            : (0, Math.Max(0, (2 * (length + width)) - at), -1, 0);
    }
}
