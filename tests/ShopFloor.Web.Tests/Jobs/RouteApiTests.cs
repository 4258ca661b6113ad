using System.Text.Json;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Features.Inspection;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Web.Tests.Jobs;

/// <summary>A running job's route by the API: stock, work sent out, the owner's hold, rework, what is awaited.</summary>
public abstract class RouteApiTests(ShopHost shop)
{
    [Fact]
    public async Task Recorded_stock_holds_an_operation_up_until_the_desk_ticks_it_off()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        using var floor = await shop.ApiAsync(Role.Fabricator);
        var job = Path(await shop.SignedJobAsync());
        await desk.PostAsync(
            $"{job}/awaited",
            new
            {
                kind = "stock",
                what = "45 × 2.5 mm tube",
                from = "Rohrwerk",
                operations = new[] { "10" },
            },
            200
        );

        Assert.Equal("stock", CodeOf(await floor.PostAsync($"{job}/operations/10/start", new { }, 409)));
        var waits = await desk.GetJsonAsync("/api/v1/waits?pageSize=200");
        var wait = waits
            .GetProperty("items")
            .EnumerateArray()
            .Single(w =>
                w.GetProperty("jobId").GetString() == job[^36..] && w.GetProperty("kind").GetString() == "stock"
            );
        Assert.Equal("Rohrwerk", wait.GetProperty("whom").GetString());
        Assert.Equal(0, wait.GetProperty("days").GetInt32());

        await floor.PostAsync($"{job}/awaited/1", new { state = "received" }, 403);
        await desk.PostAsync($"{job}/awaited/1", new { state = "lost" }, 400);
        await desk.PostAsync($"{job}/awaited/1", new { state = "received" }, 200);
        await floor.PostAsync($"{job}/operations/10/start", new { }, 200);
        var route = await desk.GetJsonAsync($"{job}/route");
        Assert.Equal("received", route.GetProperty("awaited")[0].GetProperty("state").GetString());
        Assert.True(route.GetProperty("canFinish").GetBoolean());
        Assert.NotEmpty(route.GetProperty("pointsOfNoReturn").EnumerateArray());
    }

    [Fact]
    public async Task Only_the_owner_stops_a_job_and_lets_it_go_on_and_both_are_in_the_history()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        using var owner = await shop.ApiAsync(Role.Owner);
        using var floor = await shop.ApiAsync(Role.Fabricator);
        var job = Path(await shop.SignedJobAsync());
        await desk.PostAsync($"{job}/owner-holds", new { reason = "Wait" }, 403);
        await owner.PostAsync($"{job}/owner-holds", new { reason = "Call the customer first" }, 200);

        var refused = await floor.PostAsync($"{job}/operations/10/start", new { }, 409);
        Assert.Equal("ownerHold", CodeOf(refused));
        Assert.Contains("Call the customer first.", refused.GetRawText());

        await owner.PostAsync($"{job}/owner-holds/1/lift", new { }, 200);
        await owner.PostAsync($"{job}/owner-holds/1/lift", new { }, 409);
        await floor.PostAsync($"{job}/operations/10/start", new { }, 200);
        var events = await EventsAsync(job);
        Assert.Contains("job.stoppedByOwner", events);
        Assert.Contains("job.ownerHoldLifted", events);
    }

    [Fact]
    public async Task Rework_comes_onto_the_route_with_its_own_number_and_holds_up_what_follows()
    {
        using var floor = await shop.ApiAsync(Role.Fabricator);
        var job = Path(await shop.SignedJobAsync());
        await floor.PostAsync(
            $"{job}/rework",
            new
            {
                operation = "10",
                title = "Again",
                reason = "Wrong car",
            },
            409
        );
        await floor.PostAsync($"{job}/operations/10/finish", new { }, 200);

        var with = await floor.PostAsync(
            $"{job}/rework",
            new
            {
                operation = "10",
                title = "Walk round again in daylight",
                reason = "Photos were too dark",
            },
            200
        );

        var rework = with.GetProperty("operations")
            .EnumerateArray()
            .Single(o => o.GetProperty("code").GetString() == "11");
        Assert.Equal("10", rework.GetProperty("mends").GetString());
        Assert.Equal("ready", rework.GetProperty("state").GetString());
        Assert.Equal("operation", CodeOf(await floor.PostAsync($"{job}/operations/20/start", new { }, 409)));
        await floor.PostAsync($"{job}/operations/11/finish", new { }, 200);
        await floor.PostAsync($"{job}/operations/20/start", new { }, 200);
        Assert.Contains("operation.reworkAdded", await EventsAsync(job));
        var unknown = await floor.PostAsync(
            $"{job}/rework",
            new
            {
                operation = "10",
                title = "x",
                reason = "y",
                opens = new[] { "no-such-way" },
            },
            400
        );
        Assert.Contains("no-such-way", unknown.GetRawText());
    }

    [Fact]
    public async Task Override_is_the_owners_and_only_where_the_check_refuses()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        using var owner = await shop.ApiAsync(Role.Owner);
        var job = Path(await shop.SignedJobAsync());

        await desk.PostAsync($"{job}/operations/10/override", new { reason = "I say so" }, 403);
        Assert.Equal(
            "nothingToOverride",
            CodeOf(await owner.PostAsync($"{job}/operations/10/override", new { reason = "I say so" }, 409))
        );
        await owner.PostAsync($"{job}/operations/10/override", new { }, 400);
    }

    [Fact]
    public async Task Inspection_is_finished_by_the_floor_only_when_an_inspector_has_passed_its_hold_lines()
    {
        var car = await CarStory.BeginAsync(shop);
        await car.WorkUntilAsync("80");

        var refused = await car.Fabricator.PostAsync($"{car.JobPath}/operations/90/finish", new { }, 409);
        Assert.Equal("inspection", CodeOf(refused));
        Assert.Contains("An inspector passes them", refused.GetRawText());

        await car.PassLinesAsync("90");
        await car.Fabricator.PostAsync($"{car.JobPath}/operations/90/finish", new { }, 200);
    }

    private async Task<IReadOnlyList<string>> EventsAsync(string job)
    {
        var id = new JobId(Guid.Parse(job[^36..]));
        IReadOnlyList<string> types = [];
        await shop.WriteAsync(db => types = [.. db.Events.Where(e => e.Job == id).Select(e => e.Type)]);
        return types;
    }

    private static string Path(JobId job) => $"/api/v1/jobs/{job}";

    private static string? CodeOf(JsonElement problem) =>
        problem.GetProperty("reasons")[0].GetProperty("code").GetString();
}

public sealed class RouteApiOnSqlite(SqliteShop shop) : RouteApiTests(shop), IClassFixture<SqliteShop>;

public sealed class RouteApiOnPostgres(PostgresShop shop) : RouteApiTests(shop), IClassFixture<PostgresShop>;
