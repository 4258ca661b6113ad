using ShopFloor.Domain.Common;
using ShopFloor.Domain.Fabrication;

namespace ShopFloor.Application.Workbench.Sheets;

/// <summary>Angles from two measurements, held against published figures.</summary>
public sealed class AnglesSheet : BenchSheet
{
    private const string Geometry = "right-angled triangle";

    private static readonly IReadOnlyList<(string, string)> Kinds =
    [
        ("strap", "strap"),
        ("brace", "brace"),
        ("lean", "lean"),
    ];

    public override string Code => "angles";

    public override string Title => "Lean, level and angles";

    public override string Purpose => "The angle of a strap, a brace or a leaning hoop from two lengths of a tape.";

    public override IReadOnlyList<string> Steps { get; } =
    [
        "Choose what you measure.",
        "Measure level and upright between the two points: a spirit level and a plumb line make both true.",
        "Read the angle. Where a published figure is known it is shown with its edition; the current rule book decides.",
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
            ]
        ),
        new("levelMm", "Level distance", BenchFieldKind.Length, "200"),
        new(
            "uprightMm",
            "Height between the points",
            BenchFieldKind.Length,
            "35",
            "For a strap: how much lower the mount lies; minus when it lies higher."
        ),
    ];

    protected override Outcome<BenchAnswer> Answer(BenchReader read)
    {
        ArgumentNullException.ThrowIfNull(read);
        var what = read.Choice("what", Kinds);
        var (level, upright) = (read.Length("levelMm"), read.Length("uprightMm"));
        read.Errors.AddIf(!(level is >= 0 and <= 1e7), "levelMm", "The level distance is 0 or more.");
        read.Errors.AddIf(!(Math.Abs(upright) <= 1e7), "uprightMm", "The height is too large.");
        read.Errors.AddIf(what != "strap" && !(upright > 0), "uprightMm", "The height must be over 0.");
        read.Errors.AddIf(what == "strap" && level <= 0, "levelMm", "The level distance must be over 0.");
        if (!read.IsGood)
        {
            return read.Errors.ToFailure();
        }

        var inputs = read.Inputs("what", "levelMm", "uprightMm");
        var (angle, label, rule) = what switch
        {
            "strap" => (MeasuredAngles.Below(upright, level), "Below the horizontal", "atan(drop / run)"),
            "brace" => (MeasuredAngles.FromVertical(level, upright), "From the vertical", "atan(run / height)"),
            _ => (MeasuredAngles.Lean(level, upright), "Out of the vertical", "atan(sideways / height)"),
        };
        var said = BenchLengths.Degrees(angle.Degrees);
        var results = new List<BenchResult>
        {
            new(label, said, new Explanation(rule, inputs, Geometry, said, []), IsMain: true),
            new(
                "Along the slope",
                read.Say(Math.Sqrt((level * level) + (upright * upright))),
                new Explanation(
                    "√(level² + height²)",
                    inputs,
                    Geometry,
                    read.Say(Math.Sqrt((level * level) + (upright * upright))),
                    []
                )
            ),
        };
        results.AddRange(Held(what, angle.Degrees, inputs));
        return new BenchAnswer(results, [], Picture(level, upright, what), [], [], "Angle");
    }

    /// <summary>Published figures that the angle is held against.</summary>
    private static IEnumerable<BenchResult> Held(string what, double degrees, IReadOnlyList<ExplanationInput> inputs)
    {
        if (what == "strap")
        {
            yield return Limit(
                "At most 45° below the horizontal",
                degrees is >= 0 and <= 45,
                "FIA Appendix J art. 253, 6.2 (published 2012-12-11, seen in an excerpt): rearward and down, at most 45°",
                inputs
            );
            yield return Limit(
                "Advised: at most 10°",
                degrees is >= 0 and <= 10,
                "FIA Appendix J art. 253, 6.2 (same text): about 10° is advised",
                inputs
            );
        }
        else if (what == "brace")
        {
            yield return Limit(
                "At least 30° from the vertical",
                degrees >= 30,
                "Motorsport UK, NCR 2026, ch. 7 app. 3, 8.1 (seen in an excerpt)",
                inputs
            );
        }
    }

    private static BenchResult Limit(string label, bool isMet, string source, IReadOnlyList<ExplanationInput> inputs)
    {
        var said = isMet ? "✓ met" : "✗ not met";
        return new(
            label,
            said,
            new Explanation(
                "the angle held against the printed figure; the current rule book decides",
                inputs,
                source,
                said,
                []
            )
        );
    }

    private static BenchPicture Picture(double level, double upright, string what)
    {
        var size = Math.Max(level, Math.Abs(upright));
        var pad = Math.Max(size * 0.2, 1e-3);
        var low = Math.Min(0, what == "strap" ? -upright : 0);
        var high = Math.Max(0, what == "strap" ? -upright : upright);
        var picture = new BenchPicture(
            "The two points and the slope between them, to scale.",
            -pad,
            low - pad,
            level + (pad * 2.4),
            high + pad
        );
        var end = what == "strap" ? new BenchPoint(level, -upright) : new BenchPoint(level, 0);
        var start = what == "strap" ? new BenchPoint(0, 0) : new BenchPoint(0, upright);
        picture
            .Line("guide", 0, start.Y, level, start.Y)
            .Line("guide", level, start.Y, level, end.Y)
            .Line("cut", [start, end]);
        return picture
            .Across(
                0,
                level,
                what == "strap" && upright > 0 ? pad * 0.35 : low - (pad * 0.6),
                FormattableString.Invariant($"{level:0.#} mm")
            )
            .Up(
                level + (pad * 0.35),
                Math.Min(start.Y, end.Y),
                Math.Max(start.Y, end.Y),
                FormattableString.Invariant($"{Math.Abs(upright):0.#} mm")
            );
    }
}
