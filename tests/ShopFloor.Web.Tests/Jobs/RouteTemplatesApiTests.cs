using System.Text.Json;
using System.Text.Json.Nodes;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Web.Tests.Jobs;

/// <summary>The owner changes a route: draft, check, in force; jobs keep theirs until they are moved.</summary>
public abstract class RouteTemplatesApiTests(ShopHost shop)
{
    private const string Six = "/api/v1/route-templates/six-point-weld-in";

    [Fact]
    public async Task Draft_is_checked_put_in_force_and_a_running_job_is_moved_to_it_with_its_done_work()
    {
        using var owner = await shop.ApiAsync(Role.Owner);
        using var floor = await shop.ApiAsync(Role.Fabricator);
        var job = await shop.SignedJobAsync();
        var path = $"/api/v1/jobs/{job}";
        await floor.PostAsync($"{path}/operations/10/finish", new { }, 200);
        var edition = (await owner.GetJsonAsync(Six)).GetProperty("template").GetProperty("edition").GetInt32();

        var document = await BeginAsync(owner, Six);
        var wrong = Changed(document, "20", o => o["after"]!.AsArray().Add("999"));
        var unfinished = await PutAsync(owner, Six, wrong);
        Assert.Contains("999", unfinished.GetProperty("problems")[0].GetProperty("text").GetString());
        await owner.PostAsync($"{Six}/draft/put-in-force", new { }, 400);

        var good = Changed(document, "20", o => o["title"] = "Car made safe, tank first");
        var preview = await owner.PostAsync($"{Six}/draft/preview", new { document = good }, 200);
        Assert.Contains("tank first", preview.GetRawText());
        var ready = await PutAsync(owner, Six, good);
        Assert.Empty(ready.GetProperty("problems").EnumerateArray());
        Assert.StartsWith("20: The title was", ready.GetProperty("changes")[0].GetProperty("sentence").GetString());
        await owner.PostAsync($"{Six}/draft/put-in-force", new { }, 200);
        var next = (await owner.GetJsonAsync(Six)).GetProperty("template").GetProperty("edition").GetInt32();
        Assert.Equal(edition + 1, next);
        Assert.Contains(
            "tank first",
            (await owner.GetJsonAsync($"{Six}/compare?from={edition}&to={next}")).GetRawText()
        );

        Assert.DoesNotContain("tank first", (await owner.GetJsonAsync(path)).GetRawText());
        var newJob = await owner.GetJsonAsync($"/api/v1/jobs/{await shop.JobAsync()}");
        Assert.Contains("tank first", newJob.GetRawText());
        var move = await owner.GetJsonAsync($"{path}/route-move");
        Assert.Empty(move.GetProperty("refusals").EnumerateArray());
        Assert.Equal("changes", move.GetProperty("steps")[0].GetProperty("kind").GetString());
        await floor.PostAsync($"{path}/route-move", new { edition = next, reason = "no" }, 403);
        var moved = await owner.PostAsync($"{path}/route-move", new { edition = next, reason = "Better words" }, 200);
        Assert.Contains("tank first", moved.GetRawText());
        Assert.Equal("done", moved.GetProperty("operations")[0].GetProperty("state").GetString());
        Assert.Equal(
            "sameEdition",
            (await owner.PostAsync($"{path}/route-move", new { edition = next, reason = "again" }, 409))
                .GetProperty("reasons")[0]
                .GetProperty("code")
                .GetString()
        );
        var types = new List<string>();
        await shop.WriteAsync(db => types.AddRange(db.Events.Where(e => e.Job == job).Select(e => e.Type)));
        Assert.Contains("job.routeMoved", types);
    }

    [Fact]
    public async Task Route_without_the_operation_of_an_inspection_line_is_named_and_the_draft_can_be_thrown_away()
    {
        using var owner = await shop.ApiAsync(Role.Owner);
        const string Bench = "/api/v1/route-templates/four-point-half-bar";
        var document = await BeginAsync(owner, Bench);

        var without = Without(document, "60");
        var problems = (await PutAsync(owner, Bench, without)).GetProperty("problems").GetRawText();

        Assert.Contains("belongs to operation 60, which this route does not have", problems);
        using var gone = await owner.SendAsync(HttpMethod.Delete, $"{Bench}/draft");
        Assert.True(gone.IsSuccessStatusCode);
        await owner.GetJsonAsync($"{Bench}/draft", 404);
    }

    [Theory]
    [InlineData("circle", "in a circle: ")]
    [InlineData("deadEnd", "nothing more can be done")]
    [InlineData("skill", "skill")]
    [InlineData("figure", "no calculator gives")]
    public async Task Check_names_the_problem(string wrong, string says)
    {
        using var owner = await shop.ApiAsync(Role.Owner);
        const string Path = "/api/v1/route-templates/return-visit";
        var document = await BeginAsync(owner, Path);

        var broken = Changed(
            document,
            "10",
            o =>
            {
                switch (wrong)
                {
                    case "circle":
                        o["after"] = new JsonArray("20");
                        break;
                    case "deadEnd":
                        o["needsOpen"] = new JsonArray("never");
                        document["ways"] = new JsonArray(new JsonObject { ["code"] = "never", ["title"] = "never" });
                        break;
                    case "skill":
                        o["skill"] = "";
                        break;
                    default:
                        o["figures"] = new JsonArray("astrology");
                        break;
                }
            }
        );
        var problems = (await PutAsync(owner, Path, broken)).GetProperty("problems").GetRawText();

        Assert.Contains(says, problems, StringComparison.OrdinalIgnoreCase);
        using var gone = await owner.SendAsync(HttpMethod.Delete, $"{Path}/draft");
        Assert.True(gone.IsSuccessStatusCode);
    }

    [Fact]
    public async Task Second_draft_wrong_document_and_other_roles_are_refused()
    {
        using var owner = await shop.ApiAsync(Role.Owner);
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        const string Path = "/api/v1/route-templates/kit-shipped";
        await desk.PostAsync($"{Path}/draft", new { }, 403);
        await BeginAsync(owner, Path);
        await owner.PostAsync($"{Path}/draft", new { }, 409);
        await owner.PostAsync($"{Path}/draft/preview", new { document = new { code = 5 } }, 400);
        await owner.GetJsonAsync("/api/v1/route-templates/no-such", 404);
        var list = await desk.GetJsonAsync("/api/v1/route-templates");
        Assert.Contains(
            list.EnumerateArray(),
            r => r.GetProperty("code").GetString() == "kit-shipped" && r.GetProperty("draftEdition").GetInt32() == 2
        );
    }

    private static async Task<JsonObject> BeginAsync(HttpClient owner, string path)
    {
        var draft = await owner.PostAsync($"{path}/draft", new { });
        return JsonNode.Parse(draft.GetProperty("template").GetRawText())!.AsObject();
    }

    private static async Task<JsonElement> PutAsync(HttpClient owner, string path, JsonObject document)
    {
        using var response = await owner.SendAsync(HttpMethod.Put, $"{path}/draft", new { document });
        return await response.JsonAsync(200);
    }

    private static JsonObject Changed(JsonObject document, string code, Action<JsonObject> change)
    {
        var copy = document.DeepClone().AsObject();
        change(copy["operations"]!.AsArray().Single(o => (string?)o!["code"] == code)!.AsObject());
        if (document["ways"] is { } ways)
        {
            copy["ways"] = ways.DeepClone();
        }

        return copy;
    }

    private static JsonObject Without(JsonObject document, string code)
    {
        var copy = document.DeepClone().AsObject();
        var operations = copy["operations"]!.AsArray();
        operations.Remove(operations.Single(o => (string?)o!["code"] == code));
        return copy;
    }
}

public sealed class RouteTemplatesApiOnSqlite(SqliteShop shop)
    : RouteTemplatesApiTests(shop),
        IClassFixture<SqliteShop>;

public sealed class RouteTemplatesApiOnPostgres(PostgresShop shop)
    : RouteTemplatesApiTests(shop),
        IClassFixture<PostgresShop>;
