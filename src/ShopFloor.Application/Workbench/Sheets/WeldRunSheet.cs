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

    private static readonly BenchWhen Rectangle = new("shape", "rectangle");

    public override string Code => "heat-input";

    public override string Title => "Heat and short welds";

    public override string Purpose =>
        "Weld a plate or a tube to thin metal without warping or burning it: how many runs, in which order, how long, with what.";

    public override IReadOnlyList<string> Steps { get; } =
    [
        "Measure the plate: length and width, or its corners one after the other. The seam goes round it. For a tube on a tube give the length of the joint.",
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

    public override IReadOnlyList<(string, string)> Guide { get; } =
    [
        (
            "Run and pause",
            "A run is one short weld. The pause is over when a hand can stay on the sheet: until then the next run only adds heat."
        ),
        (
            "The order",
            "Each run is as far as possible from the ones just laid, measured across the plate. Weld the numbers in their order."
        ),
        (
            "Corners",
            "Begin at the lower left corner and go round the plate. An L has six corners. Sides may not cross."
        ),
        (
            "Heat input",
            "Voltage × current ÷ speed, less what the process loses. Take speed from a trial: length of a run ÷ its seconds."
        ),
    ];

    public override IReadOnlyList<BenchField> Fields { get; } =
    [
        new(
            "shape",
            "What is welded",
            BenchFieldKind.Choice,
            "rectangle",
            Options:
            [
                new("rectangle", "Rectangle"),
                new("corners", "Other outline, by its corners"),
                new("round", "Round a tube, by the length of the joint"),
            ]
        ),
        new(
            "jointMm",
            "Length of the joint",
            BenchFieldKind.Length,
            "169.8",
            "As the notch pages say it: joint to weld.",
            When: new("shape", "round")
        ),
        new("lengthMm", "Plate: length", BenchFieldKind.Length, "120", When: Rectangle),
        new("widthMm", "Plate: width", BenchFieldKind.Length, "100", When: Rectangle),
        new(
            "corners",
            "Corners: across; up",
            BenchFieldKind.Lines,
            "0; 0\n150; 0\n150; 60\n70; 60\n70; 140\n0; 140",
            "One corner a line, in order round the plate, semicolons between.",
            LengthParts: 2,
            When: new("shape", "corners")
        ),
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
        new(
            "wireMm",
            "Wire or rod: diameter",
            BenchFieldKind.Length,
            "",
            "For the length of wire, with the leg; may stay empty.",
            IsOptional: true
        ),
        new(
            "gasLPerMin",
            "Gas flow",
            BenchFieldKind.Number,
            "",
            "For the gas; may stay empty.",
            IsOptional: true,
            Unit: "l/min"
        ),
        new("plate", "Name of the plate", BenchFieldKind.Text, "Floor plate"),
    ];

    public override IReadOnlyList<BenchPaperName> Papers { get; } = [new("card.pdf", "Skip-weld card")];

    protected override Outcome<BenchAnswer> Answer(BenchReader read)
    {
        ArgumentNullException.ThrowIfNull(read);
        var outline = Outline(read);
        var input = new WeldRunInput(
            outline?.SeamMm ?? 1,
            read.Length("runMm"),
            read.Number("pauseSeconds"),
            true,
            new HeatInputInput(
                read.Choice("process", Processes),
                read.Number("voltageV"),
                read.Number("currentA"),
                read.Number("travelSpeedMmPerS")
            ),
            read.OptionalLength("legMm"),
            outline,
            read.OptionalLength("wireMm"),
            read.OptionalNumber("gasLPerMin")
        );
        var name = read.Name("plate");
        if (outline is null || !read.IsGood)
        {
            return read.Errors.ToFailure();
        }

        if (input.SeamMm > 1e7)
        {
            return Failure.Field(Places(read)[0], "The seam is too long for a plan.");
        }

        return WeldRunPlan
            .Calculate(input)
            .Then(plan =>
                HeatInput.Calculate(input.Settings).Then<BenchAnswer>(heat => Said(read, outline, plan, heat, name))
            );
    }

    private BenchAnswer Said(
        BenchReader read,
        PlateOutline outline,
        WeldRunPlanFigures plan,
        HeatInputFigures heat,
        string name
    )
    {
        var arc = read.Inputs("process", "voltageV", "currentA", "travelSpeedMmPerS");
        var runs = read.Inputs([.. Places(read), "runMm", "pauseSeconds", "travelSpeedMmPerS"]);
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
            Result(
                "Seam, once round",
                $"{read.Say(outline.SeamMm)}",
                "sum of its sides; of a round joint its length",
                runs,
                "geometry"
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
        results.AddRange(Consumables(read, plan));

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
                            [.. outline.Corners.Select(c => new PlateCorner(c.X, c.Y))],
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
            Picture(plan, outline),
            [
                new(
                    "The order, along the seam from the first corner",
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

    private static BenchResult Result(
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

    /// <summary>What the seam uses up, as far as it was asked.</summary>
    private static IEnumerable<BenchResult> Consumables(BenchReader read, WeldRunPlanFigures plan)
    {
        if (plan.FillerG is { } filler)
        {
            yield return Result(
                "Filler, estimate",
                $"{filler:0.0} g",
                "leg² / 2 × seam × 7850 kg/m³; spatter and stubs not counted",
                read.Inputs("legMm"),
                "geometry of a flat fillet: an estimate"
            );
        }

        if (plan.WireM is { } wire)
        {
            yield return Result(
                "Wire, estimate",
                $"{wire:0.00} m",
                "leg² / 2 × seam ÷ section of the wire",
                read.Inputs("legMm", "wireMm"),
                "geometry of a flat fillet: an estimate"
            );
        }

        if (plan.GasL is { } gas)
        {
            yield return Result(
                "Gas, estimate",
                $"{gas:0.0} l",
                "flow × arc time; what flows before and after each run is not counted",
                read.Inputs("gasLPerMin", "travelSpeedMmPerS"),
                "counted along the seam: an estimate"
            );
        }
    }

    /// <summary>The fields that say where the seam lies.</summary>
    private static string[] Places(BenchReader read) =>
        read.Text("shape") switch
        {
            "corners" => ["corners"],
            "round" => ["jointMm"],
            _ => ["lengthMm", "widthMm"],
        };

    /// <summary>The plate; null where its corners or sides cannot be read, which the reader then says.</summary>
    private static PlateOutline? Outline(BenchReader read)
    {
        var shape = read.Choice("shape", [("rectangle", "rectangle"), ("corners", "corners"), ("round", "round")]);
        if (shape == "round")
        {
            var joint = read.Length("jointMm");
            return read.IsGood ? Taken(PlateOutline.Round(joint)) : null;
        }

        if (shape == "rectangle")
        {
            var (length, width) = (read.Length("lengthMm"), read.Length("widthMm"));
            return read.IsGood ? Taken(PlateOutline.Rectangle(length, width)) : null;
        }

        var corners = read.ReadCorners("corners", PlateOutline.MostCorners);
        return read.IsGood ? Taken(PlateOutline.Of(corners)) : null;

        PlateOutline? Taken(Outcome<PlateOutline> outcome)
        {
            if (outcome.TryGet(out var outline, out var failure))
            {
                return outline;
            }

            foreach (var error in ((Failure.Invalid)BenchPoints.Placed(failure, "corners", "corners", "Corner")).Errors)
            {
                read.Errors.Add(error.Path, error.Text);
            }

            return null;
        }
    }

    private static BenchPicture Picture(WeldRunPlanFigures plan, PlateOutline outline)
    {
        var corners = outline.Corners.Select(c => new BenchPoint(c.X, c.Y)).ToList();
        var (left, right) = (corners.Min(c => c.X), corners.Max(c => c.X));
        var (low, high) = (corners.Min(c => c.Y), corners.Max(c => c.Y));
        var pad = Math.Max(right - left, high - low) * 0.12;
        var picture = new BenchPicture(
            "The plate with its runs, numbered in the order of welding.",
            left - pad,
            low - (pad * 1.9),
            right + (pad * 4),
            high + pad
        );
        picture
            .Line("fill", corners, isClosed: true)
            .Line("edge", corners, isClosed: true)
            .Across(left, right, low - (pad * 1.5), FormattableString.Invariant($"{right - left:0.0} mm"))
            .Up(right + (pad * 1.2), low, high, FormattableString.Invariant($"{high - low:0.0} mm"));
        foreach (var run in plan.Runs.Take(400))
        {
            var (middle, from) = (outline.At((run.FromMm + run.ToMm) / 2), outline.At(run.FromMm));
            var tick = pad * 0.12;
            // A little short of the next run, so that each is seen as one weld.
            var gap = (run.ToMm - run.FromMm) * 0.12;
            picture
                .Line(
                    "run",
                    [
                        Edge(outline.At(run.FromMm + gap)),
                        .. outline
                            .CornersBetween(run.FromMm + gap, run.ToMm - gap)
                            .Select(c => new BenchPoint(c.X, c.Y)),
                        Edge(outline.At(run.ToMm - gap)),
                    ]
                )
                .Line(
                    "dim",
                    from.X - (from.OutX * tick),
                    from.Y - (from.OutY * tick),
                    from.X + (from.OutX * tick),
                    from.Y + (from.OutY * tick)
                );
            if (plan.Runs.Count <= 80)
            {
                picture.Words(
                    middle.X + (middle.OutX * pad * 0.45),
                    middle.Y + (middle.OutY * pad * 0.45) - (pad * 0.08),
                    run.Order.ToString(System.Globalization.CultureInfo.InvariantCulture),
                    "middle"
                );
            }
        }

        return picture;

        static BenchPoint Edge(PlaceOnEdge at) => new(at.X, at.Y);
    }
}
