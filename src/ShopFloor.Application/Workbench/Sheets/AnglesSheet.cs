using ShopFloor.Domain.Common;
using ShopFloor.Domain.Fabrication;

namespace ShopFloor.Application.Workbench.Sheets;

/// <summary>Angles from two measurements, held against published figures, and pairs of readings that should agree.</summary>
public sealed class AnglesSheet : BenchSheet
{
    private const string Geometry = "right-angled triangle";

    private static readonly IReadOnlyList<(string, string)> Kinds =
    [
        ("strap", "strap"),
        ("brace", "brace"),
        ("lean", "lean"),
        ("level", "level"),
        ("hinges", "hinges"),
        ("bend", "bend"),
    ];

    private static readonly Dictionary<string, (string Book, string Figure)[]> Published = new(StringComparer.Ordinal)
    {
        ["strap"] =
        [
            ("shoulder-straps", "fia-below-horizontal"),
            ("shoulder-straps", "fia-advised"),
            ("shoulder-straps", "series-angle"),
        ],
        ["brace"] = [("motorsport-uk-ncr-2026", "backstay-angle")],
    };

    private static readonly BenchWhen ByTape = new("what", "strap", "brace", "lean", "level");
    private static readonly BenchWhen ByGauge = new("what", "hinges", "bend");
    private static readonly BenchWhen OfHinges = new("what", "hinges");

    public override string Code => "angles";

    public override string Title => "Lean, level and angles";

    public override string Purpose =>
        "The angle of a strap, a brace, a bar or a leaning hoop from two lengths of a tape, and whether both ends of a door bar agree.";

    public override IReadOnlyList<string> Steps { get; } =
    [
        "Choose what you measure.",
        "With a tape: measure level and upright between the two points; a spirit level and a plumb line make both true.",
        "With an angle gauge: set it to zero on the same level floor or stand first, then read both places the same way round.",
        "Read the answer. Where a published figure is known it is shown with its edition; the current rule book decides.",
    ];

    public override IReadOnlyList<string> Cautions { get; } = [Domain.Common.Cautions.Belts.Text];

    public override IReadOnlyList<(string, string)> Guide { get; } =
    [
        (
            "Strap",
            "Level distance from the top of the backrest to the mount, and how much lower the mount lies. Minus where it lies higher."
        ),
        ("Brace", "Level distance between both ends of the brace, and the height between them."),
        ("Lean", "How far the top stands off a plumb line, and the height over which that was read."),
        ("Level", "A long stretch of the bar, and how much lower its far end lies. Minus where it lies higher."),
        (
            "Both hinge axes",
            "Lay the gauge on each hinge's pin, once along the car and once across it. A door bar swings freely only about two axes that point the same way; what your hinge forgives is written by its maker, half a degree here is only a beginning."
        ),
        (
            "Before and past the bend",
            "A door bar that is bent once lies the same on both sides of its bend: read the straight leg before the bend and the leg past it. Where they differ, turn the bar until they do not."
        ),
        (
            "Which limits are shown",
            "Only printed figures that were seen, with their edition. Your own rule book decides."
        ),
    ];

    public override IReadOnlyList<BenchField> Fields { get; } =
    [
        new(
            "what",
            "What is measured",
            BenchFieldKind.Choice,
            "strap",
            Options:
            [
                new("strap", "Shoulder strap, backrest to mount"),
                new("brace", "Rear brace, hoop to foot"),
                new("lean", "Lean of a hoop or stand"),
                new("level", "Level of a harness bar"),
                new("hinges", "Both hinge axes of a door bar"),
                new("bend", "Door bar before and past its bend"),
            ]
        ),
        new("levelMm", "Level distance", BenchFieldKind.Length, "200", When: ByTape),
        new(
            "uprightMm",
            "Height between the points",
            BenchFieldKind.Length,
            "35",
            "For a strap or a bar: how much lower the far point lies; minus when it lies higher.",
            When: ByTape
        ),
        new(
            "firstDegrees",
            "First reading",
            BenchFieldKind.Angle,
            "25",
            "Front hinge along the car, or the leg before the bend. One way above zero, the other below.",
            When: ByGauge
        ),
        new(
            "secondDegrees",
            "Second reading",
            BenchFieldKind.Angle,
            "25.3",
            "Rear hinge along the car, or the leg past the bend.",
            When: ByGauge
        ),
        new("firstAcrossDegrees", "First hinge, across the car", BenchFieldKind.Angle, "0", When: OfHinges),
        new("secondAcrossDegrees", "Second hinge, across the car", BenchFieldKind.Angle, "0", When: OfHinges),
        new(
            "limitDegrees",
            "They may differ by",
            BenchFieldKind.Angle,
            "0.5",
            "Half a degree is a beginning without a source; your hinge's own figure rules.",
            When: ByGauge
        ),
    ];

    protected override Outcome<BenchAnswer> Answer(BenchReader read)
    {
        ArgumentNullException.ThrowIfNull(read);
        var what = read.Choice("what", Kinds);
        return what is "hinges" or "bend" ? OfReadings(read, what) : OfLengths(read, what);
    }

    private static Outcome<BenchAnswer> OfLengths(BenchReader read, string what)
    {
        var (level, upright) = (read.Length("levelMm"), read.Length("uprightMm"));
        var isSigned = what is "strap" or "level";
        read.Errors.AddIf(!(level is >= 0 and <= 1e7), "levelMm", "The level distance is 0 or more.");
        read.Errors.AddIf(!(Math.Abs(upright) <= 1e7), "uprightMm", "The height is too large.");
        read.Errors.AddIf(!isSigned && !(upright > 0), "uprightMm", "The height must be over 0.");
        read.Errors.AddIf(isSigned && level <= 0, "levelMm", "The level distance must be over 0.");
        if (!read.IsGood)
        {
            return read.Errors.ToFailure();
        }

        var inputs = read.Inputs("what", "levelMm", "uprightMm");
        var (angle, label, rule) = what switch
        {
            "strap" => (MeasuredAngles.Below(upright, level), "Below the horizontal", "atan(drop / run)"),
            "level" => (MeasuredAngles.Below(upright, level), "Out of level", "atan(drop / run)"),
            "brace" => (MeasuredAngles.FromVertical(level, upright), "From the vertical", "atan(run / height)"),
            _ => (MeasuredAngles.Lean(level, upright), "Out of the vertical", "atan(sideways / height)"),
        };
        var said = BenchLengths.Degrees(angle.Degrees);
        var slope = read.Say(Math.Sqrt((level * level) + (upright * upright)));
        return new BenchAnswer(
            [
                new(label, said, new Explanation(rule, inputs, Geometry, said, []), IsMain: true),
                new("Along the slope", slope, new Explanation("√(level² + height²)", inputs, Geometry, slope, [])),
                .. PublishedAngles.Held(Published.GetValueOrDefault(what) ?? [], angle.Degrees, inputs),
            ],
            [],
            OfSlope(level, upright, isSigned),
            [],
            [],
            "Angle"
        );
    }

    private static Outcome<BenchAnswer> OfReadings(BenchReader read, string what)
    {
        Angle Reading(string name)
        {
            var degrees = read.Number(name);
            var isReading = degrees is > -90 and < 90;
            read.Errors.AddIf(!isReading, name, "A reading lies between -90 and 90 degrees.");
            return Angle.FromDegrees(isReading ? degrees : 0);
        }

        var isHinges = what == "hinges";
        var (first, second) = (Reading("firstDegrees"), Reading("secondDegrees"));
        var (firstAcross, secondAcross) = isHinges
            ? (Reading("firstAcrossDegrees"), Reading("secondAcrossDegrees"))
            : default;
        var limit = read.Number("limitDegrees");
        read.Errors.AddIf(!(limit is > 0 and <= 10), "limitDegrees", "The difference allowed is over 0, at most 10.");
        if (!read.IsGood)
        {
            return read.Errors.ToFailure();
        }

        var apart = isHinges
            ? new AxisReadings(first, firstAcross).Between(new(second, secondAcross))
            : Angle.FromDegrees(Math.Abs(first.Degrees - second.Degrees));
        var isEven = isHinges ? apart.Degrees <= limit : MeasuredAngles.Agree(first, second, Angle.FromDegrees(limit));
        var inputs = read.Inputs([
            "what",
            "firstDegrees",
            "secondDegrees",
            .. isHinges ? ["firstAcrossDegrees", "secondAcrossDegrees"] : Array.Empty<string>(),
            "limitDegrees",
        ]);
        BenchResult Result(string label, string value, string rule, string source) =>
            new(label, value, new Explanation(rule, inputs, source, value, []), IsMain: true);
        const string practice = "common practice, no source; the hinge maker's own figure rules";
        var verdict = (isEven, isHinges) switch
        {
            (true, true) => "✓ parallel enough",
            (true, false) => "✓ the same",
            (false, true) => "✗ not parallel",
            _ => "✗ not the same",
        };
        return new BenchAnswer(
            [
                Result(
                    isHinges ? "Between both axes" : "Difference of both readings",
                    BenchLengths.Degrees(apart.Degrees),
                    isHinges
                        ? "angle between the directions (tan along, tan across, 1) of both axes"
                        : "greater less smaller",
                    isHinges ? "vector geometry" : "subtraction"
                ),
                Result(isHinges ? "Both axes" : "Both legs", verdict, "held against the difference allowed", practice),
            ],
            isEven ? [] : [Advice(isHinges, first, second)],
            OfPair(isHinges, first.Degrees, second.Degrees),
            [],
            [],
            "Door bar"
        );
    }

    private static string Advice(bool isHinges, Angle first, Angle second) =>
        isHinges
            ? "Do not weld: the bar would bind. With bolt and pin in, turn the second hinge until both read the same in both ways, tack, and read again."
            : FormattableString.Invariant(
                $"Turn the bar about its length until both legs read the same, about {(first.Degrees + second.Degrees) / 2:0.#}°, tack, and read again."
            );

    private static BenchPicture OfSlope(double level, double upright, bool isSigned)
    {
        var size = Math.Max(level, Math.Abs(upright));
        var pad = Math.Max(size * 0.2, 1e-3);
        var low = Math.Min(0, isSigned ? -upright : 0);
        var high = Math.Max(0, isSigned ? -upright : upright);
        var picture = new BenchPicture(
            "The two points and the slope between them, to scale.",
            -pad,
            low - pad,
            level + (pad * 2.4),
            high + pad
        );
        var end = isSigned ? new BenchPoint(level, -upright) : new BenchPoint(level, 0);
        var start = isSigned ? new BenchPoint(0, 0) : new BenchPoint(0, upright);
        picture
            .Line("guide", 0, start.Y, level, start.Y)
            .Line("guide", level, start.Y, level, end.Y)
            .Line("cut", [start, end]);
        return picture
            .Across(
                0,
                level,
                isSigned && upright > 0 ? pad * 0.35 : low - (pad * 0.6),
                FormattableString.Invariant($"{level:0.#} mm")
            )
            .Up(
                level + (pad * 0.35),
                Math.Min(start.Y, end.Y),
                Math.Max(start.Y, end.Y),
                FormattableString.Invariant($"{Math.Abs(upright):0.#} mm")
            );
    }

    /// <summary>Both readings side by side, each against its plumb line (hinges) or its level line (legs of a bar).</summary>
    private static BenchPicture OfPair(bool isHinges, double first, double second)
    {
        const double reach = 100;
        var picture = new BenchPicture(
            isHinges ? "Both hinge axes as read along the car." : "Both legs of the bar as read.",
            -reach * 1.3,
            -reach * 1.25,
            reach * 3.9,
            reach * 1.25
        );
        foreach (
            var (at, degrees, name) in ((double, double, string)[])
                [(0, first, "first"), (reach * 2.6, second, "second")]
        )
        {
            var radians = Angle.FromDegrees(degrees).Radians;
            var (x, y) = isHinges ? (Math.Sin(radians), Math.Cos(radians)) : (Math.Cos(radians), Math.Sin(radians));
            var (guideX, guideY) = isHinges ? (0.0, 1.0) : (1.0, 0.0);
            picture
                .Line("guide", at - (guideX * reach), -guideY * reach, at + (guideX * reach), guideY * reach)
                .Line("cut", at - (x * reach), -y * reach, at + (x * reach), y * reach)
                .Words(
                    at + (isHinges ? reach * 0.12 : 0),
                    isHinges ? -reach * 1.15 : -reach * 0.3,
                    FormattableString.Invariant($"{name} {degrees:0.##}°"),
                    "middle"
                );
        }

        return picture;
    }
}
