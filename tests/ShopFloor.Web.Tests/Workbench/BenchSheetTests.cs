using ShopFloor.Application.Workbench;
using ShopFloor.Documents.Papers.Models;
using ShopFloor.Documents.Workbench;
using ShopFloor.Domain.Common;

namespace ShopFloor.Web.Tests.Workbench;

/// <summary>What holds of every calculator's page, without a page.</summary>
public sealed class BenchSheetTests
{
    public static TheoryData<string> Codes => [.. Benches.All.Select(s => s.Code)];

    /// <summary>What somebody may type that is no figure of a workshop.</summary>
    private static readonly string[] Nonsense =
    [
        "0",
        "-1",
        "NaN",
        "Infinity",
        "-Infinity",
        "∞",
        "1e12",
        "999999999999",
        "1e999",
        "",
        "abc",
        "0; 0; 0",
        "0; 0; 0\n1e12; 0; 0",
        "999999999999; 0; 0\n0; 0; 0",
        "999999999999; 0\n0; 1\n1; 1",
        "10; NaN; 0\n10",
        "10; 400; 0\n10",
        "90; 10",
        "0.00000000000000000000000000000000001",
        "9999999.999",
        "10000000",
        "1,250",
        "12,5",
        "1.250,5",
        "1 250",
        "½",
        "1 3/4",
        "-1 3/4",
        "1/0",
        "0/5",
        "5/4",
        "٤٥",
        "4５",
        "0x10",
        "+5",
        "--5",
        "5 ft",
        "89.99999999999999",
        "0; 0; 0\n0; 0; 0.0000000001\n0; 0; 1",
        "0; 0; 0\n0; 0; 500; 9999999\n500; 0; 500",
        "0; 0; 0\n0; 0; 500; 0\n500; 0; 500",
        "9999999; 179.9999999; 0\n9999999",
        "10; 90; 0; 0.001\n10",
        "0; 0\n9999999; 0\n0; 0.0000001",
    ];

    [Theory]
    [MemberData(nameof(Codes))]
    public void Whatever_is_typed_is_answered_or_complained_of_at_a_field(string code)
    {
        var sheet = Benches.Find(code)!;
        var names = sheet.Fields.Select(f => f.Name).ToHashSet();
        foreach (var field in sheet.Fields)
        {
            foreach (var text in Nonsense)
            {
                foreach (var extra in Variants(sheet))
                {
                    var answer = Answer(sheet, LengthUnit.Millimetre, n => n == field.Name ? text : extra(n));
                    if (answer.Failure is { } failure)
                    {
                        var invalid = Assert.IsType<Failure.Invalid>(failure);
                        Assert.All(
                            invalid.Errors,
                            e => Assert.True(names.Contains(e.Path), $"{field.Name}={text}: {e.Path} {e.Text}")
                        );
                    }
                    else
                    {
                        Assert.All(
                            answer.Value.Results,
                            r =>
                                Assert.False(
                                    r.Value.Contains("NaN", StringComparison.Ordinal)
                                        || r.Value.Contains('∞', StringComparison.Ordinal),
                                    $"{field.Name}={text}: {r.Label} {r.Value}"
                                )
                        );
                        Assert.NotNull(answer.Value.View?.Invoke(30, 20) ?? answer.Value.Picture);
                    }
                }
            }
        }
    }

    [Theory]
    [MemberData(nameof(Codes))]
    public void Mixtures_of_extremes_are_answered_with_figures_and_papers_or_complained_of_at_a_field(string code)
    {
        var sheet = Benches.Find(code)!;
        var names = sheet.Fields.Select(f => f.Name).ToHashSet();
        var papers = new WorkbenchPapers();
        var settings = new PaperSettings(PaperSize.A4, DateTimeOffset.UnixEpoch);
        var random = new Random(8);
        var answered = 0;
        for (var round = 0; round < 300; round++)
        {
            // Two or three fields stand at an extreme, the others as they begin.
            var typed = Enumerable
                .Range(0, 2 + (round % 2))
                .Select(_ => sheet.Fields[random.Next(sheet.Fields.Count)])
                .DistinctBy(f => f.Name)
                .ToDictionary(f => f.Name, f => Extreme(f, random));
            var unit = round % 3 == 0 ? LengthUnit.Inch : LengthUnit.Millimetre;
            var answer = Answer(sheet, unit, typed.GetValueOrDefault);
            var told = string.Join(", ", typed.Select(t => $"{t.Key}={t.Value}"));
            if (answer.Failure is { } failure)
            {
                Assert.All(Assert.IsType<Failure.Invalid>(failure).Errors, e => Assert.Contains(e.Path, names));
                continue;
            }

            answered++;
            Assert.All(answer.Value.Lines, l => Assert.False(HasNoEnd(l.Value), $"{told}: {l.Label} {l.Value}"));
            var picture = answer.Value.View?.Invoke(30, 20) ?? answer.Value.Picture;
            Assert.False(HasNoEnd(picture!.ToSvg()), told);
            foreach (var paper in answer.Value.Papers.Where(_ => round % 10 == 0))
            {
                var made = paper.Make(papers, new WorkbenchHead("Shop", answer.Value.Name, null), settings);
                Assert.True(made.IsSuccess || made.Failure is Failure.Refused, told);
            }
        }

        Assert.True(answered > 30, $"Only {answered} of 300 mixtures were answered.");
    }

    private static string Extreme(BenchField field, Random random)
    {
        string[] words = field.Kind switch
        {
            BenchFieldKind.Choice => [.. field.Options!.Select(o => o.Word)],
            BenchFieldKind.Text => ["", "Ω — <b>&amp;</b>", new string('w', 60)],
            BenchFieldKind.Lines or BenchFieldKind.Point => [field.Start, "", .. Nonsense.Where(n => n.Contains(';'))],
            BenchFieldKind.Angle => ["0.0000000001", "0.5", "89.99999999999999", "90", "179.999", "-360", "360"],
            _ => ["0", "0.0000000001", "0.001", "1/64", "50", "250", "99999", "9999999"],
        };
        return words[random.Next(words.Length)];
    }

    private static bool HasNoEnd(string text) =>
        text.Contains("NaN", StringComparison.Ordinal)
        || text.Contains('∞')
        || text.Contains("Infinity", StringComparison.Ordinal);

    [Theory]
    [MemberData(nameof(Codes))]
    public void Sizes_over_the_limit_and_words_are_said_at_their_own_field(string code)
    {
        var sheet = Benches.Find(code)!;
        foreach (
            var field in sheet.Fields.Where(f =>
                f.Kind is BenchFieldKind.Length or BenchFieldKind.Angle or BenchFieldKind.Number
            )
        )
        {
            foreach (var text in (string[])["999999999999", "NaN", "abc"])
            {
                // A field that counts for another choice is not looked at.
                var answers = Variants(sheet)
                    .Select(extra => Answer(sheet, LengthUnit.Millimetre, n => n == field.Name ? text : extra(n)))
                    .ToList();
                Assert.Contains(
                    answers,
                    a => a.Failure is Failure.Invalid invalid && invalid.Errors.Any(e => e.Path == field.Name)
                );
            }
        }
    }

    [Theory]
    [MemberData(nameof(Codes))]
    public void A_calculator_begins_with_the_same_thing_in_inches_and_in_millimetres(string code)
    {
        var sheet = Benches.Find(code)!;
        var (mm, inch) = (
            Answer(sheet, LengthUnit.Millimetre, _ => null).Value,
            Answer(sheet, LengthUnit.Inch, _ => null).Value
        );

        Assert.Equal(mm.Results.Select(r => r.Label), inch.Results.Select(r => r.Label));
        Assert.All(
            mm.Results.Zip(inch.Results),
            r =>
            {
                var (here, there) = (Figure(r.First.Value), Figure(r.Second.Value));
                // What is typed in inches has four decimals.
                Assert.Equal(here, there, Math.Max(0.02, Math.Abs(here) * 3e-4));
            }
        );

        static double Figure(string value) =>
            double.TryParse(
                value.Split(' ')[0].TrimEnd('°', ','),
                System.Globalization.CultureInfo.InvariantCulture,
                out var n
            )
                ? n
                : 0;
    }

    [Theory]
    [MemberData(nameof(Codes))]
    public void Papers_are_those_it_names_and_words_are_explained(string code)
    {
        var sheet = Benches.Find(code)!;
        var answer = Answer(sheet, LengthUnit.Millimetre, _ => null).Value;

        Assert.Equal(sheet.Papers, answer.Papers.Select(p => new BenchPaperName(p.File, p.Label)));
        Assert.True(sheet.Guide.Count >= 2);
        Assert.All(sheet.Guide, g => Assert.EndsWith(".", g.Text, StringComparison.Ordinal));
        Assert.True(sheet.Steps.Count is >= 3 and <= 5);
        Assert.Contains(answer.Results, r => r.IsMain);
        Assert.All(answer.Results, r => Assert.NotEmpty(r.Explanation.Source));
        // A label of its own for each, so that nobody reads two of the same.
        Assert.Equal(
            sheet.Fields.Count,
            sheet.Fields.Select(f => $"{f.Group} {f.Label}".Trim()).Distinct(StringComparer.Ordinal).Count()
        );
    }

    [Theory]
    [InlineData(16, "20.53 mm · 0.808 in · 13/16 in less 0.11 mm")]
    [InlineData(32, "20.53 mm · 0.808 in · 13/16 in less 0.11 mm")]
    public void Inches_are_said_to_the_mark_that_was_chosen(int parts, string depth)
    {
        var sheet = Benches.Find("notch")!;
        var answer = Answer(
            sheet,
            LengthUnit.Inch,
            n =>
                n switch
                {
                    BenchValues.TapeName => $"{parts}",
                    "branchOutsideDiameterMm" => "1 1/2",
                    "branchWallMm" => "0.095",
                    "headerOutsideDiameterMm" => "1 3/4",
                    "angleDegrees" => "60",
                    "edge" => "inside",
                    _ => null,
                }
        ).Value;

        Assert.Equal(depth, answer.Results[0].Value);
        // 14.74 mm: 9/16 in is 14.29 mm, 19/32 in is 15.08 mm.
        var takeOff = answer.Results[1].Value;
        Assert.EndsWith(
            parts == 16 ? "9/16 in and 0.45 mm" : "19/32 in less 0.34 mm",
            takeOff,
            StringComparison.Ordinal
        );
    }

    [Fact]
    public void Bent_tube_is_drawn_with_its_straights_and_angles_and_keeps_its_marks_when_saved()
    {
        var sheet = Benches.Find("tube-path")!;
        var answer = Answer(
            sheet,
            LengthUnit.Millimetre,
            n => n == "points" ? "0; 0; 0\n0; 0; 1000\n1000; 0; 1000; 200\n1000; 0; 0" : null
        ).Value;

        var svg = System.Net.WebUtility.HtmlDecode(answer.View!(0, 0).ToSvg());
        // Radius 135 and 200, both bends square: 865, 665 and 800 of straight tube.
        Assert.All(
            (string[])["865.0 mm", "665.0 mm", "800.0 mm", "∠ 90°"],
            words => Assert.Contains(words, svg, StringComparison.Ordinal)
        );
        var second = Assert.Single(answer.Lines, l => l.Label == "Bend 2");
        Assert.Contains("Bender's mark 1742.1 mm", second.Value, StringComparison.Ordinal);
        Assert.True(second.IsMain);
        Assert.Contains(
            answer.Warnings,
            w => w.StartsWith("Bend 2 has a radius of its own, 200 mm", StringComparison.Ordinal)
        );
    }

    [Theory]
    [InlineData(LengthUnit.Millimetre)]
    [InlineData(LengthUnit.Inch)]
    public void Points_of_a_bent_tube_go_on_to_its_bend_card_with_their_radii(LengthUnit unit)
    {
        var given = Answer(
            Benches.Find("bender-points")!,
            unit,
            n => n == "rows" ? "865 mm; 90; 0\n665 mm; 90; 90; 200 mm\n800 mm" : null
        ).Value;
        var taken = Follow(Assert.Single(given.Links!));

        Assert.Equal(given.Results[0].Value, taken.Results[0].Value);
        Assert.Contains(taken.Warnings, w => w.Contains("200 mm", StringComparison.Ordinal));
    }

    [Fact]
    public void A_notch_goes_on_to_the_plan_of_its_weld()
    {
        // 38.1 on 44.45 mm at 60°: a joint of 138.824 mm, worked in a table of joint lines; 15 runs of at most 9.525 mm.
        var notch = Answer(
            Benches.Find("notch")!,
            LengthUnit.Inch,
            n =>
                n switch
                {
                    "branchOutsideDiameterMm" => "1 1/2",
                    "branchWallMm" => "0.095",
                    "headerOutsideDiameterMm" => "1 3/4",
                    "angleDegrees" => "60",
                    _ => null,
                }
        ).Value;

        var plan = Follow(Assert.Single(notch.Links!));

        Assert.Equal("15 of 9.25 mm", plan.Results.Single(r => r.Label == "Runs").Value);
    }

    /// <summary>What the calculator behind a link answers.</summary>
    private static BenchAnswer Follow(BenchLink link)
    {
        var at = link.Href.IndexOf('?', StringComparison.Ordinal);
        var query = Microsoft.AspNetCore.WebUtilities.QueryHelpers.ParseQuery(link.Href[at..]);
        var sheet = Benches.Find(link.Href[..at])!;
        return BenchValues
            .Read(sheet, LengthUnit.Millimetre, n => query.TryGetValue(n, out var text) ? text.ToString() : null)
            .Then(sheet.Answer)
            .Value;
    }

    // FIA Appendix J art. 253 §6.2 (seen quoted): straps at most 45° below the horizontal, at most 10° advised; Motorsport UK NCR 2026 §8.1: backstays at
    // least 30° from the vertical. 200 mm run and 35.265 mm drop are 10.000°, 200 and 200 mm are 45°.
    [Theory]
    [InlineData("strap", "200", "35.26", "advised", true)]
    [InlineData("strap", "200", "35.28", "advised", false)]
    [InlineData("strap", "200", "200", "backrest", true)]
    [InlineData("strap", "200", "200.1", "backrest", false)]
    [InlineData("brace", "577.4", "1000", "Backstays", true)]
    [InlineData("brace", "577.3", "1000", "Backstays", false)]
    public void Angle_says_which_published_figure_it_meets(
        string what,
        string level,
        string upright,
        string figure,
        bool met
    )
    {
        var answer = Answer(
            Benches.Find("angles")!,
            LengthUnit.Millimetre,
            n =>
                n switch
                {
                    "what" => what,
                    "levelMm" => level,
                    "uprightMm" => upright,
                    _ => null,
                }
        ).Value;

        var said = answer.Results.Single(r => r.Label.Contains(figure, StringComparison.Ordinal));
        Assert.Equal(met ? "✓ met" : "✗ not met", said.Value);
        Assert.Contains("seen quoted", said.Explanation.Source, StringComparison.Ordinal);
    }

    private static Outcome<BenchAnswer> Answer(BenchSheet sheet, LengthUnit unit, Func<string, string?> typed) =>
        BenchValues.Read(sheet, unit, n => n == BenchValues.UnitName ? null : typed(n)).Then(sheet.Answer);

    /// <summary>As the sheet begins, and with each single choice made otherwise.</summary>
    private static IEnumerable<Func<string, string?>> Variants(BenchSheet sheet) =>
        sheet
            .Fields.Where(f => f.Kind == BenchFieldKind.Choice)
            .SelectMany(f => f.Options!.Select(o => (Func<string, string?>)(n => n == f.Name ? o.Word : null)))
            .Prepend(_ => null);
}
