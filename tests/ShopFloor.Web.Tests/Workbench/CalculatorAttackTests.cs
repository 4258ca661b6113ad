using System.Globalization;
using System.Text;
using System.Text.Json.Nodes;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Web.Tests.Workbench;

/// <summary>Figures that no workshop has, in each field of each calculator: refused by the field's name.</summary>
public sealed class CalculatorAttackTests(SqliteShop shop) : IClassFixture<SqliteShop>
{
    private const string Tube = """{"outsideDiameterMm": 45, "wallMm": 2.5, "densityKgPerM3": 7850, "lengthMm": 100}""";
    private const string Bend = """{"outsideDiameterMm": 45, "centrelineRadiusMm": 135, "angleDegrees": 90}""";
    private const string Path =
        """{"outsideDiameterMm": 45, "wallMm": 2.5, "centrelineRadiusMm": 135, "points": [{"xMm": 0, "yMm": 0, "zMm": 0}, {"xMm": 900, "yMm": 10, "zMm": 0}]}""";
    private const string Notch =
        """{"branchOutsideDiameterMm": 38, "branchWallMm": 2.5, "headerOutsideDiameterMm": 45, "angleDegrees": 60, "offsetMm": 0, "pointCount": 8}""";
    private const string Hinge =
        """{"ends": [{"name": "front", "jointRootMm": 30, "bendTangentMm": 260, "insertLengthMm": 45, "bodyLengthMm": 63.5, "clearanceMm": 5}]}""";
    private const string Heat = """{"process": "gmaw", "voltageV": 17, "currentA": 90, "travelSpeedMmPerS": 6}""";

    /// <summary>Calculator, body, field, and whether 0 and figures below it are right there.</summary>
    public static TheoryData<string, string, string, bool, bool> Fields =>
        new()
        {
            { "round-tube", Tube, "outsideDiameterMm", false, false },
            { "round-tube", Tube, "wallMm", false, false },
            { "round-tube", Tube, "densityKgPerM3", false, false },
            { "round-tube", Tube, "lengthMm", false, false },
            { "bend", Bend, "outsideDiameterMm", false, false },
            { "bend", Bend, "centrelineRadiusMm", false, false },
            { "bend", Bend, "angleDegrees", false, false },
            { "tube-path", Path, "outsideDiameterMm", false, false },
            { "tube-path", Path, "wallMm", false, false },
            { "tube-path", Path, "centrelineRadiusMm", false, false },
            { "tube-path", Path, "points[1].xMm", true, true },
            { "tube-path", Path, "points[1].yMm", true, true },
            { "tube-path", Path, "points[0].zMm", true, true },
            { "notch", Notch, "branchOutsideDiameterMm", false, false },
            { "notch", Notch, "branchWallMm", false, false },
            { "notch", Notch, "headerOutsideDiameterMm", false, false },
            { "notch", Notch, "angleDegrees", false, false },
            { "notch", Notch, "offsetMm", true, true },
            { "notch", Notch, "pointCount", false, false },
            { "hinge-cut", Hinge, "ends[0].jointRootMm", true, false },
            { "hinge-cut", Hinge, "ends[0].bendTangentMm", false, false },
            { "hinge-cut", Hinge, "ends[0].insertLengthMm", false, false },
            { "hinge-cut", Hinge, "ends[0].bodyLengthMm", false, false },
            { "hinge-cut", Hinge, "ends[0].clearanceMm", true, false },
            { "heat-input", Heat, "voltageV", false, false },
            { "heat-input", Heat, "currentA", false, false },
            { "heat-input", Heat, "travelSpeedMmPerS", false, false },
        };

    [Theory]
    [MemberData(nameof(Fields))]
    public async Task A_figure_that_cannot_be_is_refused_by_the_name_of_its_field(
        string call,
        string body,
        string field,
        bool isZeroRight,
        bool isNegativeRight
    )
    {
        using var api = await shop.ApiAsync(Role.Fabricator);
        string[] wrong =
        [
            "1e12",
            "-1e12",
            "1e999",
            "-1e999",
            "NaN",
            "Infinity",
            "\"45\"",
            .. isZeroRight ? Array.Empty<string>() : ["0"],
            .. isNegativeRight ? Array.Empty<string>() : ["-1"],
        ];
        foreach (var figure in wrong)
        {
            using var content = new StringContent(With(body, field, figure), Encoding.UTF8, "application/json");
            using var answer = await api.PostAsync(
                new Uri("/api/v1/calculators/" + call, UriKind.Relative),
                content,
                TestContext.Current.CancellationToken
            );
            var problem = await answer.JsonAsync(400);
            Assert.True(
                problem.GetProperty("errors").TryGetProperty(field, out _),
                $"{field} = {figure}: {problem.GetProperty("errors")}"
            );
        }
    }

    [Theory]
    [MemberData(nameof(Fields))]
    public async Task The_least_figures_there_are_are_answered_or_refused_by_the_name_of_their_field(
        string call,
        string body,
        string field,
        bool isZeroRight,
        bool isNegativeRight
    )
    {
        using var api = await shop.ApiAsync(Role.Fabricator);
        foreach (var figure in (string[])["5e-324", "1e-308", "1e-200", isNegativeRight ? "-5e-324" : "1e-100"])
        {
            using var content = new StringContent(With(body, field, figure), Encoding.UTF8, "application/json");
            using var answer = await api.PostAsync(
                new Uri("/api/v1/calculators/" + call, UriKind.Relative),
                content,
                TestContext.Current.CancellationToken
            );
            if (answer.IsSuccessStatusCode)
            {
                Assert.NotEmpty((await answer.JsonAsync(200)).EnumerateObject());
                continue;
            }

            var problem = await answer.JsonAsync(400);
            Assert.False(isZeroRight && isNegativeRight, $"{field} = {figure}: {problem}");
            // A wall may be too thick for so small a tube, a bend may come before its joint: then the other of the pair is named.
            Assert.NotEmpty(problem.GetProperty("errors").EnumerateObject());
        }
    }

    /// <summary>The body with one figure as it is written here, right JSON or not.</summary>
    private static string With(string body, string field, string figure)
    {
        const string mark = "\"§\"";
        var json = JsonNode.Parse(body)!;
        var at = json;
        var parts = field.Split('.');
        foreach (var part in parts[..^1])
        {
            var bracket = part.IndexOf('[', StringComparison.Ordinal);
            at = at[part[..bracket]]![int.Parse(part[(bracket + 1)..^1], CultureInfo.InvariantCulture)]!;
        }

        at[parts[^1]] = "§";
        return json.ToJsonString(
                new() { Encoder = System.Text.Encodings.Web.JavaScriptEncoder.UnsafeRelaxedJsonEscaping }
            )
            .Replace(mark, figure, StringComparison.Ordinal);
    }
}
