using System.Text.Json;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Features.Inspection;
using ShopFloor.Web.Tests.Fixtures;
using ShopFloor.Web.Tests.Intake;
using ShopFloor.Web.Tests.Jobs;
using ShopFloor.Web.Tests.Quotes;

namespace ShopFloor.Web.Tests.Forecasting;

/// <summary>Forecasts of open cars, on both databases.</summary>
public abstract class ForecastApiTests(ShopHost shop)
{
    private const string Forecasts = "/api/v1/forecasts";

    [Fact]
    public async Task A_car_has_a_day_for_half_and_for_85_of_100_and_the_same_seed_says_the_same()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var job = (await shop.SignedJobAsync()).ToString();
        await desk.GetJsonAsync($"/api/v1/jobs/{job}/forecast", 404);
        var made = await desk.PostAsync(Forecasts, new { trials = 40, seed = 3 }, 200);
        Assert.True(made.GetProperty("cars").GetInt32() >= 1);
        var first = await desk.GetJsonAsync($"/api/v1/jobs/{job}/forecast");
        Assert.True(Day(first, "p50") <= Day(first, "p85"));
        Assert.True(first.GetProperty("inputs").GetProperty("hoursLeft").GetDouble() > 1);
        Assert.Contains("in 85 of 100 cases done by", first.Text("sentence"), StringComparison.Ordinal);
        await desk.PostAsync(Forecasts, new { trials = 40, seed = 3 }, 200);
        var again = await desk.GetJsonAsync($"/api/v1/jobs/{job}/forecast");
        Assert.Equal((Day(first, "p50"), Day(first, "p85")), (Day(again, "p50"), Day(again, "p85")));

        var all = await desk.GetJsonAsync(Forecasts);
        Assert.Single(all.GetProperty("cars").EnumerateArray(), c => c.Text("jobId") == job);
        Assert.Equal(3, all.GetProperty("calibration").GetProperty("days").GetArrayLength());
        Assert.NotEmpty(all.GetProperty("takenForGranted").EnumerateArray());
    }

    [Fact]
    public async Task The_customer_reads_of_it_only_when_the_shop_shows_it()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var job = (await shop.SignedJobAsync()).ToString();
        var url = (await desk.PostAsync($"/api/v1/jobs/{job}/progress-links", new { })).Text("url");
        var path = new Uri(url).PathAndQuery;
        await desk.PostAsync(Forecasts, new { trials = 40 }, 200);
        Assert.DoesNotContain("will likely be done", await PageAsync(), StringComparison.Ordinal);
        var sharing = $"/api/v1/jobs/{job}/progress-sharing";
        await desk.PutAsync(
            sharing,
            new
            {
                showsPrices = false,
                papers = Array.Empty<string>(),
                showsForecast = true,
            }
        );
        Assert.Contains("will likely be done", await PageAsync(), StringComparison.Ordinal);
        // Whoever says nothing of it leaves it as it is.
        var after = await desk.PutAsync(sharing, new { showsPrices = true, papers = Array.Empty<string>() });
        Assert.True(after.GetProperty("showsForecast").GetBoolean());

        async Task<string> PageAsync()
        {
            using var customer = shop.CreateClient();
            return await customer.GetStringAsync(
                new Uri(path, UriKind.Relative),
                TestContext.Current.CancellationToken
            );
        }
    }

    [Fact]
    public async Task Nonsense_and_people_without_the_role_are_refused()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        await desk.PostAsync(Forecasts, new { trials = 19 }, 400);
        await desk.PostAsync(Forecasts, new { trials = 10_001 }, 400);
        await desk.PostAsync(Forecasts, new { seed = -1 }, 400);
        using var fabricator = await shop.ApiAsync(Role.Fabricator);
        await fabricator.PostAsync(Forecasts, new { }, 403);
        await desk.GetJsonAsync("/api/v1/labour-learning", 403);
    }

    [Fact]
    public async Task Without_finished_cars_nothing_is_proposed_and_nothing_can_be_accepted()
    {
        using var owner = await shop.ApiAsync(Role.Owner);
        var learned = await owner.GetJsonAsync("/api/v1/labour-learning");
        Assert.Equal(0, learned.GetProperty("operations").GetInt32());
        Assert.Empty(learned.GetProperty("proposals").EnumerateArray());
        var edition = learned.GetProperty("edition").GetInt32();
        await owner.PostAsync("/api/v1/labour-learning/accept", new { keys = Array.Empty<string>(), edition }, 400);
        await owner.PostAsync("/api/v1/labour-learning/accept", new { keys = new[] { "standard:x" }, edition }, 400);
        await owner.PostAsync(
            "/api/v1/labour-learning/accept",
            new { keys = new[] { "standard:x" }, edition = edition + 1 },
            409
        );
    }

    private static DateOnly Day(JsonElement forecast, string name) =>
        DateOnly.Parse(forecast.Text(name), System.Globalization.CultureInfo.InvariantCulture);
}

public sealed class ForecastApiOnSqlite(SqliteShop shop) : ForecastApiTests(shop), IClassFixture<SqliteShop>;

public sealed class ForecastApiOnPostgres(PostgresShop shop) : ForecastApiTests(shop), IClassFixture<PostgresShop>;
