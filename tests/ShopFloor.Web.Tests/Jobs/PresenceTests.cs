using System.Text.Json;
using System.Text.Json.Nodes;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Web.Tests.Jobs;

/// <summary>The gates that a person lifts by being there, at the tablet's page and by the API.</summary>
public abstract class PresenceTests(ShopHost shop)
{
    private const string Template = "/api/v1/route-templates/six-point-weld-in";

    [Fact]
    public async Task Tablet_lifts_both_gates_and_nobody_is_their_own_second_person()
    {
        using var floor = await shop.ApiAsync(Role.Fabricator);
        var job = await AskingJobAsync();
        var path = $"/api/v1/jobs/{job}";
        var page = $"/floor/jobs/{job}";
        Assert.Equal(["qualifiedPerson", "secondPerson"], Codes(await StartAsync(floor, path, 409)));

        using var welder = await shop.SignedInAsync(Role.Fabricator);
        var before = await welder.PageAsync(page);
        Assert.Contains("I am here as the second person at 10", before);
        Assert.Contains("Qualified person at 10", before);

        // The one who will work is not a second person, though the tablet takes their word for being there.
        await PresentAsync(welder, page, "secondPerson");
        await PresentAsync(welder, page, "qualifiedPerson", ("name", "Nora Vale"), ("reference", "HV 3"));
        Assert.Equal(["secondPerson"], Codes(await StartAsync(floor, path, 409)));

        using var other = await shop.SignedInAsync(Role.Inspector);
        var said = await PresentAsync(other, page, "secondPerson");
        Assert.Contains("10: Inspector Person is present, recorded at", said);
        await StartAsync(floor, path, 200);
        List<string> events = [];
        await shop.WriteAsync(db => events.AddRange(db.Events.Where(e => e.Job == job).Select(e => e.Type)));
        Assert.Equal(3, events.Count(e => e == "operation.personPresent"));
    }

    [Fact]
    public async Task Presence_is_over_after_one_shift_by_the_servers_clock()
    {
        using var floor = await shop.ApiAsync(Role.Fabricator);
        using var inspector = await shop.ApiAsync(Role.Inspector);
        var path = $"/api/v1/jobs/{await AskingJobAsync()}";
        var present = $"{path}/operations/10/present";
        await inspector.PostAsync(present, new { kind = "qualifiedPerson" }, 400);
        await inspector.PostAsync(present, new { kind = "qualifiedPerson", name = "Nora Vale" }, 200);
        await inspector.PostAsync(present, new { kind = "secondPerson" }, 200);
        await inspector.PostAsync($"{path}/operations/20/present", new { kind = "secondPerson" }, 409);

        shop.Clock.Advance(TimeSpan.FromHours(12) + TimeSpan.FromMinutes(1));

        Assert.Equal(["qualifiedPerson", "secondPerson"], Codes(await StartAsync(floor, path, 409)));
    }

    private static Task<string> PresentAsync(
        HttpClient client,
        string page,
        string kind,
        params (string Name, string Value)[] more
    ) => client.SubmitAsync(page, $"{page}/presence", [("code", "10"), ("kind", kind), .. more]);

    private static Task<JsonElement> StartAsync(HttpClient floor, string job, int status) =>
        floor.PostAsync($"{job}/operations/10/start", new { }, status);

    private static string?[] Codes(JsonElement refused) =>
        [.. refused.GetProperty("reasons").EnumerateArray().Select(r => r.GetProperty("code").GetString())];

    /// <summary>A job whose first operation asks for both; the route's own edition stays as it was.</summary>
    private async Task<JobId> AskingJobAsync()
    {
        using var owner = await shop.ApiAsync(Role.Owner);
        var draft = await owner.PostAsync($"{Template}/draft", new { });
        var document = JsonNode.Parse(draft.GetProperty("template").GetRawText())!.AsObject();
        var first = document["operations"]!.AsArray().Single(o => (string?)o!["code"] == "10")!;
        first["gates"] = new JsonArray(
            new JsonObject { ["kind"] = "qualifiedPerson" },
            new JsonObject { ["kind"] = "secondPerson" }
        );
        using var saved = await owner.SendAsync(HttpMethod.Put, $"{Template}/draft", new { document });
        await saved.JsonAsync(200);
        await owner.PostAsync($"{Template}/draft/put-in-force", new { }, 200);
        return await shop.SignedJobAsync();
    }
}

public sealed class PresenceOnSqlite(SqliteShop shop) : PresenceTests(shop), IClassFixture<SqliteShop>;

public sealed class PresenceOnPostgres(PostgresShop shop) : PresenceTests(shop), IClassFixture<PostgresShop>;
