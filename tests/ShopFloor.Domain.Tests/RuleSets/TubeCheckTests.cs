using ShopFloor.Domain.Common;
using ShopFloor.Domain.RuleSets;

namespace ShopFloor.Domain.Tests.RuleSets;

/// <summary>Tube held against printed sizes. Figures: FIA Appendix J art. 253 (2009) §8.3.3 and Motorsport UK NCR 2026 chapter 7 appendix 3 §20, both seen quoted.</summary>
public sealed class TubeCheckTests
{
    private static readonly RuleSet Book = RuleSet
        .From(
            new RuleSetDocument(
                1,
                "book",
                1,
                "Publisher",
                "Book",
                "2026",
                new DateOnly(2026, 3, 1),
                "Check it.",
                [
                    new(
                        "main-hoop-tube",
                        "§8.3.3",
                        "Main roll bar: tube",
                        "45 × 2.5 mm (1.75 × 0.095 in) or 50 × 2.0 mm (2.0 × 0.083 in)",
                        FigureKind.SizeAlternatives,
                        FigureMark.Quoted,
                        Sizes: [new(45, 2.5m, "mm"), new(1.75m, 0.095m, "in"), new(50, 2, "mm"), new(2, 0.083m, "in")]
                    ),
                    new(
                        "harness-bar-tube",
                        "§19.1",
                        "Harness bar: tube",
                        "38 × 2.5 mm or 40 × 2.0 mm",
                        FigureKind.SizeAlternatives,
                        FigureMark.Quoted,
                        Sizes: [new(38, 2.5m, "mm"), new(40, 2, "mm")]
                    ),
                    new(
                        "material",
                        "§20.1a",
                        "Cold drawn seamless carbon steel",
                        "C ≤ 0.3 %",
                        FigureKind.Composition,
                        FigureMark.Quoted,
                        NeedsSeamless: true
                    ),
                    new(
                        "yield",
                        "§20.1b",
                        "Yield",
                        "≥ 350 N/mm²",
                        FigureKind.Strength,
                        FigureMark.Quoted,
                        "N/mm²",
                        350
                    ),
                    new(
                        "harness-bar-tensile",
                        "§19.1",
                        "Harness bar: tensile",
                        "≥ 350 N/mm²",
                        FigureKind.Strength,
                        FigureMark.Quoted,
                        "N/mm²",
                        350
                    ),
                    new("bend-radius", "§20.3", "Radius", "≥ 3", FigureKind.Ratio, FigureMark.Quoted, "× diameter", 3),
                    new(
                        "bend-roundness",
                        "§20.3",
                        "Roundness",
                        "≥ 0.9",
                        FigureKind.Ratio,
                        FigureMark.Quoted,
                        "ratio",
                        0.9m
                    ),
                ]
            )
        )
        .Value;

    [Theory]
    [InlineData("45", "2.5", "mm", true)]
    [InlineData("50", "2.0", "mm", true)]
    [InlineData("50", "2.5", "mm", true)]
    [InlineData("1.75", "0.095", "in", true)]
    [InlineData("2", "0.083", "in", true)]
    // 1.75 × 0.095 in is 44.45 × 2.413 mm: ordered in millimetres it is less than 45 × 2.5 in both.
    [InlineData("44.45", "2.413", "mm", false)]
    // Stiffer than 45 × 2.5 by its section modulus, and still neither of the two printed sizes.
    [InlineData("48", "2.4", "mm", false)]
    [InlineData("44.9", "5", "mm", false)]
    [InlineData("100", "1.9", "mm", false)]
    // 45 × 2.5 mm is 1.7717 × 0.0984 in: larger than the inch alternative, but not sold in inches.
    [InlineData("1.7716", "0.0949", "in", false)]
    public void Size_is_met_only_by_an_alternative_of_its_own_unit_that_it_fills(
        string diameter,
        string wall,
        string unit,
        bool met
    )
    {
        var size = Size(diameter, wall, unit);

        Assert.Equal(met ? TubeVerdict.Met : TubeVerdict.NotMet, Of("main-hoop-tube", new(size)).Verdict);
    }

    [Fact]
    public void Book_without_a_size_in_the_tubes_unit_is_not_met()
    {
        var found = Of("harness-bar-tube", new(Size("1.75", "0.120", "in")));

        Assert.Equal(TubeVerdict.NotMet, found.Verdict);
        Assert.Contains("prints no size in inches", found.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Filling_an_alternative_never_ends_by_more_wall_or_diameter_of_the_same_unit()
    {
        var random = new Random(11);
        IReadOnlyList<TubeSize> sizes = Book.Find("main-hoop-tube")!.Sizes!;
        for (var i = 0; i < 5000; i++)
        {
            var unit = random.Next(2) == 0 ? "mm" : "in";
            var scale = unit == "mm" ? 1m : 1 / 25.4m;
            var (d, t) = ((30 + (random.Next(3000) / 100m)) * scale, (1 + (random.Next(300) / 100m)) * scale);
            // By hand: some printed size of this unit is at most this one in both.
            var byHand = sizes.Any(s => s.Unit == unit && s.Diameter <= d && s.Wall <= t);
            Assert.Equal(byHand, TubeCheck.Fills(new(d, t, unit), sizes));
            if (byHand)
            {
                Assert.True(TubeCheck.Fills(new(d + 1, t, unit), sizes));
                Assert.True(TubeCheck.Fills(new(d, t + 0.1m, unit), sizes));
            }
        }
    }

    [Theory]
    [InlineData("44.8", "2.25", TubeVerdict.Met, TubeVerdict.Met)]
    [InlineData("44.79", "2.24", TubeVerdict.NotMet, TubeVerdict.NotMet)]
    [InlineData("45.21", "2.6", TubeVerdict.NotMet, TubeVerdict.Met)]
    public void Measured_size_is_held_against_the_order_with_a_tolerance_of_its_own(
        string diameter,
        string wall,
        TubeVerdict ofDiameter,
        TubeVerdict ofWall
    )
    {
        var findings = All("main-hoop-tube", new(Size("45", "2.5", "mm")), new MeasuredTube(D(diameter), D(wall)));

        Assert.Equal(TubeVerdict.Met, findings.Single(f => f.Figure == "main-hoop-tube").Verdict);
        Assert.Equal(ofDiameter, findings.Single(f => f.What == "Diameter as measured").Verdict);
        Assert.Equal(ofWall, findings.Single(f => f.What == "Wall as measured").Verdict);
    }

    [Fact]
    public void Inch_tube_is_measured_in_millimetres_against_its_inch_size()
    {
        // 1.75 × 0.095 in = 44.45 × 2.413 mm by the inch of 25.4 mm.
        var findings = All("main-hoop-tube", new(Size("1.75", "0.095", "in")), new MeasuredTube(44.45m, 2.413m, 0, 0));

        Assert.All(findings.Where(f => f.Figure is null), f => Assert.Equal(TubeVerdict.Met, f.Verdict));
    }

    [Fact]
    public void Without_a_certificate_material_and_strength_stay_open()
    {
        var findings = All("main-hoop-tube", new(Size("45", "2.5", "mm"), TubeMake.Seamless, false, true, 500, 600));

        Assert.Equal(TubeVerdict.Open, findings.Single(f => f.Figure == "material").Verdict);
        Assert.Equal(TubeVerdict.Open, findings.Single(f => f.Figure == "yield").Verdict);
    }

    [Theory]
    [InlineData(TubeMake.Seamless, true, TubeVerdict.Met)]
    [InlineData(TubeMake.Seamless, false, TubeVerdict.NotMet)]
    [InlineData(TubeMake.Seamless, null, TubeVerdict.Open)]
    [InlineData(TubeMake.Welded, true, TubeVerdict.NotMet)]
    [InlineData(null, true, TubeVerdict.Open)]
    public void Material_asks_for_seamless_tube_and_an_analysis_within_the_figure(
        TubeMake? make,
        bool? analysis,
        TubeVerdict verdict
    ) =>
        Assert.Equal(
            verdict,
            All("main-hoop-tube", new(Size("45", "2.5", "mm"), make, true, analysis))
                .Single(f => f.Figure == "material")
                .Verdict
        );

    [Theory]
    [InlineData(349.9, TubeVerdict.NotMet)]
    [InlineData(350, TubeVerdict.Met)]
    public void Strength_is_read_from_the_certificate(double stated, TubeVerdict verdict) =>
        Assert.Equal(
            verdict,
            All("main-hoop-tube", new(Size("45", "2.5", "mm"), null, true, null, (decimal)stated))
                .Single(f => f.Figure == "yield")
                .Verdict
        );

    [Fact]
    public void Strength_of_a_harness_bar_is_asked_of_harness_bars_only()
    {
        Assert.DoesNotContain(
            All("main-hoop-tube", new(Size("45", "2.5", "mm"))),
            f => f.Figure == "harness-bar-tensile"
        );
        Assert.Contains(All("harness-bar-tube", new(Size("40", "2", "mm"))), f => f.Figure == "harness-bar-tensile");
    }

    // 3 D: 45 mm → 135 mm, 1.75 in → 5.25 in = 133.35 mm. Roundness: 42.0/45.6 = 0.9211 passes, 41.8/46.5 = 0.8989 fails.
    [Theory]
    [InlineData("45", "mm", "135", "42.0", "45.6", TubeVerdict.Met, TubeVerdict.Met)]
    [InlineData("45", "mm", "134.9", "41.8", "46.5", TubeVerdict.NotMet, TubeVerdict.NotMet)]
    [InlineData("1.75", "in", "133.35", "40.5", "45", TubeVerdict.Met, TubeVerdict.Met)]
    [InlineData("1.75", "in", "133.34", "40.4", "45", TubeVerdict.NotMet, TubeVerdict.NotMet)]
    public void Bend_has_its_least_radius_and_roundness(
        string diameter,
        string unit,
        string radius,
        string minor,
        string major,
        TubeVerdict ofRadius,
        TubeVerdict ofRoundness
    )
    {
        var findings = All(
            "main-hoop-tube",
            new(Size(diameter, "0.1", unit)),
            null,
            new MeasuredBend(D(radius), D(minor), D(major), true)
        );

        Assert.Equal(ofRadius, findings.Single(f => f.Figure == "bend-radius").Verdict);
        Assert.Equal(ofRoundness, findings.Single(f => f.Figure == "bend-roundness").Verdict);
        Assert.Equal(TubeVerdict.Met, findings.Single(f => f.What == "Bend smooth").Verdict);
    }

    [Fact]
    public void What_nobody_looked_at_is_open()
    {
        var findings = All(
            "main-hoop-tube",
            new(Size("45", "2.5", "mm")),
            null,
            new MeasuredBend(null, null, null, null)
        );

        Assert.Equal(
            [TubeVerdict.Open, TubeVerdict.Open, TubeVerdict.Open],
            findings.TakeLast(3).Select(f => f.Verdict)
        );
    }

    [Theory]
    [InlineData("0", "2.5", "mm", "diameter")]
    [InlineData("45", "22.5", "mm", "wall")]
    [InlineData("45", "0", "mm", "wall")]
    [InlineData("45", "2.5", "cm", "unit")]
    [InlineData("1001", "2.5", "mm", "diameter")]
    public void Size_that_cannot_be_is_refused_by_name(string diameter, string wall, string unit, string path)
    {
        var outcome = TubeCheck.Check(Book, "main-hoop-tube", new(Size(diameter, wall, unit)), null, null);

        Assert.Contains(Assert.IsType<Failure.Invalid>(outcome.Failure).Errors, e => e.Path == path);
    }

    [Fact]
    public void Figure_that_is_no_size_is_refused() =>
        Assert.False(TubeCheck.Check(Book, "yield", new(Size("45", "2.5", "mm")), null, null).IsSuccess);

    private static TubeFinding Of(string member, OrderedTube tube) => All(member, tube).Single(f => f.Figure == member);

    private static IReadOnlyList<TubeFinding> All(
        string member,
        OrderedTube tube,
        MeasuredTube? measured = null,
        MeasuredBend? bend = null
    ) => TubeCheck.Check(Book, member, tube, measured, bend).Value;

    private static TubeSize Size(string diameter, string wall, string unit) => new(D(diameter), D(wall), unit);

    private static decimal D(string text) => decimal.Parse(text, System.Globalization.CultureInfo.InvariantCulture);
}
