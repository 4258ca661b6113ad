using System.Text.Json;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Features.Inspection;
using ShopFloor.Web.Tests.Fixtures;
using ShopFloor.Web.Tests.Jobs;
using ShopFloor.Web.Tests.Quotes;

namespace ShopFloor.Web.Tests.HotWork;

/// <summary>A shop with two bays through the API: sparks in one and paint in the other, never both in one.</summary>
public abstract class PlacesApiTests(ShopHost shop)
{
    private const string Permits = "/api/v1/hot-work-permits";

    [Fact]
    public async Task Sparks_in_one_bay_and_paint_in_the_other_and_each_car_where_it_was_said_to_be()
    {
        var painted = await CarStory.BeginAsync(shop, "Ada Zweig");
        await PutAsync(painted.Owner, ["bay", "bench", "paint", "office"]);
        await painted.WorkUntilAsync("230");
        var welded = await CarStory.BeginAsync(shop, "Bo Zweig");
        await welded.WorkUntilAsync("40");
        await TwoBaysAsync(painted.Owner);

        // Nobody has said in which bay: the careful side.
        var asked = await welded.Fabricator.PostAsync(Tap(welded, "50", "start"), new { }, 409);
        Assert.Contains("bay 1 or bay 2", asked.ToString(), StringComparison.Ordinal);
        await PlaceAsync(painted, "bay-1");
        await painted.Fabricator.PostAsync(Tap(painted, "240", "start"), new { }, 200);
        var near = await welded.Fabricator.PostAsync(Permits, Request(welded, "bay-1"), 409);
        Assert.Contains("uses paint or solvent in bay 1", near.ToString(), StringComparison.Ordinal);

        // The permit for the other bay says where the car is.
        var permit = await welded.Fabricator.PostAsync(Permits, Request(welded, "bay-2"));
        Assert.Equal("bay 2", permit.Text("placeTitle"));
        await welded.Fabricator.PostAsync(Tap(welded, "50", "start"), new { }, 200);
        Assert.Equal("bay-2", Here(await welded.Owner.GetJsonAsync(welded.JobPath)));

        // Neither goes to the other, and the list stays while a permit is open.
        Assert.Equal("permit", (await PlaceAsync(welded, "bay-1", 409)).ReasonCode());
        Assert.Equal("inWork", (await PlaceAsync(painted, "bay-2", 409)).ReasonCode());
        using var list = await painted.Owner.SendAsync(HttpMethod.Put, "/api/v1/shop/places", new { places = Bays });
        Assert.Equal("permitsOpen", (await list.JsonAsync(409)).ReasonCode());
        await welded.Fabricator.PostAsync(Tap(welded, "50", "stop"), new { }, 200);
        await painted.Fabricator.PostAsync(Tap(painted, "240", "stop"), new { }, 200);
        Assert.Equal("fireWatch", (await MovedPaintAsync(painted)).ReasonCode());
        await welded.HotWork.CloseAllAsync();
        await painted.Fabricator.PostAsync(Tap(painted, "240", "start"), new { }, 200);
        await painted.Fabricator.PostAsync(Tap(painted, "240", "stop"), new { }, 200);
        List<string> events = [];
        await shop.WriteAsync(db => events.AddRange(db.Events.Where(e => e.Type == "job.placed").Select(e => e.Data)));
        Assert.Contains(
            events,
            e => e.Contains("\"before\":{\"places\":{\"bay\":\"bay-1\"}}", StringComparison.Ordinal)
        );
    }

    [Fact]
    public async Task A_list_that_routes_could_not_use_is_refused_and_only_the_owner_changes_it()
    {
        using var owner = await shop.ApiAsync(Role.Owner);
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        using var refused = await desk.SendAsync(HttpMethod.Put, "/api/v1/shop/places", new { places = Bays });
        await refused.JsonAsync(403);
        using var without = await owner.SendAsync(HttpMethod.Put, "/api/v1/shop/places", new { places = Bays.Take(2) });
        var errors = (await without.JsonAsync(400)).ToString();
        Assert.Contains("at least one place of the kind bench", errors, StringComparison.Ordinal);
        await TwoBaysAsync(owner);
        var read = await desk.GetJsonAsync("/api/v1/shop/places");
        Assert.Equal(5, read.GetProperty("places").GetArrayLength());
    }

    private static readonly object[] Bays =
    [
        Place("bay-1", "bay 1", "bay"),
        Place("bay-2", "bay 2", "bay"),
        Place("bench", "the bench", "bench"),
        Place("paint", "the paint place", "paint"),
        Place("office", "the office", "office"),
    ];

    private static object Place(string code, string title, string kind) =>
        new
        {
            code,
            title,
            kind,
        };

    private static async Task TwoBaysAsync(HttpClient owner)
    {
        using var list = await owner.SendAsync(HttpMethod.Put, "/api/v1/shop/places", new { places = Bays });
        await list.JsonAsync(200);
    }

    /// <summary>One place of each kind, as a shop begins.</summary>
    private static async Task PutAsync(HttpClient owner, string[] kinds)
    {
        using var list = await owner.SendAsync(
            HttpMethod.Put,
            "/api/v1/shop/places",
            new { places = kinds.Select(k => Place(k, "the " + k, k)) }
        );
        await list.JsonAsync(200);
    }

    /// <summary>The painted car goes to the bay with the fire watch, and its paint waits there.</summary>
    private static async Task<JsonElement> MovedPaintAsync(CarStory car)
    {
        await PlaceAsync(car, "bay-2");
        return await car.Fabricator.PostAsync(Tap(car, "240", "start"), new { }, 409);
    }

    private static Task<JsonElement> PlaceAsync(CarStory car, string place, int expected = 200) =>
        car.Fabricator.PostAsync($"{car.JobPath}/place", new { place }, expected);

    private static string Tap(CarStory car, string code, string tap) => $"{car.JobPath}/operations/{code}/{tap}";

    private static string? Here(JsonElement job) =>
        job.GetProperty("places").EnumerateArray().SingleOrDefault(p => p.GetProperty("isHere").GetBoolean())
            is { ValueKind: JsonValueKind.Object } place
            ? place.Text("code")
            : null;

    private object Request(CarStory car, string place) =>
        new
        {
            place,
            jobId = car.JobId,
            watcherId = shop.People[Role.FrontDesk].Value,
            answers = HotWorkDuty.Checklist(hasCar: true),
        };
}

public sealed class PlacesApiOnSqlite(SqliteShop shop) : PlacesApiTests(shop), IClassFixture<SqliteShop>;

public sealed class PlacesApiOnPostgres(PostgresShop shop) : PlacesApiTests(shop), IClassFixture<PostgresShop>;
