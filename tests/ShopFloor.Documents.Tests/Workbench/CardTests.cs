using ShopFloor.Documents.Papers.Models;
using ShopFloor.Documents.Tests.Papers;
using ShopFloor.Documents.Workbench;

namespace ShopFloor.Documents.Tests.Workbench;

public sealed class CardTests
{
    private static readonly WorkbenchPapers Papers = new();
    private static readonly WorkbenchHead Head = new("Hollow Lane Fabrication", "Main hoop", "J-2026-0004");

    internal static BendCard Hoop { get; } =
        new(
            Head,
            3284.1150,
            965,
            [new(90, 93.5, 0, 965, 1177.0575, 953, 965), new(90, 93.5, 180, 2107.0575, 2319.1150, 2095.0575, 930)],
            [new("Tube", "45 × 2.5 mm"), new("Centreline radius", "135 mm"), new("Mass", "8.6 kg")],
            ["The straight before bend 1 is shorter than the clamp."]
        );

    internal static HingeCard DoorBar { get; } =
        new(
            Head with
            {
                Tube = "Left door bar",
            },
            [
                new("front", 40, 400, 50, 63.5, 5, 95, 281.5, 188.25, 251.75, []),
                new("rear", 40, 150, 50, 63.5, 5, 95, 31.5, null, null, ["Too short by 63.5 mm: move the bend."]),
            ],
            63.5
        );

    internal static SkipWeldCard Plate { get; } =
        new(
            Head with
            {
                Tube = "Left floor plate",
            },
            [new(0, 0), new(120, 0), new(120, 100), new(0, 100)],
            [.. Enumerable.Range(0, 47).Select(i => i * 7 % 47).Select(i => new SkipWeldRun(i * 9.36, (i + 1) * 9.36))],
            [new("Seam", "440 mm"), new("Arc time", "1 min 28 s")],
            ["Tank out or watched from below.", "No forced air on 4130."]
        );

    internal static SawCard Saw { get; } =
        new(
            Head with
            {
                Tube = "Nest",
            },
            [
                new(6096, [new("Leg A", 2438), new("Leg B", 2438), new("Sill", 914)], 297),
                new(6096, [new("Door", 1829), new("Door", 1829), new("Door", 1829)], 600),
                new(1500, [new("Stay", 1500)], 0),
            ],
            3,
            0,
            "How good: proven best.",
            [new("Bars", "3"), new("Kerf", "3 mm")],
            ["Clamp the tube on both sides.", "Cut ends are sharp and hot."]
        );

    public static TheoryData<PaperSize> Sizes { get; } = [PaperSize.A4, PaperSize.Letter];

    private static PaperSettings Settings(PaperSize size) => size == PaperSize.A4 ? Samples.A4 : Samples.Letter;

    [Theory]
    [MemberData(nameof(Sizes))]
    public void Bend_card_has_cut_length_marks_turns_and_springback(PaperSize size)
    {
        using var paper = new ReadBack(Papers.Bends(Hoop, Settings(size)));

        AssertSays(
            paper,
            "Main hoop",
            "3284.1 mm · 129 5/16 in",
            "953.0 mm",
            "37 1/2 in",
            "93.5°",
            "180.0°",
            "2107.1 – 2319.1 mm",
            "shorter than the clamp",
            "last bend: 965.0 mm"
        );
    }

    [Fact]
    public void Hinge_card_gives_both_cuts_or_says_that_nothing_may_be_cut()
    {
        using var paper = new ReadBack(Papers.HingeCuts(DoorBar, Samples.A4));

        AssertSays(
            paper,
            "First cut at 188.3 mm · 7 7/16 in",
            "Second cut at 251.8 mm · 9 15/16 in",
            "does not fit here. Do not cut.",
            "Too short by 63.5 mm: move the bend.",
            "Bolt and pin stay in"
        );
    }

    [Fact]
    public void Skip_weld_card_lists_every_run_in_its_order_and_numbers_it_on_the_plate()
    {
        using var paper = new ReadBack(Papers.SkipWelds(Plate, Samples.A4));
        var words = paper.Pages.SelectMany(p => p.GetWords()).Select(w => w.Text).ToList();

        AssertSays(paper, "☐ 2:", "65.5 – 74.9 mm", "440 mm", "No forced air on 4130.", "qualified person");
        // Once on the drawing and once in the list, which has a colon.
        Assert.All(
            Enumerable.Range(1, 47),
            i =>
            {
                Assert.Contains(words, w => w == $"{i}:");
                Assert.Contains(words, w => w == $"{i}");
            }
        );
    }

    [Theory]
    [MemberData(nameof(Sizes))]
    public void Saw_card_numbers_the_cuts_draws_the_bars_to_scale_and_has_a_line_for_each_offcut(PaperSize size)
    {
        using var paper = new ReadBack(Papers.SawCuts(Saw, Settings(size)));

        AssertSays(
            paper,
            "Bar 1 of 3",
            "Leg A",
            "2438.0 mm",
            // The second piece ends behind both pieces and one kerf.
            "4879.0 mm",
            "Left over: 297.0 mm",
            "Offcut label: ____",
            "Left over: nothing",
            "proven best",
            "sharp and hot"
        );
        var words = paper.Pages.SelectMany(p => p.GetWords()).Select(w => w.Text).ToList();
        // Each number in its row and on its bar.
        Assert.All(Enumerable.Range(1, 7), i => Assert.True(words.Count(w => w == $"{i}") >= 2, $"cut {i}"));
        // The outlines of the bars stand in the proportion of their lengths.
        var widths = paper
            .Pages.SelectMany(p => p.Paths)
            .Where(p => p.IsStroked && !p.IsFilled)
            .SelectMany(p => p)
            .Select(s => s.GetBoundingRectangle()!.Value)
            .Where(r => Math.Abs(r.Height - (6 * 72 / 25.4)) < 0.1)
            .Select(r => r.Width)
            .ToList();
        Assert.Equal(3, widths.Count);
        Assert.Equal(widths[0], widths[1], 0.1);
        Assert.Equal(widths[0] * 1500 / 6096, widths[2], 0.1);
    }

    private static void AssertSays(ReadBack paper, params string[] texts)
    {
        Assert.False(paper.HasMissingGlyph);
        foreach (var text in texts)
        {
            Assert.Contains(Squeeze(text), Squeeze(paper.Text), StringComparison.Ordinal);
        }
    }

    private static string Squeeze(string text) => text.Replace(" ", "", StringComparison.Ordinal);
}
