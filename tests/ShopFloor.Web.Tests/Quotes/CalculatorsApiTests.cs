using System.Text;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Web.Tests.Quotes;

/// <summary>The calculators store nothing, so one database is enough.</summary>
public sealed class CalculatorsApiTests(SqliteShop shop) : IClassFixture<SqliteShop>
{
    private const string Totals = "/api/v1/calculators/totals";

    [Fact]
    public async Task Totals_answer_with_every_figure_of_the_contract()
    {
        using var api = await shop.ApiAsync(Role.Fabricator);
        var answer = await api.PostAsync(
            Totals,
            new
            {
                currency = "USD",
                lines = new object[]
                {
                    new
                    {
                        description = "Bar",
                        quantity = 1,
                        unitPriceMinor = 620,
                        taxCodes = new[] { "s" },
                    },
                    new
                    {
                        description = "Hours",
                        quantity = 2.5,
                        unitPriceMinor = 1000,
                    },
                },
                discountMinor = 120,
                taxes = new[] { new { code = "s", ratePercent = 7.5 } },
                tradeCreditMinor = 1000,
            },
            200
        );

        // 6.20 + 25.00; discount 1.20 shared 620 : 2500 → 24 and 96 (23.85, 96.15 by largest remainder); tax 7.5 % of 5.96 = 0.447 → 0.45.
        Assert.Equal([24L, 96L], answer.GetProperty("lines").EnumerateArray().Select(l => l.Number("discountMinor")));
        Assert.Equal([596L, 2404L], answer.GetProperty("lines").EnumerateArray().Select(l => l.Number("taxableMinor")));
        Assert.Equal(
            (3120L, 120L, 45L),
            (answer.Number("subtotalMinor"), answer.Number("discountMinor"), answer.Number("taxMinor"))
        );
        Assert.Equal(
            (3045L, 1000L, 2045L),
            (answer.Number("totalMinor"), answer.Number("tradeCreditMinor"), answer.Number("amountDueMinor"))
        );
        Assert.Equal(
            ("s", 596L, 45L),
            (
                answer.GetProperty("taxes")[0].Text("code"),
                answer.GetProperty("taxes")[0].Number("taxableMinor"),
                answer.GetProperty("taxes")[0].Number("taxMinor")
            )
        );
    }

    [Theory]
    [InlineData(
        """{"currency":"usd","lines":[{"description":"a","quantity":1,"unitPriceMinor":1}],"taxes":[]}""",
        "currency"
    )]
    [InlineData("""{"lines":[{"description":"a","quantity":1,"unitPriceMinor":1}],"taxes":[]}""", "currency")]
    [InlineData("""{"currency":"USD","taxes":[]}""", "lines")]
    [InlineData("""{"currency":"USD","lines":[],"taxes":[]}""", "lines")]
    [InlineData("""{"currency":"USD","lines":[null],"taxes":[]}""", "lines[0].quantity")]
    [InlineData(
        """{"currency":"USD","lines":[{"quantity":1,"unitPriceMinor":1}],"taxes":[]}""",
        "lines[0].description"
    )]
    [InlineData(
        """{"currency":"USD","lines":[{"description":"a","quantity":"1","unitPriceMinor":1}],"taxes":[]}""",
        "lines[0].quantity"
    )]
    [InlineData(
        """{"currency":"USD","lines":[{"description":"a","quantity":1,"unitPriceMinor":1.5}],"taxes":[]}""",
        "lines[0].unitPriceMinor"
    )]
    [InlineData(
        """{"currency":"USD","lines":[{"description":"a","quantity":1,"unitPriceMinor":1,"taxCodes":["x"]}],"taxes":[]}""",
        "lines[0].taxCodes[0]"
    )]
    [InlineData(
        """{"currency":"USD","rounding":"up","lines":[{"description":"a","quantity":1,"unitPriceMinor":1}],"taxes":[]}""",
        "rounding"
    )]
    [InlineData(
        """{"currency":"USD","lines":[{"description":"a","quantity":1,"unitPriceMinor":1}],"taxes":[{"code":"a"}]}""",
        "taxes[0].ratePercent"
    )]
    [InlineData(
        """{"currency":"USD","lines":[{"description":"a","quantity":1,"unitPriceMinor":1}],"taxes":[],"discountPercent":1,"discountMinor":1}""",
        "discountMinor"
    )]
    [InlineData(
        """{"currency":"USD","lines":[{"description":"a","quantity":0.00000000000000000000000000000000000001,"unitPriceMinor":1}],"taxes":[]}""",
        "lines[0].quantity"
    )]
    [InlineData(
        """{"currency":"USD","lines":[{"description":"a","quantity":1e400,"unitPriceMinor":1}],"taxes":[]}""",
        "lines[0].quantity"
    )]
    [InlineData(
        """{"currency":"USD","lines":[{"description":"a","quantity":1.0000000000000000000000000000001,"unitPriceMinor":1}],"taxes":[]}""",
        "lines[0].quantity"
    )]
    public async Task Bad_totals_are_named_at_their_field(string body, string path)
    {
        using var api = await shop.ApiAsync(Role.Fabricator);
        using var content = new StringContent(body, Encoding.UTF8, "application/json");
        using var response = await api.PostAsync(Totals, content, TestContext.Current.CancellationToken);

        var problem = await response.JsonAsync(400);

        Assert.True(problem.GetProperty("errors").TryGetProperty(path, out _), problem.ToString());
    }

    [Fact]
    public async Task Ten_thousand_lines_are_added_up_and_one_more_is_refused()
    {
        using var api = await shop.ApiAsync(Role.Fabricator);
        var line = new
        {
            description = new string('x', 200),
            quantity = 0.000001,
            unitPriceMinor = 1_000_000,
            taxCodes = new[] { "s" },
        };
        var taxes = new[] { new { code = "s", ratePercent = 10 } };

        var answer = await api.PostAsync(
            Totals,
            new
            {
                currency = "USD",
                lines = Enumerable.Repeat(line, 10_000),
                taxes,
            },
            200
        );
        var problem = await api.PostAsync(
            Totals,
            new
            {
                currency = "USD",
                lines = Enumerable.Repeat(line, 10_001),
                taxes,
            },
            400
        );

        Assert.Equal((10_000L, 1_000L), (answer.Number("subtotalMinor"), answer.Number("taxMinor")));
        Assert.True(problem.GetProperty("errors").TryGetProperty("lines", out _));
    }

    [Fact]
    public async Task Three_points_give_mean_deviation_and_both_confidences()
    {
        using var api = await shop.ApiAsync(Role.Fabricator);
        var answer = await api.PostAsync(
            "/api/v1/calculators/three-point",
            new
            {
                items = new[]
                {
                    new
                    {
                        lowHours = 2,
                        likelyHours = 4,
                        highHours = 9,
                    },
                },
            },
            200
        );

        Assert.Equal(4.5, answer.GetProperty("meanHours").GetDouble(), 1e-12);
        Assert.Equal(7.0 / 6, answer.GetProperty("standardDeviationHours").GetDouble(), 1e-12);
        Assert.Equal(4.5, answer.GetProperty("p50Hours").GetDouble(), 1e-12);
        Assert.Equal(5.48189143918424, answer.GetProperty("p80Hours").GetDouble(), 1e-9);
        var bad = await api.PostAsync(
            "/api/v1/calculators/three-point",
            new { items = new[] { new { lowHours = 2 } } },
            400
        );
        Assert.True(bad.GetProperty("errors").TryGetProperty("items[0].likelyHours", out _));
    }
}
