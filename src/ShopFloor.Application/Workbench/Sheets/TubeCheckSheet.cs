using System.Globalization;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Fabrication;
using ShopFloor.Domain.RuleSets;
using PrintedSize = ShopFloor.Domain.RuleSets.TubeSize;

namespace ShopFloor.Application.Workbench.Sheets;

/// <summary>Holds a tube against the sizes, material and bends that a rule book prints.</summary>
public sealed class TubeCheckSheet : BenchSheet
{
    private const string Unsaid = "unsaid";

    private static readonly IReadOnlyList<(string Word, bool? Value)> Answers =
    [
        (Unsaid, null),
        ("yes", true),
        ("no", false),
    ];

    private static readonly BenchWhen WithCertificate = new("certificate", "yes");
    private static readonly BenchWhen Bent = new("shape", "bent");

    public override string Code => "tube-check";

    public override string Title => "Tube against a rule book";

    public override string Purpose =>
        "Whether a tube is one of the sizes that a rule book prints, and whether its material and bends are as printed.";

    public override IReadOnlyList<string> Steps { get; } =
    [
        "Choose the book and the member that the tube is for.",
        "Give the size as it was ordered, in the unit in which it is sold.",
        "Give what the certificate of this heat says, and what you measured.",
        "Read each point. What nobody said stays open; open is not met.",
    ];

    public override string? PresetsLabel => "Tube from the rack";

    public override IReadOnlyList<BenchPreset> Presets { get; } =
    [
        .. TubeSizes.Metric.Select(s => Preset(s.Name, s.OutsideDiameterMm, s.WallMm, "mm")),
        .. TubeSizes.Inch.Select(s =>
            Preset(s.Name, s.OutsideDiameterMm / Length.MillimetresPerInch, s.WallMm / Length.MillimetresPerInch, "in")
        ),
    ];

    public override IReadOnlyList<string> Cautions { get; } = [RuleSet.Advice];

    public override IReadOnlyList<(string, string)> Guide { get; } =
    [
        (
            "Metric and inch apart",
            "A book that prints 45 × 2.5 mm (1.75 × 0.095 in) prints two sizes. The inch one is 44.45 × 2.413 mm, less in both: it counts only for tube that is sold in inches."
        ),
        (
            "Ordered and measured",
            "The book's size is held against the size you ordered. What you measure is held against that order, with the tolerance of the tube's own standard; plus or minus 0.2 mm and 10 % of the wall are a beginning without a source."
        ),
        (
            "What stands beside",
            "Section modulus and mass compare tubes. They never prove that one size may stand for the one a book prints."
        ),
    ];

    public override IReadOnlyList<BenchField> Fields { get; } =
    [
        new("member", "Book and member", BenchFieldKind.Choice, Members[0].Word, Options: Members),
        new(
            "unit",
            "The tube is sold in",
            BenchFieldKind.Choice,
            "mm",
            Options: [new("mm", "Millimetres"), new("in", "Inches")]
        ),
        new(
            "diameter",
            "Outside diameter as ordered",
            BenchFieldKind.Number,
            "45",
            "In the unit it is sold in, such as 45 or 1 3/4."
        ),
        new("wall", "Wall as ordered", BenchFieldKind.Number, "2.5", "Such as 2.5 or 0.095."),
        new(
            "certificate",
            "Certificate of this heat at hand",
            BenchFieldKind.Choice,
            "no",
            Options: [new("no", "No"), new("yes", "Yes")]
        ),
        new(
            "make",
            "How the tube was made",
            BenchFieldKind.Choice,
            Unsaid,
            Options: [new(Unsaid, "Not said"), new("seamless", "Seamless"), new("welded", "Welded")]
        ),
        new(
            "composition",
            "Analysis within the printed composition",
            BenchFieldKind.Choice,
            Unsaid,
            Options: YesNo("Not compared"),
            When: WithCertificate
        ),
        new(
            "yieldNPerMm2",
            "Yield strength",
            BenchFieldKind.Number,
            "",
            IsOptional: true,
            Unit: "N/mm²",
            When: WithCertificate
        ),
        new(
            "tensileNPerMm2",
            "Tensile strength",
            BenchFieldKind.Number,
            "",
            IsOptional: true,
            Unit: "N/mm²",
            When: WithCertificate
        ),
        new("measuredDiameterMm", "Diameter as measured", BenchFieldKind.Length, "", "By caliper.", IsOptional: true),
        new(
            "measuredWallMm",
            "Wall as measured",
            BenchFieldKind.Length,
            "",
            "At a cut end or an inspection hole.",
            IsOptional: true
        ),
        new("diameterToleranceMm", "Diameter may be off by", BenchFieldKind.Length, "0.2"),
        new("wallTolerancePercent", "Wall may be thinner by", BenchFieldKind.Number, "10", Unit: "%"),
        new(
            "shape",
            "The tube is",
            BenchFieldKind.Choice,
            "straight",
            Options: [new("straight", "Straight"), new("bent", "Bent")]
        ),
        new(
            "centrelineRadiusMm",
            "Centreline radius of the bend",
            BenchFieldKind.Length,
            "",
            IsOptional: true,
            When: Bent
        ),
        new("minorMm", "Smallest diameter in the bend", BenchFieldKind.Length, "", IsOptional: true, When: Bent),
        new("majorMm", "Greatest diameter in the bend", BenchFieldKind.Length, "", IsOptional: true, When: Bent),
        new(
            "smooth",
            "No wrinkle, ripple, kink or crack",
            BenchFieldKind.Choice,
            Unsaid,
            Options: YesNo("Not looked at"),
            When: Bent
        ),
    ];

    private static IReadOnlyList<BenchOption> Members =>
        [
            .. PublishedBooks.All.All.SelectMany(b =>
                b.Figures.Where(f => f.Kind == FigureKind.SizeAlternatives)
                    .Select(f => new BenchOption($"{b.Code}/{f.Code}", $"{b.Title}, {b.Document.Edition}: {f.What}"))
            ),
        ];

    protected override Outcome<BenchAnswer> Answer(BenchReader read)
    {
        ArgumentNullException.ThrowIfNull(read);
        var member = read.Choice("member", [.. Members.Select(m => (m.Word, m.Word))]).Split('/');
        var unit = read.Choice("unit", [("mm", "mm"), ("in", "in")]);
        var size = new PrintedSize(Ordered(read, "diameter", unit), Ordered(read, "wall", unit), unit);
        var hasCertificate = read.Choice("certificate", [("no", false), ("yes", true)]);
        var tube = new OrderedTube(
            size,
            read.Choice<TubeMake?>(
                "make",
                [(Unsaid, null), ("seamless", TubeMake.Seamless), ("welded", TubeMake.Welded)]
            ),
            hasCertificate,
            hasCertificate ? read.Choice("composition", Answers) : null,
            hasCertificate ? Exact(read, "yieldNPerMm2", read.OptionalNumber("yieldNPerMm2")) : null,
            hasCertificate ? Exact(read, "tensileNPerMm2", read.OptionalNumber("tensileNPerMm2")) : null
        );
        var measured = new MeasuredTube(
            Exact(read, "measuredDiameterMm", read.OptionalLength("measuredDiameterMm")),
            Exact(read, "measuredWallMm", read.OptionalLength("measuredWallMm")),
            Exact(read, "diameterToleranceMm", read.Length("diameterToleranceMm")) ?? 0,
            Exact(read, "wallTolerancePercent", read.Number("wallTolerancePercent")) ?? 0
        );
        var bend = read.Choice("shape", [("straight", false), ("bent", true)])
            ? new MeasuredBend(
                Exact(read, "centrelineRadiusMm", read.OptionalLength("centrelineRadiusMm")),
                Exact(read, "minorMm", read.OptionalLength("minorMm")),
                Exact(read, "majorMm", read.OptionalLength("majorMm")),
                read.Choice("smooth", Answers)
            )
            : null;
        return read.IsGood
            ? TubeCheck
                .Check(PublishedBooks.All.Find(member[0])!, member[1], tube, measured, bend)
                .Then<BenchAnswer>(findings => Say(read, size, findings))
            : read.Errors.ToFailure();
    }

    private static BenchAnswer Say(BenchReader read, PrintedSize size, IReadOnlyList<TubeFinding> findings)
    {
        var inputs = read.Inputs(
            "member",
            "unit",
            "diameter",
            "wall",
            "make",
            "certificate",
            "measuredDiameterMm",
            "measuredWallMm"
        );
        var inMm = size.Unit == "in" ? 25.4m : 1;
        var section = new RoundTubeInput((double)(size.Diameter * inMm), (double)(size.Wall * inMm));
        var results = findings
            .Select(f =>
            {
                var said = $"{Word(f.Verdict)}. {f.Text}";
                return new BenchResult(
                    $"{f.What}: {f.Printed}",
                    said,
                    new Explanation(
                        "held against the figure as printed. " + RuleSet.Advice,
                        inputs,
                        f.Source,
                        said,
                        []
                    ),
                    IsMain: true
                );
            })
            .ToList();
        if (RoundTube.Calculate(section).TryGet(out var figures, out _))
        {
            BenchResult Beside(string label, FormattableString value)
            {
                var said = FormattableString.Invariant(value);
                return new(
                    label + ", for information",
                    said,
                    new Explanation(
                        "as at Round tube; it proves no equality with a printed size",
                        inputs,
                        "strength of materials, circular ring of even wall",
                        said,
                        []
                    )
                );
            }

            results.Add(Beside("Elastic section modulus", $"{figures.SectionModulusMm3:0.0} mm³"));
            results.Add(Beside("Mass per metre", $"{figures.MassKgPerM:0.000} kg/m"));
        }

        return new BenchAnswer(
            results,
            [.. findings.Where(f => f.Verdict == TubeVerdict.NotMet).Select(f => $"{f.What}: {f.Text}")],
            RoundTubeSheet.Picture(section),
            [],
            [],
            "Tube"
        );
    }

    private static string Word(TubeVerdict verdict) =>
        verdict switch
        {
            TubeVerdict.Met => "✓ met",
            TubeVerdict.NotMet => "✗ not met",
            _ => "○ open",
        };

    /// <summary>A size as printed on the order: decimal or fraction, in its own unit and never converted.</summary>
    private static decimal Ordered(BenchReader read, string name, string unit)
    {
        var isRead = LengthText.TryReadMm(
            read.Text(name),
            unit == "in" ? LengthUnit.Inch : LengthUnit.Millimetre,
            out var millimetres
        );
        read.Errors.AddIf(!isRead, name, "This is not a size. Write it like 45, 2.5, 0.095 or 1 3/4.");
        return (isRead ? Exact(read, name, unit == "in" ? millimetres / Length.MillimetresPerInch : millimetres) : null)
            ?? 1;
    }

    /// <summary>Ten-thousandths are far below what any tool in the shop resolves.</summary>
    private static decimal? Exact(BenchReader read, string name, double? value)
    {
        var fits = value is null || Math.Abs(value.Value) <= 1e6;
        read.Errors.AddIf(!fits, name, "This figure is too large.");
        return value is null || !fits ? null : decimal.Round((decimal)value.Value, 4);
    }

    private static BenchPreset Preset(string name, double diameter, double wall, string unit) =>
        new(
            name,
            new Dictionary<string, string>(StringComparer.Ordinal)
            {
                ["diameter"] = Math.Round(diameter, 4).ToString(CultureInfo.InvariantCulture),
                ["wall"] = Math.Round(wall, 4).ToString(CultureInfo.InvariantCulture),
                ["unit"] = unit,
            }
        );

    private static BenchOption[] YesNo(string unsaid) => [new(Unsaid, unsaid), new("yes", "Yes"), new("no", "No")];
}
