using ShopFloor.Documents.Papers.Models;
using ShopFloor.Documents.Tests.Papers;
using ShopFloor.Documents.Workbench;

namespace ShopFloor.Documents.Tests.Workbench;

public sealed class WrapTemplateTests
{
    private static readonly WorkbenchPapers Papers = new();

    public static TheoryData<PaperSize> Sizes { get; } = [PaperSize.A4, PaperSize.Letter];

    private static PaperSettings Settings(PaperSize size) => size == PaperSize.A4 ? Samples.A4 : Samples.Letter;

    /// <summary>The formula s(φ) of the two cylinders, evaluated in the test for itself.</summary>
    [Theory]
    [MemberData(nameof(Sizes))]
    public void Printed_curve_lies_within_five_hundredths_of_a_millimetre_of_the_cut(PaperSize size)
    {
        foreach (var saddle in (Saddle[])[WrapSamples.Skew, WrapSamples.Plain])
        {
            using var paper = new ReadBack(Papers.Wrap(saddle.Template(), Settings(size)));
            var page = Assert.Single(WrapReader.PagesWithCut(paper));
            var curve = Assert.Single(WrapReader.Cuts(page));
            var (left, low) = (curve[0].X, curve.Min(p => p.Y));

            Assert.True(curve.Count > 1_400);
            Assert.Equal(Math.PI * saddle.DiameterMm, curve[^1].X - left, 0.01);
            Assert.All(
                curve,
                p =>
                {
                    var around = 180 + ((p.X - left) / (saddle.DiameterMm / 2) * 180 / Math.PI);
                    Assert.Equal(saddle.At(around) - saddle.Lowest, p.Y - low, 0.05);
                }
            );
        }
    }

    /// <summary>The curve is taken from the printed sheet and rolled, face outward, onto a tube in space: each point must then lie on the header, whose axis and size
    /// are known. Rolling steps along "up × outward", which is to the right on a face that is looked at from outside; a mirrored template ends beside the header.</summary>
    [Fact]
    public void Printed_face_outward_the_curve_lies_on_the_header_when_it_is_rolled_onto_the_tube()
    {
        var saddle = WrapSamples.Skew;
        using var paper = new ReadBack(Papers.Wrap(saddle.Template(), Samples.A4));
        var curve = WrapReader.Cuts(WrapReader.PagesWithCut(paper).Single()).Single();
        var low = curve.Min(p => p.Y);
        // The header's axis passes the branch's at the offset, on the side away from 90°, and leans to the acute side.
        (double X, double Z) header = (Math.Sin(saddle.Theta), Math.Cos(saddle.Theta));
        // At the seam, opposite the acute side.
        (double X, double Y) outward = (-1, 0);
        var (worst, worstMirrored) = (0.0, 0.0);

        for (var i = 0; i < curve.Count; i++)
        {
            if (i > 0)
            {
                var turn = (curve[i].X - curve[i - 1].X) / (saddle.DiameterMm / 2);
                (double X, double Y) right = (-outward.Y, outward.X);
                outward = (
                    (outward.X * Math.Cos(turn)) + (right.X * Math.Sin(turn)),
                    (outward.Y * Math.Cos(turn)) + (right.Y * Math.Sin(turn))
                );
            }

            var along = curve[i].Y - low + saddle.Lowest;
            worst = Math.Max(worst, Off(outward.Y, along));
            worstMirrored = Math.Max(worstMirrored, Off(-outward.Y, along));
        }

        Assert.True(worst < 0.05, $"{worst} mm off the header");
        Assert.True(worstMirrored > 1, "the sample cannot tell a mirrored wrap");

        double Off(double outwardY, double along)
        {
            var (x, y) = (saddle.EdgeRadiusMm * outward.X, (saddle.EdgeRadiusMm * outwardY) + saddle.OffsetMm);
            var onAxis = (x * header.X) + (along * header.Z);
            var distance = Math.Sqrt((x * x) + (y * y) + (along * along) - (onAxis * onAxis));
            return Math.Abs(distance - saddle.HeaderRadiusMm);
        }
    }

    /// <summary>Half template of a 38.1 × 2.413 mm branch, inside edge, on 44.45 mm at 45°, worked from the closed formula and by bisection.</summary>
    [Theory]
    [InlineData(0, 48.0679)]
    [InlineData(45, 38.4308)]
    [InlineData(90, 20.8404)]
    [InlineData(135, 14.9025)]
    [InlineData(180, 14.7939)]
    public void Printed_curve_shows_the_worked_table(double around, double axial)
    {
        using var paper = new ReadBack(Papers.Wrap(WrapSamples.Plain.Template(), Samples.Letter));
        var curve = WrapReader.Cuts(WrapReader.PagesWithCut(paper).Single()).Single();
        var x = curve[0].X + (((around + 180) % 360) * Math.PI / 180 * WrapSamples.Plain.DiameterMm / 2);

        Assert.Equal(axial - 14.7364, WrapReader.HeightAt(curve, x) - curve.Min(p => p.Y), 0.05);
    }

    [Theory]
    [MemberData(nameof(Sizes))]
    public void Every_sheet_of_a_wrap_has_rulers_of_100_mm_and_4_in_lying_and_upright(PaperSize size)
    {
        foreach (var saddle in (Saddle[])[WrapSamples.Skew, WrapSamples.Wide])
        {
            using var paper = new ReadBack(Papers.Wrap(saddle.Template(), Settings(size)));

            Assert.All(
                WrapReader.PagesWithCut(paper),
                page =>
                {
                    var strokes = WrapReader.Strokes(page);
                    foreach (var length in (double[])[100, 101.6])
                    {
                        Assert.Contains(strokes, s => Math.Abs(Math.Abs(s.To.X - s.From.X) - length) < 0.001);
                        Assert.Contains(strokes, s => Math.Abs(Math.Abs(s.To.Y - s.From.Y) - length) < 0.001);
                    }
                }
            );
            Assert.All(
                paper.Pages.SelectMany(p => WrapReader.Lines(p).SelectMany(l => l).Select(at => (at, p))),
                place =>
                {
                    Assert.InRange(place.at.X, 5, (place.p.Width * 25.4 / 72) - 5);
                    Assert.InRange(place.at.Y, 5, (place.p.Height * 25.4 / 72) - 5);
                }
            );
        }
    }

    [Fact]
    public void Wrap_says_how_to_print_and_use_it_and_asks_viewers_not_to_scale()
    {
        using var paper = new ReadBack(Papers.Wrap(WrapSamples.Skew.Template(bendPlane: 130), Samples.A4));

        foreach (
            var says in (string[])
                [
                    "Print at 100 %",
                    "this face outward",
                    "Harness bar",
                    "left end",
                    "seam",
                    "0° acute side",
                    "inside of bend",
                    "J-2026-0004",
                    "overhangs by 0.4 mm",
                    "qualified person",
                ]
        )
        {
            Assert.Contains(Squeeze(says), Squeeze(paper.Text), StringComparison.Ordinal);
        }

        Assert.Matches("/PrintScaling\\s*/None", paper.Raw);
        Assert.False(paper.HasMissingGlyph);
    }

    [Fact]
    public void Line_for_the_inside_of_the_bend_stands_at_its_place_round_the_tube()
    {
        var saddle = WrapSamples.Skew;
        using var paper = new ReadBack(Papers.Wrap(saddle.Template(bendPlane: 130), Samples.A4));
        var page = WrapReader.PagesWithCut(paper).Single();
        var curve = WrapReader.Cuts(page).Single();
        var top = curve.Max(p => p.Y) + 25;
        foreach (var around in (double[])[0, 130])
        {
            var x = curve[0].X + (((around + 180) % 360) * Math.PI / 180 * saddle.DiameterMm / 2);
            Assert.Contains(
                WrapReader.Strokes(page),
                s =>
                    Math.Abs(s.From.X - x) < 0.01
                    && Math.Abs(s.To.X - x) < 0.01
                    && Math.Abs(Math.Max(s.From.Y, s.To.Y) - top) < 0.01
                    && Math.Abs(Math.Min(s.From.Y, s.To.Y) - WrapReader.HeightAt(curve, x)) < 0.01
            );
        }
    }

    [Theory]
    [MemberData(nameof(Sizes))]
    public void Wide_wrap_joined_at_its_crosses_is_the_whole_cut(PaperSize size)
    {
        var saddle = WrapSamples.Wide;
        var template = saddle.Template();
        using var paper = new ReadBack(Papers.Wrap(template, Settings(size)));
        var pages = WrapReader.PagesWithCut(paper).ToList();
        Assert.Equal(3, Papers.SheetsOfWrap(template, size));
        Assert.Equal(3, pages.Count);

        var whole = new List<(double X, double Y)>();
        var (dx, dy) = (0.0, 0.0);
        for (var i = 0; i < pages.Count; i++)
        {
            var crosses = WrapReader.Crosses(pages[i]).OrderBy(c => c.X).ThenBy(c => c.Y).ToList();
            if (i > 0)
            {
                var before = WrapReader.Crosses(pages[i - 1]).OrderBy(c => c.X).ThenBy(c => c.Y).TakeLast(3).ToList();
                // All three crosses of a border must give the same shift.
                var shifts = before.Zip(crosses.Take(3), (b, c) => (X: b.X - c.X, Y: b.Y - c.Y)).ToList();
                Assert.All(shifts, s => Assert.Equal(shifts[0].X, s.X, 0.005));
                Assert.All(shifts, s => Assert.Equal(shifts[0].Y, s.Y, 0.005));
                (dx, dy) = (dx + shifts[0].X, dy + shifts[0].Y);
            }

            whole.AddRange(WrapReader.Cuts(pages[i]).SelectMany(c => c).Select(p => (p.X + dx, p.Y + dy)));
        }

        var (left, low) = (whole.Min(p => p.X), whole.Min(p => p.Y));
        Assert.Equal(Math.PI * saddle.DiameterMm, whole.Max(p => p.X) - left, 0.02);
        Assert.All(
            whole,
            p =>
            {
                var around = 180 + ((p.X - left) / (saddle.DiameterMm / 2) * 180 / Math.PI);
                Assert.Equal(saddle.At(around) - saddle.Lowest, p.Y - low, 0.05);
            }
        );
    }

    [Fact]
    public void Deep_wrap_goes_over_sheets_along_the_tube_too()
    {
        var template = new Saddle(50, 25, 30, 6, 0).Template();
        using var paper = new ReadBack(Papers.Wrap(template, Samples.A4));

        Assert.True(Papers.SheetsOfWrap(template, PaperSize.A4) >= 3);
        Assert.Equal(
            Papers.SheetsOfWrap(template, PaperSize.A4),
            paper.Pages.Count(p => WrapReader.Strokes(p).Any(s => WrapReader.Near(Math.Abs(s.To.X - s.From.X), 100)))
        );
    }

    [Fact]
    public void Wrap_of_too_many_sheets_is_counted_and_never_written()
    {
        var template = new Saddle(4_000, 2_000, 2_500, 20, 0).Template();

        Assert.True(Papers.SheetsOfWrap(template, PaperSize.A4) > WrapLimits.MostSheets);
        Assert.Throws<ArgumentException>(() => Papers.Wrap(template, Samples.A4));
    }

    private static string Squeeze(string text) => text.Replace(" ", "", StringComparison.Ordinal);
}
