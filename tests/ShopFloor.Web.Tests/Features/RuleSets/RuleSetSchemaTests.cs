using System.Text.Json.Nodes;
using Json.Schema;
using ShopFloor.Application.RuleSets;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.RuleSets;

namespace ShopFloor.Web.Tests.Features.RuleSets;

/// <summary>The published format, held against a general validator of JSON Schema 2020-12: it takes every shipped file, and refuses what the program refuses.</summary>
public sealed class RuleSetSchemaTests
{
    private static readonly JsonSchema Schema = JsonSchema.FromText(RuleSetSchema.Text);
    private static readonly RuleSetLibrary Library = new();

    [Fact]
    public void The_schema_is_one_itself() =>
        Assert.True(MetaSchemas.Draft202012.Evaluate(JsonNode.Parse(RuleSetSchema.Text)).IsValid);

    [Fact]
    public void Every_shipped_file_follows_the_published_format()
    {
        var assembly = typeof(RuleSetLibrary).Assembly;
        var files = assembly
            .GetManifestResourceNames()
            .Where(n => n.Contains("/rule-sets/", StringComparison.Ordinal))
            .ToList();
        Assert.Equal(5, files.Count);
        foreach (var name in files)
        {
            using var stream = assembly.GetManifestResourceStream(name)!;
            Assert.True(Takes(JsonNode.Parse(stream)), name);
        }
    }

    [Fact]
    public void What_the_program_writes_as_a_file_follows_it_too() =>
        Assert.All(
            Library.Shipped,
            s =>
                Assert.True(
                    Takes(
                        JsonNode.Parse(
                            RuleSetReader.Write(s.Document with { CopyOf = s.Code, CopyOfVersion = s.Version })
                        )
                    )
                )
        );

    [Theory]
    [InlineData("schema", "2")]
    [InlineData("code", "\"No Code\"")]
    [InlineData("code", "null")]
    [InlineData("version", "0")]
    [InlineData("version", "1.5")]
    [InlineData("publisher", "\" \"")]
    [InlineData("title", "7")]
    [InlineData("edition", null)]
    [InlineData("dateRead", "\"spring\"")]
    [InlineData("dateRead", "\"1970-01-01\"")]
    [InlineData("caution", "\"\"")]
    [InlineData("figures", "[]")]
    [InlineData("figures", "[null]")]
    [InlineData("copyOf", "\"another-book\"")]
    [InlineData("sentences", "\"copied\"")]
    [InlineData("figures.code", "\"a/b\"")]
    [InlineData("figures.clause", "\"\"")]
    [InlineData("figures.what", null)]
    [InlineData("figures.printed", "\" \"")]
    [InlineData("figures.kind", "\"colour\"")]
    [InlineData("figures.mark", "\"certain\"")]
    [InlineData("figures.mark", "\"Quoted\"")]
    [InlineData("figures.lower", "\"3\"")]
    [InlineData("figures.lower", "2000000")]
    [InlineData("figures.unit", null)]
    [InlineData("figures.unit", "\" \"")]
    [InlineData("figures.kind", "\"yesNo\"")]
    [InlineData("figures.kind", "\"sizeAlternatives\"")]
    [InlineData("figures.sizes", "[{\"diameter\":45,\"wall\":2.5,\"unit\":\"mm\"}]")]
    [InlineData("figures.note", "\"x\"")]
    [InlineData("sizes.unit", "\"ft\"")]
    [InlineData("sizes.diameter", "0")]
    [InlineData("sizes.wall", "-1")]
    [InlineData("sizes.wall", null)]
    public void A_broken_file_is_refused_by_the_schema_and_by_the_program_with_the_place(string field, string? value)
    {
        // FIA's set has a figure with limits (foot-plate-thickness) and one with sizes (main-hoop-tube).
        var file = JsonNode.Parse(RuleSetReader.Write(Library.Find("fia-appendix-j-253")!.Document))!.AsObject();
        var figures = file["figures"]!.AsArray();
        var at =
            field.StartsWith("sizes.", StringComparison.Ordinal) ? figures[0]!["sizes"]![0]!.AsObject()
            : field.StartsWith("figures.", StringComparison.Ordinal)
                ? figures.Single(f => f!["code"]!.GetValue<string>() == "foot-plate-thickness")!.AsObject()
            : file;
        var name = field.Split('.')[^1];
        if (value is null)
        {
            Assert.True(at.Remove(name));
        }
        else
        {
            at[name] = JsonNode.Parse(value);
        }

        Assert.False(Takes(file), $"The schema takes {field} = {value}.");
        var failure = Assert.IsType<Failure.Invalid>(RuleSetReader.Read(file.ToJsonString()).Failure);
        Assert.All(failure.Errors, e => Assert.False(string.IsNullOrWhiteSpace(e.Text)));
        var place = field.Split('.')[0] == name ? name : field.Split('.')[0];
        Assert.Contains(
            failure.Errors,
            e =>
                e.Path == "$"
                || e.Path.Contains(place, StringComparison.Ordinal)
                || e.Text.Contains(name, StringComparison.Ordinal)
        );
    }

    private static bool Takes(JsonNode? file) => Schema.Evaluate(file).IsValid;
}
