using System.Net;
using System.Text.Json;
using System.Text.Json.Nodes;
using ShopFloor.Application.History;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;
using ShopFloor.Web.Tests.Fixtures;
using ShopFloor.Web.Tests.Intake;
using ShopFloor.Web.Tests.Quotes;

namespace ShopFloor.Web.Tests.Jobs;

/// <summary>Pictures of instructions and conditions of a route: uploaded, named by an edition, kept by the jobs of that edition.</summary>
public abstract class RoutePicturesTests(ShopHost shop)
{
    private const string Template = "/api/v1/route-templates/six-point-weld-in";
    private const string Pictures = "/api/v1/route-pictures";
    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_picture_stays_with_the_jobs_of_its_edition_and_is_shown_at_the_operation()
    {
        using var owner = await shop.ApiAsync(Role.Owner);
        var picture = (await owner.UploadAsync(Pictures, IntakeStory.Jpeg)).Text("id");
        var shown = new JsonArray(
            new JsonObject { ["id"] = picture, ["caption"] = "Where the tank's lines are capped" }
        );
        await PutInForceAsync(owner, o => o["pictures"] = shown.DeepClone());
        var job = await shop.SignedJobAsync();
        await PutInForceAsync(owner, o => o.AsObject().Remove("pictures"));
        var next = await shop.SignedJobAsync();

        using var tablet = await shop.SignedInAsync(Role.Fabricator);
        var page = await tablet.PageAsync($"/floor/jobs/{job}");
        Assert.Contains($"route-pictures/{picture}/thumbnail", page, StringComparison.Ordinal);
        Assert.Contains("Where the tank's lines are capped", page, StringComparison.Ordinal);
        Assert.DoesNotContain(picture, await tablet.PageAsync($"/floor/jobs/{next}"), StringComparison.Ordinal);
        foreach (var size in new[] { "picture", "thumbnail" })
        {
            using var file = await tablet.GetAsync(new Uri($"/route-pictures/{picture}/{size}", UriKind.Relative), Ct);
            Assert.Equal(HttpStatusCode.OK, file.StatusCode);
            Assert.Equal("image/jpeg", file.Content.Headers.ContentType!.MediaType);
        }

        Assert.Empty(await VerifyAsync());
    }

    [Fact]
    public async Task Only_the_owner_uploads_and_only_pictures_of_this_shop_are_named()
    {
        using var owner = await shop.ApiAsync(Role.Owner);
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        await desk.UploadAsync(Pictures, IntakeStory.Jpeg, 403);
        await owner.UploadAsync(Pictures, "no picture"u8.ToArray(), 415);
        await owner.UploadAsync(Pictures, IntakeStory.Jpeg, 400, fields: [("caption", "no such field")]);
        await owner.GetJsonAsync($"{Pictures}/{Guid.CreateVersion7()}/picture", 404);

        var problems = await ProblemsAsync(
            owner,
            o => o["pictures"] = new JsonArray(new JsonObject { ["id"] = Guid.CreateVersion7(), ["caption"] = "" })
        );
        Assert.Contains("is not in this shop", problems, StringComparison.Ordinal);
        Assert.Contains("What picture 1 of 20 shows", problems, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_photo_that_is_erased_leaves_the_same_picture_of_an_instruction()
    {
        using var owner = await shop.ApiAsync(Role.Owner);
        var job = await shop.SignedJobAsync();
        var photo = (await owner.UploadAsync($"/api/v1/jobs/{job}/photos", IntakeStory.Jpeg)).Text("id");
        var picture = (await owner.UploadAsync(Pictures, IntakeStory.Jpeg)).Text("id");

        using var gone = await owner.SendAsync(HttpMethod.Delete, $"/api/v1/photos/{photo}");
        Assert.True(gone.IsSuccessStatusCode);

        using var file = await owner.GetAsync(new Uri($"{Pictures}/{picture}/picture", UriKind.Relative), Ct);
        Assert.Equal(HttpStatusCode.OK, file.StatusCode);
        Assert.Empty(await VerifyAsync());
    }

    [Theory]
    [InlineData("""{"uses":["moon"]}""", "asks for the use moon")]
    [InlineData("""{"answers":{"tank":["flying"]}}""", "asks for the answer to tank flying")]
    [InlineData("""{"answers":{"weather":["wet"]}}""", "asks for the question weather")]
    [InlineData("""{"hinges":["velcro"]}""", "asks for the hinge option velcro")]
    public async Task A_condition_that_could_never_hold_is_named(string when, string says)
    {
        using var owner = await shop.ApiAsync(Role.Owner);
        var problems = await ProblemsAsync(owner, o => o["when"] = JsonNode.Parse(when));
        Assert.Contains(says, problems, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_gate_that_no_route_may_name_is_refused_in_words()
    {
        using var owner = await shop.ApiAsync(Role.Owner);
        foreach (var kind in new[] { "permit", "fireWatch", "fumes", "ownerHold" })
        {
            var problems = await ProblemsAsync(
                owner,
                o => o["gates"] = new JsonArray(new JsonObject { ["kind"] = kind })
            );
            Assert.Contains("belong to a job, not to a route", problems, StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task A_job_is_not_opened_by_a_route_whose_condition_leaves_off_what_opens_a_way()
    {
        using var owner = await shop.ApiAsync(Role.Owner);
        var edition = await PutInForceAsync(
            owner,
            o => o["needsOpen"] = new JsonArray("only-electric"),
            document =>
            {
                document["ways"]!
                    .AsArray()
                    .Add(new JsonObject { ["code"] = "only-electric", ["title"] = "the cable cleared" });
                var first = Operation(document, "10");
                first["opens"] = new JsonArray("only-electric");
                first["when"] = new JsonObject { ["energy"] = new JsonArray("electric") };
            }
        );
        var quote = await shop.AcceptedQuoteAsync();
        var refused = await owner.PostAsync("/api/v1/jobs", new { quoteId = quote.Value }, 409);
        Assert.Equal("buildSequence", refused.ReasonCode());
        Assert.Contains(
            $"Edition {edition} of the route six-point-weld-in",
            refused.ToString(),
            StringComparison.Ordinal
        );
        await owner.PostAsync($"{Template}/draft", new { fromEdition = 1 });
        await owner.PostAsync($"{Template}/draft/put-in-force", new { }, 200);
        await owner.PostAsync("/api/v1/jobs", new { quoteId = quote.Value });
    }

    private Task<IReadOnlyList<string>> VerifyAsync() =>
        shop.WithAsync<VerifyHistory, IReadOnlyList<string>>(v => v.RunAsync(CancellationToken.None));

    private static JsonObject Operation(JsonObject document, string code) =>
        document["operations"]!.AsArray().Single(o => (string?)o!["code"] == code)!.AsObject();

    /// <summary>A new edition whose operation 20, ready once the first is done, is changed.</summary>
    private static async Task<int> PutInForceAsync(
        HttpClient owner,
        Action<JsonNode> change,
        Action<JsonObject>? more = null
    )
    {
        var draft = await owner.PostAsync($"{Template}/draft", new { });
        var document = JsonNode.Parse(draft.GetProperty("template").GetRawText())!.AsObject();
        // At the top of the page: ready from the start.
        var operation = Operation(document, "20");
        operation["after"] = new JsonArray();
        operation["gates"] = new JsonArray();
        change(operation);
        more?.Invoke(document);
        using var saved = await owner.SendAsync(HttpMethod.Put, $"{Template}/draft", new { document });
        Assert.Empty((await saved.JsonAsync(200)).GetProperty("problems").EnumerateArray());
        var inForce = await owner.PostAsync($"{Template}/draft/put-in-force", new { }, 200);
        return inForce.GetProperty("edition").GetInt32();
    }

    /// <summary>What the check says of a draft that is thrown away again.</summary>
    private static async Task<string> ProblemsAsync(HttpClient owner, Action<JsonNode> change)
    {
        var draft = await owner.PostAsync($"{Template}/draft", new { });
        var document = JsonNode.Parse(draft.GetProperty("template").GetRawText())!.AsObject();
        change(Operation(document, "20"));
        using var saved = await owner.SendAsync(HttpMethod.Put, $"{Template}/draft", new { document });
        var problems = string.Join(
            '\n',
            (await saved.JsonAsync(200)).GetProperty("problems").EnumerateArray().Select(p => p.Text("text"))
        );
        await owner.PostAsync($"{Template}/draft/put-in-force", new { }, 400);
        using var gone = await owner.SendAsync(HttpMethod.Delete, $"{Template}/draft");
        Assert.True(gone.IsSuccessStatusCode);
        return problems;
    }
}

public sealed class RoutePicturesOnSqlite(SqliteShop shop) : RoutePicturesTests(shop), IClassFixture<SqliteShop>;

public sealed class RoutePicturesOnPostgres(PostgresShop shop) : RoutePicturesTests(shop), IClassFixture<PostgresShop>;
