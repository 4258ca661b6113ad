using ShopFloor.Application.Workbench;
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

    private static Outcome<BenchAnswer> Answer(BenchSheet sheet, LengthUnit unit, Func<string, string?> typed) =>
        BenchValues.Read(sheet, unit, n => n == BenchValues.UnitName ? null : typed(n)).Then(sheet.Answer);

    /// <summary>The calculator with each of its first choices.</summary>
    /// <summary>As the sheet begins, and with each single choice made otherwise.</summary>
    private static IEnumerable<Func<string, string?>> Variants(BenchSheet sheet) =>
        sheet
            .Fields.Where(f => f.Kind == BenchFieldKind.Choice)
            .SelectMany(f => f.Options!.Select(o => (Func<string, string?>)(n => n == f.Name ? o.Word : null)))
            .Prepend(_ => null);
}
