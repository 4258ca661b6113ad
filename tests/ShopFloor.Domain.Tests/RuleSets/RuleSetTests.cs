using ShopFloor.Domain.Common;
using ShopFloor.Domain.RuleSets;

namespace ShopFloor.Domain.Tests.RuleSets;

public sealed class RuleSetTests
{
    private const string Good = """
        {
          "schema": 1, "code": "sample", "version": 1, "publisher": "Sample body", "title": "Sample book",
          "edition": "2026", "dateRead": "2026-01-02", "caution": "Look it up.",
          "figures": [
            { "code": "hoop-tube", "clause": "§1", "what": "Hoop tube", "printed": "45 × 2.5 mm (1.75 × 0.095 in)",
              "kind": "sizeAlternatives", "mark": "quoted",
              "sizes": [ { "diameter": 45, "wall": 2.5, "unit": "mm" }, { "diameter": 1.75, "wall": 0.095, "unit": "in" } ] }
          ]
        }
        """;

    [Fact]
    public void A_rule_set_is_read_with_its_sizes_as_printed_metric_and_inch_apart()
    {
        var set = RuleSetReader.Read(Good).Value;
        var figure = set.Find("hoop-tube")!;
        Assert.Equal(FigureMark.Quoted, figure.Mark);
        Assert.Equal([new TubeSize(45m, 2.5m, "mm"), new TubeSize(1.75m, 0.095m, "in")], figure.Sizes);
        Assert.Equal("Sample body, Sample book, 2026", set.Citation);
    }

    [Theory]
    [InlineData("\"mark\": \"quoted\"", "\"mark\": \"certain\"")]
    [InlineData("\"mark\": \"quoted\"", "\"mark\": 1")]
    [InlineData("\"edition\"", "\"issue\"")]
    [InlineData("\"schema\": 1,", "")]
    [InlineData("\"2026-01-02\"", "\"spring\"")]
    [InlineData("\"publisher\": \"Sample body\"", "\"publisher\": null")]
    [InlineData("\"schema\": 1,", "\"schema\": 1, \"code\": \"twice\",")]
    [InlineData("\"mark\": \"quoted\"", "\"mark\": \"Quoted\"")]
    [InlineData("}", "")]
    public void A_file_that_does_not_follow_the_layout_is_refused_with_the_place(string from, string to)
    {
        var failure = RuleSetReader.Read(Good.Replace(from, to, StringComparison.Ordinal)).Failure;
        Assert.StartsWith("$", Assert.IsType<Failure.Invalid>(failure).Errors.Single().Path, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("\"schema\": 1", "\"schema\": 2", "schema")]
    [InlineData("\"version\": 1", "\"version\": 0", "version")]
    [InlineData("\"2026-01-02\"", "\"1900-01-02\"", "dateRead")]
    [InlineData("\"clause\": \"§1\"", "\"clause\": \"\"", "figures[0].clause")]
    [InlineData("\"printed\": \"45 × 2.5 mm (1.75 × 0.095 in)\"", "\"printed\": \" \"", "figures[0].printed")]
    [InlineData("\"wall\": 2.5", "\"wall\": 22.5", "figures[0].sizes[0]")]
    [InlineData("0.095, \"unit\": \"in\"", "0.095, \"unit\": \"ft\"", "figures[0].sizes[1].unit")]
    [InlineData(
        "\"mark\": \"quoted\",",
        "\"mark\": \"quoted\", \"lower\": 2, \"upper\": 1, \"unit\": \"mm\",",
        "figures[0].lower"
    )]
    [InlineData("\"mark\": \"quoted\",", "\"mark\": \"quoted\", \"lower\": 2,", "figures[0].unit")]
    [InlineData("\"code\": \"hoop-tube\"", "\"code\": \"Hoop tube\"", "figures[0].code")]
    [InlineData("\"version\": 1,", "\"version\": 1, \"copyOf\": \"book\",", "copyOfVersion")]
    [InlineData("{ \"diameter\": 45, \"wall\": 2.5, \"unit\": \"mm\" }", "null", "figures[0].sizes[0]")]
    [InlineData("\"figures\": [", "\"figures\": [ null,", "figures[0]")]
    public void A_figure_that_says_too_little_is_refused_at_its_field(string from, string to, string path)
    {
        var failure = RuleSetReader.Read(Good.Replace(from, to, StringComparison.Ordinal)).Failure;
        Assert.Equal(path, Assert.IsType<Failure.Invalid>(failure).Errors.Single().Path);
    }

    [Fact]
    public void Common_practice_needs_no_clause()
    {
        var text = Good.Replace("\"clause\": \"§1\"", "\"clause\": \"\"", StringComparison.Ordinal)
            .Replace("\"quoted\"", "\"commonPractice\"", StringComparison.Ordinal);
        Assert.True(RuleSetReader.Read(text).IsSuccess);
    }
}
