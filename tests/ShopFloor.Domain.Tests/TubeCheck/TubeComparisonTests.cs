using CsCheck;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.RuleSets;
using ShopFloor.Domain.TubeCheck;
using TubeSize = ShopFloor.Domain.RuleSets.TubeSize;

namespace ShopFloor.Domain.Tests.TubeCheck;

/// <summary>Held against figures seen quoted: FIA Appendix J art. 253 §8.3.3 and Motorsport UK NCR 2026 ch. 7 app. 3 §6.1, §20.</summary>
public sealed class TubeComparisonTests
{
    private static readonly TubeMaterial Good = new(TubeMake.Seamless, "E355", "HC 4711", 400, 520, 0.18m, 1.2m, 0.3m);

    private static readonly RuleSet Book = BookOf([
        .. new[] { ("yield", 350m, (decimal?)null, "N/mm²"), ("carbon", 0m, 0.3m, "%") }.Select(f => new RuleFigure(
            f.Item1,
            "§20.1",
            f.Item1,
            "as printed",
            FigureKind.Strength,
            FigureMark.Quoted,
            f.Item4,
            f.Item2,
            f.Item3
        )),
        new RuleFigure("seamless", "§20.1a", "Seamless", "yes or no", FigureKind.YesNo, FigureMark.Quoted),
        new RuleFigure("bend-radius", "§20.3", "Radius", "≥ 3", FigureKind.Ratio, FigureMark.Quoted, "× diameter", 3),
        new RuleFigure("bend-roundness", "§20.3", "Round", "≥ 0.9", FigureKind.Ratio, FigureMark.Quoted, "ratio", 0.9m),
        new RuleFigure("bend-smooth", "§6.1", "Smooth", "yes or no", FigureKind.YesNo, FigureMark.Quoted),
    ]);

    [Theory]
    // 1.75 × 0.095 in is 44.45 × 2.413 mm: a printed inch size, and no printed metric one.
    [InlineData("1.75", "0.095", "in", TubeVerdict.Meets)]
    [InlineData("44.45", "2.413", "mm", TubeVerdict.DoesNotMeet)]
    [InlineData("45", "2.5", "mm", TubeVerdict.Meets)]
    [InlineData("50", "2.0", "mm", TubeVerdict.Meets)]
    [InlineData("2", "0.083", "in", TubeVerdict.Meets)]
    [InlineData("45", "3", "mm", TubeVerdict.Meets)]
    [InlineData("50", "2.5", "mm", TubeVerdict.Meets)]
    // Between the two alternatives: the diameter of neither with the wall of neither.
    [InlineData("48", "2.3", "mm", TubeVerdict.DoesNotMeet)]
    [InlineData("45", "2.0", "mm", TubeVerdict.DoesNotMeet)]
    [InlineData("1.75", "0.083", "in", TubeVerdict.DoesNotMeet)]
    public void The_ordered_size_is_compared_with_printed_sizes_of_its_own_unit(
        string diameter,
        string wall,
        string unit,
        TubeVerdict expected
    ) => Assert.Equal(expected, Of(Tube(Size(diameter, wall, unit)), "Ordered size").Verdict);

    [Fact]
    public void A_size_of_a_unit_in_which_nothing_is_printed_is_not_converted()
    {
        var metric = new RuleFigure(
            "hoop-tube",
            "§19.1",
            "Bar",
            "38 × 2.5 mm",
            FigureKind.SizeAlternatives,
            FigureMark.Quoted
        )
        {
            Sizes = [new TubeSize(38, 2.5m, "mm")],
        };
        var finding = Of(Tube(Size("2", "0.2", "in")), "Ordered size", BookOf([metric], withSizes: false));
        Assert.Equal(TubeVerdict.NotShown, finding.Verdict);
        Assert.Contains("nothing is converted", finding.Sentence, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("44.8", "2.45", TubeVerdict.Meets)]
    [InlineData("44.7", "2.5", TubeVerdict.DoesNotMeet)]
    [InlineData("45.21", "2.5", TubeVerdict.DoesNotMeet)]
    [InlineData("45", "2.24", TubeVerdict.DoesNotMeet)]
    public void The_measured_size_is_held_against_the_order_with_its_own_tolerance(
        string diameter,
        string wall,
        TubeVerdict expected
    )
    {
        var size = Size(diameter, wall, "mm");
        var tube = Tube(Size("45", "2.5", "mm")) with
        {
            Measured = new MeasuredTube(size.Diameter, size.Wall, 0.2m, 0.25m),
        };
        Assert.Equal(expected, Of(tube, "Measured size").Verdict);
        Assert.Equal(TubeVerdict.Meets, Of(tube, "Ordered size").Verdict);
    }

    [Fact]
    public void A_tube_with_everything_shown_is_as_printed_and_without_a_certificate_it_is_not_shown()
    {
        var tube = Tube(Size("45", "2.5", "mm")) with { Measured = new MeasuredTube(45, 2.5m, 0.1m, 0.1m) };
        Assert.Equal(TubeVerdict.Meets, TubeComparison.Compare(tube, Book).Value.Verdict);
        var bare = tube with { Material = Good with { Certificate = " " } };
        Assert.Equal(TubeVerdict.NotShown, TubeComparison.Compare(bare, Book).Value.Verdict);
        Assert.Equal(TubeVerdict.NotShown, Of(bare, "Yield strength").Verdict);
        Assert.Equal(TubeVerdict.NotShown, Of(bare, "Seamless or welded").Verdict);
    }

    [Fact]
    public void A_welded_tube_too_little_strength_and_too_much_carbon_are_not_as_printed()
    {
        var tube = Tube(Size("45", "2.5", "mm")) with
        {
            Material = Good with { Make = TubeMake.Welded, YieldNPerMm2 = 349.9m, CarbonPercent = 0.31m },
        };
        foreach (var about in new[] { "Seamless or welded", "Yield strength", "Carbon" })
        {
            Assert.Equal(TubeVerdict.DoesNotMeet, Of(tube, about).Verdict);
        }

        Assert.Equal(TubeVerdict.DoesNotMeet, TubeComparison.Compare(tube, Book).Value.Verdict);
    }

    [Fact]
    public void Tensile_strength_never_stands_in_for_the_yield_strength_that_a_book_asks_for()
    {
        // NCR 2026 §20.1b asks for yield, §19.1 of harness bars for tensile strength.
        var tube = Tube(Size("45", "2.5", "mm")) with
        {
            Material = Good with { YieldNPerMm2 = null },
        };
        Assert.Equal(TubeVerdict.NotShown, Of(tube, "Yield strength").Verdict);
        Assert.Contains("Only the tensile strength", Of(tube, "Yield strength").Sentence, StringComparison.Ordinal);
        var tensile = new RuleFigure(
            "hoop-tensile",
            "§19.1",
            "Tensile",
            "≥ 350 N/mm²",
            FigureKind.Strength,
            FigureMark.Quoted,
            "N/mm²",
            350
        );
        var book = BookOf([tensile, .. Book.Figures.Where(f => f.Code is not "hoop-tube")]);
        Assert.Equal(TubeVerdict.Meets, Of(tube, "Tensile strength", book).Verdict);
    }

    [Theory]
    // Least radius at 3 D: 45 mm → 135; 1.75 in → 5.25 in.
    [InlineData("45", "2.5", "mm", "135", TubeVerdict.Meets)]
    [InlineData("45", "2.5", "mm", "134.9", TubeVerdict.DoesNotMeet)]
    [InlineData("1.75", "0.095", "in", "5.25", TubeVerdict.Meets)]
    [InlineData("1.75", "0.095", "in", "5.24", TubeVerdict.DoesNotMeet)]
    public void A_bend_has_a_radius_of_three_diameters(
        string diameter,
        string wall,
        string unit,
        string radius,
        TubeVerdict expected
    )
    {
        var tube = Tube(Size(diameter, wall, unit)) with
        {
            Bends = [new CheckedBend(Number(radius), null, null, null)],
        };
        Assert.Equal(expected, Of(tube, "Bend: radius").Verdict);
        Assert.Equal(TubeVerdict.NotShown, Of(tube, "Bend: roundness").Verdict);
        Assert.Equal(TubeVerdict.NotShown, Of(tube, "Bend: wrinkles").Verdict);
    }

    [Theory]
    // 45.6 × 42.0 mm is 0.9211, 46.5 × 41.8 mm is 0.8989.
    [InlineData("45.6", "42.0", false, TubeVerdict.Meets, TubeVerdict.Meets)]
    [InlineData("46.5", "41.8", true, TubeVerdict.DoesNotMeet, TubeVerdict.DoesNotMeet)]
    [InlineData("50", "45", false, TubeVerdict.Meets, TubeVerdict.Meets)]
    public void A_bend_is_round_to_nine_tenths_and_has_no_wrinkles(
        string major,
        string minor,
        bool wrinkles,
        TubeVerdict round,
        TubeVerdict smooth
    )
    {
        var tube = Tube(Size("45", "2.5", "mm")) with
        {
            Bends = [new CheckedBend(135, Number(major), Number(minor), wrinkles)],
        };
        Assert.Equal(round, Of(tube, "Bend: roundness").Verdict);
        Assert.Equal(smooth, Of(tube, "Bend: wrinkles").Verdict);
    }

    [Fact]
    public void Section_and_mass_stand_beside_and_decide_nothing()
    {
        // 48.3 × 2.4 mm has more section modulus than 45 × 2.5 mm and is still not a printed size.
        var result = TubeComparison.Compare(Tube(Size("48.3", "2.4", "mm")), Book).Value;
        var ordered = result.Sections.Single(s => s.IsOrdered);
        var printed = result.Sections.Single(s => s.Size == new TubeSize(45, 2.5m, "mm"));
        Assert.True(ordered.SectionModulusMm3 > printed.SectionModulusMm3);
        Assert.Equal(3361.12, printed.SectionModulusMm3, 0.01);
        Assert.Equal(2.6203, printed.MassKgPerM, 0.0001);
        Assert.Equal(TubeVerdict.DoesNotMeet, result.Verdict);
    }

    [Theory]
    [InlineData("45", "22.5", "mm", "ordered.wall")]
    [InlineData("0", "1", "mm", "ordered.diameter")]
    [InlineData("45", "2.5", "cm", "ordered.unit")]
    public void What_is_no_tube_is_refused_at_its_field(string diameter, string wall, string unit, string path)
    {
        var failure = TubeComparison.Compare(Tube(Size(diameter, wall, unit)), Book).Failure;
        Assert.Equal(path, Assert.IsType<Failure.Invalid>(failure).Errors.Single().Path);
    }

    [Fact]
    public void A_figure_that_prints_no_sizes_is_refused()
    {
        var failure = TubeComparison.Compare(Tube(Size("45", "2.5", "mm")) with { FigureCode = "yield" }, Book).Failure;
        Assert.Equal("figure", Assert.IsType<Failure.Invalid>(failure).Errors.Single().Path);
    }

    [Fact]
    public void More_steel_never_turns_a_size_from_printed_to_not_printed() =>
        Gen.Select(Gen.Int[200, 900], Gen.Int[10, 60], Gen.Int[0, 200], Gen.Int[0, 30], Gen.Bool)
            .Sample(
                (diameter, wall, wider, thicker, inch) =>
                {
                    var (unit, scale) = inch ? ("in", 0.00393m) : ("mm", 0.1m);
                    var size = new TubeSize(diameter * scale, wall * scale, unit);
                    var more = size with
                    {
                        Diameter = size.Diameter + (wider * scale),
                        Wall = size.Wall + (thicker * scale),
                    };
                    if (more.Wall * 2 >= more.Diameter)
                    {
                        return;
                    }

                    if (Of(Tube(size), "Ordered size").Verdict == TubeVerdict.Meets)
                    {
                        Assert.Equal(TubeVerdict.Meets, Of(Tube(more), "Ordered size").Verdict);
                    }
                }
            );

    private static RuleSet BookOf(IReadOnlyList<RuleFigure> figures, bool withSizes = true) =>
        RuleSet
            .From(
                new RuleSetDocument(
                    1,
                    "sample",
                    1,
                    "Sample body",
                    "Sample book",
                    "2026",
                    new DateOnly(2026, 1, 2),
                    "Look it up.",
                    withSizes ? [Hoop, .. figures] : figures
                )
            )
            .Value;

    private static RuleFigure Hoop =>
        new("hoop-tube", "§8.3.3", "Hoop", "as printed", FigureKind.SizeAlternatives, FigureMark.Quoted)
        {
            Sizes =
            [
                new TubeSize(45, 2.5m, "mm"),
                new TubeSize(1.75m, 0.095m, "in"),
                new TubeSize(50, 2.0m, "mm"),
                new TubeSize(2.0m, 0.083m, "in"),
            ],
        };

    private static TubeFinding Of(TubeUnderCheck tube, string about, RuleSet? book = null) =>
        TubeComparison.Compare(tube, book ?? Book).Value.Findings.Single(f => f.About == about);

    private static TubeUnderCheck Tube(TubeSize ordered) => new("hoop-tube", ordered, null, Good, []);

    private static TubeSize Size(string diameter, string wall, string unit) =>
        new(Number(diameter), Number(wall), unit);

    private static decimal Number(string text) =>
        decimal.Parse(text, System.Globalization.CultureInfo.InvariantCulture);
}
