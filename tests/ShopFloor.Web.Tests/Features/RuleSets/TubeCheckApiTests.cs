using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Web.Tests.Features.RuleSets;

/// <summary>The tube check over HTTP, against the shipped rule sets.</summary>
public abstract class TubeCheckApiTests(ShopHost shop)
{
    private const string Path = "/api/v1/rule-sets/motorsport-uk-ncr-2026/tube-check";

    private static readonly object Material = new
    {
        make = "seamless",
        grade = "E355",
        certificate = "HC 4711",
        yieldNPerMm2 = 400,
        tensileNPerMm2 = 520,
        carbonPercent = 0.18,
        manganesePercent = 1.2,
        othersPercent = 0.3,
    };

    [Fact]
    public async Task A_tube_is_held_against_the_printed_sizes_metric_and_inch_apart()
    {
        using var floor = await shop.ApiAsync(Role.Fabricator);
        var good = await floor.PostAsync(
            Path,
            new
            {
                figure = "mandatory-tube",
                ordered = Size(1.75, 0.095, "in"),
                measured = new
                {
                    diameter = 1.751,
                    wall = 0.094,
                    diameterTolerance = 0.005,
                    wallTolerance = 0.005,
                },
                material = Material,
                bends = new[]
                {
                    new
                    {
                        centrelineRadius = 6,
                        majorDiameter = 1.76,
                        minorDiameter = 1.7,
                        hasWrinkles = false,
                    },
                },
            },
            200
        );
        Assert.Equal("meets", good.GetProperty("verdict").GetString());
        Assert.Contains("scrutineer decides", good.GetProperty("advice").GetString(), StringComparison.Ordinal);
        Assert.Contains("never prove", good.GetProperty("sectionsAre").GetString(), StringComparison.Ordinal);

        var metric = await floor.PostAsync(
            Path,
            new
            {
                figure = "mandatory-tube",
                ordered = Size(44.45, 2.413, "mm"),
                material = Material,
            },
            200
        );
        Assert.Equal("doesNotMeet", metric.GetProperty("verdict").GetString());
        Assert.Equal(
            "§20.1, p. 256",
            metric.GetProperty("findings")[0].GetProperty("figure").GetProperty("clause").GetString()
        );
    }

    [Fact]
    public async Task What_cannot_be_compared_is_refused_at_its_field()
    {
        using var floor = await shop.ApiAsync(Role.Fabricator);
        var missing = await floor.PostAsync(Path, new { ordered = new { unit = "mm" } }, 400);
        foreach (var field in new[] { "figure", "ordered.diameter", "ordered.wall" })
        {
            Assert.Contains(field, missing.GetProperty("errors").GetRawText(), StringComparison.Ordinal);
        }

        await floor.PostAsync(
            Path,
            new
            {
                figure = "mandatory-tube",
                ordered = Size(45, 2.5, "mm"),
                material = new { make = "cast" },
            },
            400
        );
        await floor.PostAsync(
            "/api/v1/rule-sets/no-such/tube-check",
            new { figure = "mandatory-tube", ordered = Size(45, 2.5, "mm") },
            404
        );
    }

    private static object Size(double diameter, double wall, string unit) =>
        new
        {
            diameter,
            wall,
            unit,
        };
}

public sealed class TubeCheckApiOnSqlite(SqliteShop shop) : TubeCheckApiTests(shop), IClassFixture<SqliteShop>;

public sealed class TubeCheckApiOnPostgres(PostgresShop shop) : TubeCheckApiTests(shop), IClassFixture<PostgresShop>;
