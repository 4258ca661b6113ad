using ShopFloor.Application.RuleSets;
using ShopFloor.Domain.RuleSets;

namespace ShopFloor.Web.Tests.Features.RuleSets;

/// <summary>
/// Every shipped figure with its source, written down a second time. Seen quoted or read: FIA Appendix J art. 253 (2009 §8.3.3; about 2010; published 2012-12-11 §6.2),
/// Motorsport UK NCR 2026 no. 11 ch. 7 app. 3 and app. 7, 29 CFR 1910.252, Formula SAE 2014 T5.4. House rules: common practice, no source.
/// </summary>
public sealed class ShippedFiguresTests
{
    private const string Hoop = "45 × 2.5 mm (1.75 × 0.095 in) or 50 × 2.0 mm (2.0 × 0.083 in)";
    private const string Other = "38 × 2.5 mm (1.5 × 0.095 in) or 40 × 2.0 mm (1.6 × 0.083 in)";

    // Code · clause · as printed · mark · least · greatest · unit; dashes where there is none.
    private static readonly Dictionary<string, string[]> Expected = new()
    {
        ["fia-appendix-j-253"] =
        [
            $"main-hoop-tube · §8.3.3 (2009) · {Hoop} · Quoted · - · - · -",
            $"other-tube · §8.3.3 (2009) · {Other} · Quoted · - · - · -",
            "tensile · §8.3.3 · ≥ 350 N/mm² · FromMemory · 350 · - · N/mm²",
            "foot-plate-thickness · art. 253, edition of about 2010 · ≥ 3 mm · Quoted · 3 · - · mm",
            "foot-plate-area · art. 253, edition of about 2010 · ≥ 120 cm² · Quoted · 120 · - · cm²",
            "foot-bolts · art. 253, edition of about 2010 · ≥ 3 · Quoted · 3 · - · bolts",
            "foot-bolt-grade · art. 253 · ≥ M8, grade 8.8 or better (ISO) · FromMemory · - · - · -",
            "strap-anchor · §6.2 · yes or no · Quoted · - · - · -",
        ],
        ["motorsport-uk-ncr-2026"] =
        [
            $"mandatory-tube · §20.1, p. 256 · {Hoop} · Quoted · - · - · -",
            $"optional-tube · §20.1, p. 256 · {Other} · Quoted · - · - · -",
            "older-cage-tube · §20.1 · 38 × 2.5 mm or 40 × 2.0 mm · Quoted · - · - · -",
            "seamless · §20.1a · yes or no · Quoted · - · - · -",
            "carbon · §20.1a · ≤ 0.3 % · Quoted · 0 · 0.3 · %",
            "manganese · §20.1a · ≤ 1.7 % · Quoted · 0 · 1.7 · %",
            "additives · §20.1a · ≤ 0.6 % · Quoted · 0 · 0.6 · %",
            "yield · §20.1b · ≥ 350 N/mm² · Quoted · 350 · - · N/mm²",
            "bend-radius · §20.3 · ≥ 3 · Quoted · 3 · - · × diameter",
            "bend-roundness · §20.3 · ≥ 0.9 · Quoted · 0.9 · - · ratio",
            "bend-smooth · §6.1 · yes or no · Quoted · - · - · -",
            "hoop-one-piece · §6.1 · yes or no · Quoted · - · - · -",
            "backstay-angle · §8.1 · ≥ 30° · Quoted · 30 · - · °",
            "backstay-plate-area · §8.2 · ≥ 60 cm² · Quoted · 60 · - · cm²",
            "backstay-bolts · §8.2 · ≥ 2/3 · Quoted · - · - · -",
            "diagonal-straight · §9 · yes or no · Quoted · - · - · -",
            "diagonal-lower · §9 · ≤ 100 mm · Quoted · 0 · 100 · mm",
            "diagonal-upper · §9 · ≤ 100 mm · Quoted · 0 · 100 · mm",
            "padding · §16.2 · within 150 mm · Quoted · - · - · -",
            "removable-bolt-grade · §17.1 · grade 8.8 · Quoted · - · - · -",
            "removable-joints · §17.2 · yes or no · Quoted · - · - · -",
            "harness-bar-tube · §19.1 · ≥ 38 × 2.5 mm or 40 × 2.0 mm · Quoted · - · - · -",
            "harness-bar-tensile · §19.1 · ≥ 350 N/mm² · Quoted · 350 · - · N/mm²",
            "harness-bar-straps · §19.1 · yes or no · Quoted · - · - · -",
            "seat-mount-bolt · appendix 7 §2, p. 271 · ≥ 8 mm · Quoted · - · - · -",
            "seat-mount-plate · appendix 7 §2, p. 271 · ≥ 3 mm · Quoted · 3 · - · mm",
            "seat-mount-plate-alloy · appendix 7 §2, p. 271 · ≥ 5 mm · Quoted · 5 · - · mm",
            "seat-cross-tube · appendix 7 §2, p. 271 · ≥ 35 × 2.5 mm · Quoted · - · - · -",
            "seat-mount-load · appendix 7 §2, p. 271 · 15 000 N · Quoted · 15000 · - · N",
        ],
        ["osha-1910-252"] =
        [
            "fire-watch · (a)(2)(iii)(B) · ≥ 1/2 hour · Quoted · 30 · - · min",
            "combustibles · (a)(2)(iii)(A) · 35 ft (10.7 m) · Read · - · - · -",
            "openings · (a)(2)(iii)(A) · 35 ft (10.7 m) · Read · - · - · -",
            "far-side · (a)(2)(iii)(A) · yes or no · Quoted · - · - · -",
            "watcher · (a)(2)(iii)(B) · yes or no · Read · - · - · -",
            "containers · (a)(3) · yes or no · FromMemory · - · - · -",
            "room-volume · (c)(2) · 10 000 ft³ (284 m³) · Quoted · 284 · - · m³",
            "ceiling · (c)(2) · 16 ft (5 m) · Quoted · 5 · - · m",
            "air-flow · (c)(2) · ≥ 2000 ft³/min (57 m³/min) · Quoted · 57 · - · m³/min",
            "hood-speed · (c)(3) · 100 ft/min (30 m/min) · Quoted · 30 · - · m/min",
        ],
        ["shoulder-straps"] =
        [
            "fia-below-horizontal · FIA §6.2 · ≤ 45° · Quoted · 0 · 45 · °",
            "fia-advised · FIA §6.2 · ≤ 10° · Quoted · 0 · 10 · °",
            "fia-spread · FIA §6.2 · ≤ 20° · Quoted · 0 · 20 · °",
            "series-angle · Formula SAE T5.4 · 10° above to 20° below · Quoted · -10 · 20 · °",
            "series-mounts · Formula SAE T5.4 · 178–229 mm · Quoted · 178 · 229 · mm",
        ],
        ["house-street"] =
        [
            "bare-metal · - · yes or no · CommonPractice · - · - · -",
            "tack-side · - · yes or no · CommonPractice · - · - · -",
            "floor-stitch · - · about 3/8 in (9.5 mm) · CommonPractice · - · - · -",
            "plates-first · - · yes or no · CommonPractice · - · - · -",
            "door-bar-gap · - · 3 to 25 mm · CommonPractice · 3 · 25 · mm",
            "hinge-pair · - · ≤ 2° · CommonPractice · -2 · 2 · °",
            "hoop-upright · - · ≤ 1° · CommonPractice · -1 · 1 · °",
            "harness-bar-level · - · ≤ 1° · CommonPractice · -1 · 1 · °",
            "head-bare · - · ≥ 80 mm · CommonPractice · 80 · - · mm",
            "head-helmet · - · ≥ 50 mm · CommonPractice · 50 · - · mm",
            "cure · - · 12 h · CommonPractice · 12 · - · h",
            "fire-watch · - · 60 min · CommonPractice · 60 · - · min",
        ],
    };

    private static readonly TubeSize[] HoopSizes =
    [
        new(45m, 2.5m, "mm"),
        new(1.75m, 0.095m, "in"),
        new(50m, 2.0m, "mm"),
        new(2.0m, 0.083m, "in"),
    ];

    private static readonly TubeSize[] OtherSizes =
    [
        new(38m, 2.5m, "mm"),
        new(1.5m, 0.095m, "in"),
        new(40m, 2.0m, "mm"),
        new(1.6m, 0.083m, "in"),
    ];

    private static readonly RuleSetLibrary Library = new();

    [Theory]
    [InlineData("fia-appendix-j-253", "FIA")]
    [InlineData("motorsport-uk-ncr-2026", "Motorsport UK")]
    [InlineData("osha-1910-252", "OSHA")]
    [InlineData("shoulder-straps", "FIA and a student formula series")]
    [InlineData("house-street", "The shop itself")]
    public void Every_figure_is_that_of_its_source_with_clause_and_mark(string code, string publisher)
    {
        var set = Library.Find(code)!;
        Assert.Equal(publisher, set.Document.Publisher);
        Assert.Equal(new DateOnly(2026, 11, 25), set.Document.DateRead);
        Assert.Equal(
            Expected[code],
            set.Figures.Select(f =>
                string.Create(
                    System.Globalization.CultureInfo.InvariantCulture,
                    $"{f.Code} · {Or(f.Clause)} · {f.Printed} · {f.Mark} · {Or(f.Lower)} · {Or(f.Upper)} · {Or(f.Unit)}"
                )
            )
        );
    }

    [Fact]
    public void Tube_sizes_stand_as_printed_and_the_inch_size_is_never_the_metric_one_beside_it()
    {
        Assert.Equal(HoopSizes, Library.Find("fia-appendix-j-253")!.Find("main-hoop-tube")!.Sizes);
        Assert.Equal(HoopSizes, Library.Find("motorsport-uk-ncr-2026")!.Find("mandatory-tube")!.Sizes);
        Assert.Equal(OtherSizes, Library.Find("fia-appendix-j-253")!.Find("other-tube")!.Sizes);
        Assert.Equal(OtherSizes, Library.Find("motorsport-uk-ncr-2026")!.Find("optional-tube")!.Sizes);
        // 1.75 × 0.095 in is 44.45 × 2.413 mm: under 45 × 2.5 in both figures.
        Assert.Equal((44.45m, 2.413m), (HoopSizes[1].Diameter * 25.4m, HoopSizes[1].Wall * 25.4m));
    }

    private static string Or(string? text) => string.IsNullOrEmpty(text) ? "-" : text;

    private static string Or(decimal? value) =>
        value?.ToString(System.Globalization.CultureInfo.InvariantCulture) ?? "-";
}
