using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Features.Inspection;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Web.Tests.Features.Week;

/// <summary>The owner's week, on both databases.</summary>
public abstract class WeekApiTests(ShopHost shop)
{
    private const string Path = "/api/v1/reports/week";

    [Fact]
    public async Task Each_figure_carries_the_jobs_behind_it()
    {
        var car = await CarStory.BeginAsync(shop);
        var start = StartOfToday();
        await car.Fabricator.PostAsync($"{car.JobPath}/operations/10/start", new { }, 200);
        shop.Clock.Advance(TimeSpan.FromHours(2));
        await car.Fabricator.PostAsync($"{car.JobPath}/operations/10/finish", new { }, 200);
        await car.Fabricator.PostAsync(
            $"{car.JobPath}/operations/20/hold",
            new { reason = "safetyConcern", note = "Smell of fuel" },
            200
        );
        await car.Desk.PostAsync($"{car.JobPath}/account/deposits", new { amountMinor = 25_000, method = "card" }, 200);

        var report = await car.Owner.GetJsonAsync($"{Path}?start={start:yyyy-MM-dd}");
        Assert.False(report.GetProperty("isOver").GetBoolean());
        Assert.Equal("EUR", report.GetProperty("currency").GetString());
        Assert.Equal(2m, Mine(report, "hoursLogged", car).GetProperty("hours").GetDecimal());
        Assert.True(Mine(report, "workInHand", car).GetProperty("hoursEstimated").GetDecimal() > 0);
        Assert.Equal(25_000, Mine(report, "moneyTaken", car).GetProperty("amountMinor").GetInt64());
        var blocked = Mine(report, "blocked", car);
        Assert.Equal("20", blocked.GetProperty("operation").GetString());
        Assert.Contains("Smell of fuel", blocked.GetProperty("why").GetString(), StringComparison.Ordinal);
        Assert.Equal(
            report.GetProperty("hoursLogged").GetProperty("hours").GetDecimal(),
            report
                .GetProperty("hoursLogged")
                .GetProperty("jobs")
                .EnumerateArray()
                .Sum(j => j.GetProperty("hours").GetDecimal())
        );
    }

    [Fact]
    public async Task A_finished_car_moves_from_in_hand_to_finished_and_back_when_the_sign_off_is_withdrawn()
    {
        var car = await CarStory.BeginAsync(shop);
        await car.WorkUntilAsync();
        await car.SignOffAsync();
        var start = StartOfToday();
        var signed = await car.Owner.GetJsonAsync($"{Path}?start={start:yyyy-MM-dd}");
        var row = Mine(signed, "carsFinished", car);
        Assert.True(row.GetProperty("hoursLogged").GetDecimal() > 0);
        Assert.False(Has(signed, "workInHand", car));
        await car.Inspector.PostAsync($"{car.JobPath}/sign-off/withdraw", new { reason = "Pin loose" }, 200);
        var withdrawn = await car.Owner.GetJsonAsync($"{Path}?start={start:yyyy-MM-dd}");
        Assert.False(Has(withdrawn, "carsFinished", car));
        Assert.True(Has(withdrawn, "workInHand", car));
    }

    [Fact]
    public async Task A_day_that_is_none_is_refused_at_its_field_and_no_day_means_this_weeks_monday()
    {
        using var owner = await shop.ApiAsync(Role.Owner);
        foreach (var start in new[] { "2026-02-30", "yesterday", "06.05.2026", "1900-01-01" })
        {
            var problem = await owner.GetJsonAsync($"{Path}?start={start}", 400);
            Assert.True(problem.GetProperty("errors").TryGetProperty("start", out _), start);
        }

        var report = await owner.GetJsonAsync(Path);
        Assert.Equal(
            DayOfWeek.Monday,
            DateOnly
                .Parse(report.GetProperty("start").GetString()!, System.Globalization.CultureInfo.InvariantCulture)
                .DayOfWeek
        );
    }

    [Fact]
    public async Task Only_the_owner_sees_it()
    {
        foreach (var role in new[] { Role.FrontDesk, Role.Fabricator, Role.Inspector })
        {
            using var api = await shop.ApiAsync(role);
            await api.GetJsonAsync(Path, 403);
        }
    }

    private DateOnly StartOfToday() =>
        DateOnly.FromDateTime(
            TimeZoneInfo
                .ConvertTime(shop.Clock.GetUtcNow(), TimeZoneInfo.FindSystemTimeZoneById("Europe/Berlin"))
                .DateTime
        );

    private static bool Has(System.Text.Json.JsonElement report, string figure, CarStory car) =>
        report
            .GetProperty(figure)
            .GetProperty("jobs")
            .EnumerateArray()
            .Any(j => j.GetProperty("job").GetProperty("id").GetString() == car.JobId);

    private static System.Text.Json.JsonElement Mine(
        System.Text.Json.JsonElement report,
        string figure,
        CarStory car
    ) =>
        report
            .GetProperty(figure)
            .GetProperty("jobs")
            .EnumerateArray()
            .Single(j => j.GetProperty("job").GetProperty("id").GetString() == car.JobId);
}

public sealed class WeekApiOnSqlite(SqliteShop shop) : WeekApiTests(shop), IClassFixture<SqliteShop>;

public sealed class WeekApiOnPostgres(PostgresShop shop) : WeekApiTests(shop), IClassFixture<PostgresShop>;
