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
    public async Task Figures_of_a_range_tie_out_open_to_their_rows_and_are_files_too()
    {
        var car = await CarStory.BeginAsync(shop);
        var day = StartOfToday();
        await car.Fabricator.PostAsync($"{car.JobPath}/operations/10/start", new { }, 200);
        shop.Clock.Advance(TimeSpan.FromHours(2));
        await car.Fabricator.PostAsync($"{car.JobPath}/operations/10/finish", new { }, 200);
        await car.Fabricator.PostAsync(
            $"{car.JobPath}/operations/20/hold",
            new { reason = "safetyConcern", note = "Smell of fuel" },
            200
        );
        shop.Clock.Advance(TimeSpan.FromHours(3));
        await car.Desk.PostAsync($"{car.JobPath}/account/deposits", new { amountMinor = 25_000, method = "card" }, 200);

        // The shop's clock may have passed midnight: two days hold both.
        var query = $"start={day:yyyy-MM-dd}&end={day.AddDays(1):yyyy-MM-dd}";
        var report = await car.Owner.GetJsonAsync($"{Path}?{query}");
        Assert.Equal($"{day.AddDays(1):yyyy-MM-dd}", report.GetProperty("end").GetString());
        Assert.All(
            report.GetProperty("tieOuts").EnumerateArray(),
            t => Assert.True(t.GetProperty("holds").GetBoolean(), t.ToString())
        );
        Assert.Equal(5, report.GetProperty("tieOuts").GetArrayLength());
        Assert.Equal(2m, RowOf(report, "hoursByJob", car).GetProperty("amount").GetDecimal());
        Assert.Equal(25_000m, RowOf(report, "cashIn", car).GetProperty("amount").GetDecimal());
        Assert.Equal(25_000m, RowOf(report, "depositsHeld", car).GetProperty("amount").GetDecimal());
        Assert.True(RowOf(report, "balancesOpen", car).GetProperty("amount").GetDecimal() > 0);
        var touch = RowOf(report, "touch", car);
        Assert.Equal(2m, touch.GetProperty("amount").GetDecimal());
        Assert.True(touch.GetProperty("other").GetDecimal() >= 3);
        var ribbon = report
            .GetProperty("cars")
            .EnumerateArray()
            .Single(c => c.GetProperty("job").GetProperty("id").GetString() == car.JobId)
            .GetProperty("ribbon")
            .EnumerateArray()
            .ToList();
        Assert.Contains(
            ribbon,
            p => p.GetProperty("waitingFor").GetString()?.StartsWith("on hold: ", StringComparison.Ordinal) == true
        );
        Assert.Equal(
            120,
            ribbon
                .Where(p => p.GetProperty("waitingFor").ValueKind == System.Text.Json.JsonValueKind.Null)
                .Sum(p => p.GetProperty("minutes").GetInt64())
        );
        Assert.All(
            ribbon.Zip(ribbon.Skip(1)),
            p => Assert.Equal(p.First.GetProperty("untilAt").GetString(), p.Second.GetProperty("fromAt").GetString())
        );

        var definitions = (await car.Owner.GetJsonAsync($"{Path}/definitions")).EnumerateArray().ToList();
        var figures = report.GetProperty("figures").EnumerateArray().ToList();
        Assert.Equal(
            definitions.Select(d => d.GetProperty("definition").GetString()),
            figures.Select(f => f.GetProperty("definition").GetString())
        );
        foreach (
            var code in figures.Select(f => f.GetProperty("code").GetString()!).Append("figures").Append("ribbons")
        )
        {
            var csv = await car.Owner.GetStringAsync(
                new Uri($"{Path}/tables/{code}?{query}", UriKind.Relative),
                TestContext.Current.CancellationToken
            );
            var lines = CsvText.Read(csv, 10_000_000).Value;
            Assert.Single(lines.Select(l => l.Cells.Count).Distinct());
            Assert.EndsWith("\r\n", csv, StringComparison.Ordinal);
            if (
                figures.Find(f => f.GetProperty("code").GetString() == code) is
                { ValueKind: not System.Text.Json.JsonValueKind.Undefined } figure
            )
            {
                Assert.Equal(figure.GetProperty("rows").GetArrayLength() + 1, lines.Count);
            }
        }

        await car.Owner.GetJsonAsync($"{Path}/tables/nothing?{query}", 404);
    }

    [Fact]
    public async Task A_signed_off_car_has_its_cycle_time_promise_and_hours_and_is_past_for_the_next()
    {
        var car = await CarStory.BeginAsync(shop);
        await car.WorkUntilAsync();
        await car.SignOffAsync();
        var day = StartOfToday();
        var report = await car.Owner.GetJsonAsync($"{Path}?start={day.AddDays(-30):yyyy-MM-dd}&end={day:yyyy-MM-dd}");
        Assert.True(RowOf(report, "cycleMedian", car).GetProperty("amount").GetDecimal() >= 0);
        Assert.True(RowOf(report, "hoursEstimated", car).GetProperty("other").GetDecimal() > 0);
        Assert.True(RowOf(report, "finished", car).GetProperty("label").GetString()!.Length > 0);
        Assert.Equal(8, FigureOf(report, "phaseTimes").GetProperty("rows").GetArrayLength());
        var open = await CarStory.BeginAsync(shop);
        await open.Fabricator.PostAsync($"{open.JobPath}/operations/10/start", new { }, 200);
        shop.Clock.Advance(TimeSpan.FromMinutes(5));
        var later = await open.Owner.GetJsonAsync($"{Path}?start={StartOfToday():yyyy-MM-dd}");
        Assert.InRange(RowOf(later, "ageing", open).GetProperty("other").GetDecimal(), 0, 100);
    }

    [Fact]
    public async Task Margin_takes_labour_off_at_the_price_books_cost_and_says_the_same_on_the_jobs_costs()
    {
        var car = await CarStory.BeginAsync(shop);
        await car.WorkUntilAsync();
        await car.SignOffAsync();
        var today = StartOfToday();
        await car.Desk.PostAsync(
            $"{car.JobPath}/costs",
            new
            {
                kind = "supplierBill",
                supplier = "Marram Tube Supply",
                amountMinor = 12_345,
                on = $"{today:yyyy-MM-dd}",
            },
            200
        );

        var costs = await car.Desk.GetJsonAsync($"{car.JobPath}/costs");
        var labour = costs.GetProperty("labourMinor").GetInt64();
        Assert.True(labour > 0 && costs.GetProperty("labourMinutes").GetInt64() > 0);
        Assert.Equal(
            costs.GetProperty("agreedNetMinor").GetInt64() - 12_345 - labour,
            costs.GetProperty("marginMinor").GetInt64()
        );
        Assert.Equal(System.Text.Json.JsonValueKind.Null, costs.GetProperty("labourRemark").ValueKind);
        Assert.StartsWith("Price book ", costs.GetProperty("labour").GetProperty("source").GetString());

        var report = await car.Owner.GetJsonAsync(
            $"{Path}?start={today.AddDays(-30):yyyy-MM-dd}&end={today:yyyy-MM-dd}"
        );
        var row = RowOf(report, "margin", car);
        Assert.Equal((12_345m, labour), (row.GetProperty("other").GetDecimal(), row.GetProperty("third").GetInt64()));
        Assert.All(
            report.GetProperty("tieOuts").EnumerateArray(),
            t => Assert.True(t.GetProperty("holds").GetBoolean(), t.ToString())
        );
        var week = await car.Owner.GetJsonAsync(
            $"{Path}?start={today.AddDays(-(((int)today.DayOfWeek + 6) % 7)):yyyy-MM-dd}"
        );
        var flow = week.GetProperty("flow").EnumerateArray().ToList();
        Assert.Equal(12, flow.Count);
        Assert.Equal(
            new[] { "takenIn", "finished", "inHandByPhase" }.Select(c =>
                FigureOf(week, c).GetProperty("value").GetInt32()
            ),
            new[] { "takenIn", "finished", "inHand" }.Select(c => flow[^1].GetProperty(c).GetInt32())
        );
    }

    [Fact]
    public async Task Ranges_that_are_none_are_refused_at_the_day_that_is_wrong()
    {
        using var owner = await shop.ApiAsync(Role.Owner);
        foreach (
            var (query, field) in new[]
            {
                ("start=2026-03-02&end=2026-03-01", "end"),
                ("start=2026-03-02&end=2027-03-03", "end"),
                ("start=2026-03-02&end=tomorrow", "end"),
                ("end=2026-03-02", "start"),
            }
        )
        {
            foreach (var path in new[] { Path, $"{Path}/tables/figures" })
            {
                var problem = await owner.GetJsonAsync($"{path}?{query}", 400);
                Assert.True(problem.GetProperty("errors").TryGetProperty(field, out _), query);
            }
        }

        var year = await owner.GetJsonAsync($"{Path}?start=2026-03-02&end=2027-03-02");
        Assert.Equal("2027-03-02", year.GetProperty("end").GetString());
    }

    [Fact]
    public async Task Only_the_owner_sees_it()
    {
        foreach (var role in new[] { Role.FrontDesk, Role.Fabricator, Role.Inspector })
        {
            using var api = await shop.ApiAsync(role);
            foreach (var path in new[] { Path, $"{Path}/definitions", $"{Path}/tables/margin" })
            {
                await api.GetJsonAsync(path, 403);
            }
        }
    }

    private static System.Text.Json.JsonElement FigureOf(System.Text.Json.JsonElement report, string code) =>
        report.GetProperty("figures").EnumerateArray().Single(f => f.GetProperty("code").GetString() == code);

    private static System.Text.Json.JsonElement RowOf(System.Text.Json.JsonElement report, string code, CarStory car) =>
        FigureOf(report, code)
            .GetProperty("rows")
            .EnumerateArray()
            .Single(r => r.GetProperty("job").GetString() == car.JobId);

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
