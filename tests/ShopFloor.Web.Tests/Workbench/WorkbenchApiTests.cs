using System.Text;
using System.Text.Json;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Web.Tests.Workbench;

/// <summary>The calculators of the workbench by the contract of the API. They store nothing, so one database is enough; the figures are checked in the domain's tests.</summary>
public sealed class WorkbenchApiTests(SqliteShop shop) : IClassFixture<SqliteShop>
{
    private const string Root = "/api/v1/calculators/";

    [Fact]
    public async Task Round_tube_answers_with_section_and_mass()
    {
        var tube = await AskAsync("round-tube", """{"outsideDiameterMm": 45, "wallMm": 2.5, "lengthMm": 6000}""");

        Assert.Equal(333.794, tube.GetProperty("areaMm2").GetDouble(), 1e-3);
        Assert.Equal(75625.3, tube.GetProperty("secondMomentMm4").GetDouble(), 0.1);
        Assert.Equal(3361.12, tube.GetProperty("sectionModulusMm3").GetDouble(), 1e-2);
        Assert.Equal(4520.83, tube.GetProperty("plasticModulusMm3").GetDouble(), 1e-2);
        Assert.Equal(15.052, tube.GetProperty("radiusOfGyrationMm").GetDouble(), 1e-3);
        Assert.Equal(2.6203, tube.GetProperty("massKgPerM").GetDouble(), 1e-4);
        Assert.Equal(6 * tube.GetProperty("massKgPerM").GetDouble(), tube.GetProperty("massKg").GetDouble(), 1e-9);
    }

    [Fact]
    public async Task Bend_answers_with_arcs_and_ratio()
    {
        var bend = await AskAsync(
            "bend",
            """{"outsideDiameterMm": 45, "centrelineRadiusMm": 135, "angleDegrees": 90}"""
        );

        Assert.Equal(212.0575, bend.GetProperty("arcLengthMm").GetDouble(), 1e-4);
        Assert.Equal(135, bend.GetProperty("setbackMm").GetDouble(), 1e-9);
        Assert.Equal(Math.PI / 2 * 157.5, bend.GetProperty("outerArcMm").GetDouble(), 1e-9);
        Assert.Equal(Math.PI / 2 * 112.5, bend.GetProperty("innerArcMm").GetDouble(), 1e-9);
        Assert.Equal(3, bend.GetProperty("radiusToDiameter").GetDouble(), 1e-12);
    }

    [Fact]
    public async Task Tube_path_answers_with_straights_bends_and_marks()
    {
        var path = await AskAsync(
            "tube-path",
            """
            {"outsideDiameterMm": 45, "wallMm": 2.5, "centrelineRadiusMm": 135, "points": [
              {"xMm": 0, "yMm": 0, "zMm": 0}, {"xMm": 0, "yMm": 0, "zMm": 1000},
              {"xMm": 1000, "yMm": 0, "zMm": 1000}, {"xMm": 1000, "yMm": 800, "zMm": 1000}]}
            """
        );

        Assert.Equal(2684.1150, path.GetProperty("cutLengthMm").GetDouble(), 1e-4);
        Assert.Equal(
            [865.0, 730.0, 665.0],
            path.GetProperty("straights")
                .EnumerateArray()
                .Select(s => Math.Round(s.GetProperty("lengthMm").GetDouble(), 9))
        );
        var second = path.GetProperty("bends")[1];
        Assert.Equal(90, second.GetProperty("rotationDegrees").GetDouble(), 1e-9);
        Assert.Equal(865 + 212.0575 + 730, second.GetProperty("startMarkMm").GetDouble(), 1e-4);
        Assert.Equal(
            212.0575,
            second.GetProperty("endMarkMm").GetDouble() - second.GetProperty("startMarkMm").GetDouble(),
            1e-4
        );
        Assert.True(path.GetProperty("massKg").GetDouble() > 7);
    }

    [Fact]
    public async Task Notch_is_the_seat_at_72_points_when_nothing_else_is_said()
    {
        const string tubes =
            "\"branchOutsideDiameterMm\": 44.45, \"branchWallMm\": 2.413, \"headerOutsideDiameterMm\": 44.45, \"angleDegrees\": 90";
        var seat = await AskAsync("notch", $"{{{tubes}}}");
        var outside = await AskAsync("notch", $"{{{tubes}, \"edge\": \"outside\", \"pointCount\": 8}}");

        Assert.Equal(72, seat.GetProperty("points").GetArrayLength());
        // A square joint of equal tubes touches first with the inside of its wall.
        Assert.Equal(10.0715, seat.GetProperty("minimumAxialMm").GetDouble(), 1e-4);
        Assert.Equal(22.2250, seat.GetProperty("maximumAxialMm").GetDouble(), 1e-9);
        Assert.Equal(139.6438, seat.GetProperty("circumferenceMm").GetDouble(), 1e-4);
        Assert.Equal(15.7154, outside.GetProperty("points")[1].GetProperty("axialMm").GetDouble(), 1e-4);
        Assert.Equal(17.4555, outside.GetProperty("points")[1].GetProperty("aroundMm").GetDouble(), 1e-4);
        Assert.Equal(45, outside.GetProperty("points")[1].GetProperty("aroundDegrees").GetDouble());
    }

    [Fact]
    public async Task Hinge_that_does_not_fit_is_an_answer_with_reasons()
    {
        var cuts = await AskAsync(
            "hinge-cut",
            """
            {"ends": [
              {"name": "front", "jointRootMm": 30, "bendTangentMm": 260, "insertLengthMm": 45, "bodyLengthMm": 63.5, "clearanceMm": 5, "prefer": "nearJoint"},
              {"name": "rear", "jointRootMm": 30, "bendTangentMm": 150, "insertLengthMm": 45, "bodyLengthMm": 63.5}]}
            """
        );

        var (front, rear) = (cuts.GetProperty("ends")[0], cuts.GetProperty("ends")[1]);
        Assert.Equal(
            (true, 80.0, 143.5),
            (
                front.GetProperty("isPossible").GetBoolean(),
                front.GetProperty("firstCutMm").GetDouble(),
                front.GetProperty("secondCutMm").GetDouble()
            )
        );
        Assert.False(rear.GetProperty("isPossible").GetBoolean());
        Assert.Equal(JsonValueKind.Null, rear.GetProperty("firstCutMm").ValueKind);
        Assert.Equal(JsonValueKind.Null, rear.GetProperty("secondCutMm").ValueKind);
        Assert.Equal(33.5, rear.GetProperty("shortfallMm").GetDouble(), 1e-9);
        Assert.True(rear.GetProperty("reasons").GetArrayLength() > 1);
        Assert.Equal(63.5, cuts.GetProperty("removedMm").GetDouble());
    }

    [Fact]
    public async Task Heat_input_answers_with_its_efficiency_and_source()
    {
        var heat = await AskAsync(
            "heat-input",
            """{"process": "gtaw", "voltageV": 12, "currentA": 90, "travelSpeedMmPerS": 1.5}"""
        );

        Assert.Equal(0.6, heat.GetProperty("thermalEfficiency").GetDouble());
        Assert.Equal(0.432, heat.GetProperty("heatInputKjPerMm").GetDouble(), 1e-12);
        Assert.Contains("EN 1011-1", heat.GetProperty("source").GetString(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("round-tube", """{"wallMm": 2.5}""", "outsideDiameterMm")]
    [InlineData("round-tube", """{"outsideDiameterMm": 45, "wallMm": 1e999}""", "wallMm")]
    [InlineData("round-tube", """{"outsideDiameterMm": 1000000000000, "wallMm": 2.5}""", "outsideDiameterMm")]
    [InlineData("round-tube", """{"outsideDiameterMm": 45, "wallMm": 2.5, "densityKgPerM3": 0}""", "densityKgPerM3")]
    [InlineData("round-tube", """{"outsideDiameterMm": 45, "wallMm": 2.5, "lengthMm": -1}""", "lengthMm")]
    [InlineData(
        "bend",
        """{"outsideDiameterMm": 45, "centrelineRadiusMm": 135, "angleDegrees": 180}""",
        "angleDegrees"
    )]
    [InlineData(
        "bend",
        """{"outsideDiameterMm": 45, "centrelineRadiusMm": 20, "angleDegrees": 90}""",
        "centrelineRadiusMm"
    )]
    [InlineData("tube-path", """{"outsideDiameterMm": 45, "wallMm": 2.5, "centrelineRadiusMm": 135}""", "points")]
    [InlineData(
        "tube-path",
        """{"outsideDiameterMm": 45, "wallMm": 2.5, "centrelineRadiusMm": 135, "points": [{"xMm": 0, "yMm": 0, "zMm": 0}, {"xMm": 1, "zMm": 0}]}""",
        "points[1].yMm"
    )]
    [InlineData(
        "tube-path",
        """{"outsideDiameterMm": 45, "wallMm": 2.5, "centrelineRadiusMm": 135, "points": [{"xMm": 0, "yMm": 0, "zMm": 0}, null]}""",
        "points[1].xMm"
    )]
    [InlineData(
        "notch",
        """{"branchOutsideDiameterMm": 38, "branchWallMm": 2.5, "headerOutsideDiameterMm": 45, "angleDegrees": 0}""",
        "angleDegrees"
    )]
    [InlineData(
        "notch",
        """{"branchOutsideDiameterMm": 38, "branchWallMm": 2.5, "headerOutsideDiameterMm": 45, "angleDegrees": 60, "edge": "Seat"}""",
        "edge"
    )]
    [InlineData(
        "notch",
        """{"branchOutsideDiameterMm": 38, "branchWallMm": 2.5, "headerOutsideDiameterMm": 45, "angleDegrees": 60, "offsetMm": 4}""",
        "offsetMm"
    )]
    [InlineData(
        "notch",
        """{"branchOutsideDiameterMm": 38, "branchWallMm": 2.5, "headerOutsideDiameterMm": 45, "angleDegrees": 60, "pointCount": 1000000}""",
        "pointCount"
    )]
    [InlineData("hinge-cut", """{"ends": []}""", "ends")]
    [InlineData(
        "hinge-cut",
        """{"ends": [{"name": "a", "jointRootMm": 30, "bendTangentMm": 20, "insertLengthMm": 45, "bodyLengthMm": 63.5}]}""",
        "ends[0].bendTangentMm"
    )]
    [InlineData(
        "heat-input",
        """{"process": "laser", "voltageV": 12, "currentA": 90, "travelSpeedMmPerS": 1.5}""",
        "process"
    )]
    [InlineData("heat-input", """{"voltageV": 12, "currentA": 90, "travelSpeedMmPerS": 1.5}""", "process")]
    [InlineData(
        "heat-input",
        """{"process": "gmaw", "voltageV": 12, "currentA": 90, "travelSpeedMmPerS": 0}""",
        "travelSpeedMmPerS"
    )]
    public async Task Wrong_input_is_said_at_its_field(string call, string body, string path)
    {
        var problem = await AskAsync(call, body, 400);

        Assert.True(problem.GetProperty("errors").TryGetProperty(path, out var texts), problem.ToString());
        Assert.NotEmpty(texts[0].GetString()!);
    }

    [Theory]
    [InlineData("round-tube", """{"outsideDiameterMm": "45", "wallMm": 2.5}""")]
    [InlineData("round-tube", """{"outsideDiameterMm": NaN, "wallMm": 2.5}""")]
    [InlineData("round-tube", """{"OutsideDiameterMm": 45, "wallMm": 2.5}""")]
    [InlineData("round-tube", """{"outsideDiameterMm": 45, "outsideDiameterMm": 45, "wallMm": 2.5}""")]
    [InlineData("notch", """{"edges": "seat"}""")]
    public async Task Json_is_read_strictly(string call, string body) => await AskAsync(call, body, 400);

    private async Task<JsonElement> AskAsync(string call, string body, int status = 200)
    {
        using var api = await shop.ApiAsync(Role.Fabricator);
        using var content = new StringContent(body, Encoding.UTF8, "application/json");
        using var answer = await api.PostAsync(
            new Uri(Root + call, UriKind.Relative),
            content,
            TestContext.Current.CancellationToken
        );
        return await answer.JsonAsync(status);
    }
}
