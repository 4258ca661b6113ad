using System.Net;
using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Web.Tests.Quotes.Books;

/// <summary>The price book's working copy, editions, comparison and files by the API, on both databases.</summary>
public abstract class PriceBookApiTests(ShopHost shop)
{
    private const string Root = "/api/v1/price-book";
    private const string Draft = Root + "/draft";
    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Draft_is_begun_changed_compared_and_adopted_from_a_later_day()
    {
        using var owner = await FreshAsync();
        var before = await EditionAsync(owner);
        var begun = await owner.PostAsync(Draft, new { });
        Assert.Equal((1, 0), (begun.GetProperty("version").GetInt32(), begun.GetProperty("changes").GetArrayLength()));
        var book = Node(begun.GetProperty("document"));
        Hinge(book)["priceMinor"] = 10_500;

        using var saved = await owner.SendAsync(HttpMethod.Put, Draft, new { document = book }, ifMatch: 1);
        var draft = await saved.JsonAsync(200);
        var sentence = Assert.Single(draft.GetProperty("changes").EnumerateArray()).GetProperty("sentence").GetString();
        Assert.Equal("Hinge option swing-out with pin: price 98.00 → 105.00", sentence);
        var compared = await owner.GetJsonAsync($"{Root}/compare?to=draft");
        Assert.Equal(sentence, compared.GetProperty("changes")[0].GetProperty("sentence").GetString());

        var day = new DateOnly(2026, 5, 20);
        var adopted = await owner.PostAsync(Draft + "/adopt", new { effectiveFrom = day });
        Assert.Equal(before + 1, adopted.GetProperty("edition").GetInt32());
        await owner.GetJsonAsync(Draft, 404);

        // Until its day the old edition is in force, and from its day the new one.
        Assert.Equal(before, await EditionAsync(owner));
        var planned = (await owner.GetJsonAsync(Root + "/editions")).GetProperty("items")[0];
        var page = await owner.GetJsonAsync(Root + "/editions?pageSize=1");
        Assert.Equal(
            (1, before + 1),
            (page.GetProperty("items").GetArrayLength(), page.GetProperty("totalCount").GetInt32())
        );
        Assert.Equal("planned", planned.GetProperty("state").GetString());
        Assert.Equal("Olga Owner", planned.GetProperty("adoptedByName").GetString());
        shop.Clock.SetUtcNow(new DateTimeOffset(2026, 5, 19, 22, 0, 0, TimeSpan.Zero));
        Assert.Equal(before + 1, await EditionAsync(owner));
        var between = await owner.GetJsonAsync($"{Root}/compare?from={before}&to={before + 1}");
        Assert.Equal(1, between.GetProperty("changes").GetArrayLength());
    }

    [Fact]
    public async Task Unfinished_draft_is_kept_with_its_problems_and_cannot_be_adopted()
    {
        using var owner = await FreshAsync();
        var book = Node((await owner.PostAsync(Draft, new { })).GetProperty("document"));
        book["taxes"] = new JsonArray();

        using var saved = await owner.SendAsync(HttpMethod.Put, Draft, new { document = book });
        var problems = (await saved.JsonAsync(200)).GetProperty("problems");
        Assert.Contains(problems.EnumerateArray(), p => p.GetProperty("path").GetString() == "kits[0].taxCodes");

        var refused = await owner.PostAsync(Draft + "/adopt", new { }, 400);
        Assert.True(refused.GetProperty("errors").TryGetProperty("kits[0].taxCodes", out _));
        Assert.Equal(
            0,
            (await owner.GetJsonAsync(Draft)).GetProperty("document").GetProperty("taxes").GetArrayLength()
        );
    }

    [Fact]
    public async Task Second_of_two_who_change_one_draft_is_told()
    {
        using var owner = await FreshAsync();
        var book = Node((await owner.PostAsync(Draft, new { })).GetProperty("document"));
        book["validityDays"] = 9;
        using var first = await owner.SendAsync(HttpMethod.Put, Draft, new { document = book }, ifMatch: 1);
        Assert.Equal(2, (await first.JsonAsync(200)).GetProperty("version").GetInt32());

        book["validityDays"] = 8;
        using var second = await owner.SendAsync(HttpMethod.Put, Draft, new { document = book }, ifMatch: 1);
        Assert.Equal("stale", Code(await second.JsonAsync(409)));
        using var adopt = await owner.SendAsync(HttpMethod.Post, Draft + "/adopt", new { }, ifMatch: 1);
        Assert.Equal("stale", Code(await adopt.JsonAsync(409)));
        using var discard = await owner.SendAsync(HttpMethod.Delete, Draft, ifMatch: 1);
        Assert.Equal("stale", Code(await discard.JsonAsync(409)));
        Assert.Equal("draftExists", Code(await owner.PostAsync(Draft, new { }, 409)));
    }

    [Fact]
    public async Task Several_who_begin_at_once_get_one_draft()
    {
        using var owner = await FreshAsync();
        var answers = await Task.WhenAll(
            Enumerable.Range(0, 4).Select(_ => owner.SendAsync(HttpMethod.Post, Draft, new { }))
        );

        Assert.Single(answers, a => a.StatusCode == HttpStatusCode.Created);
        Assert.Equal(3, answers.Count(a => a.StatusCode == HttpStatusCode.Conflict));
    }

    [Fact]
    public async Task Part_is_downloaded_changed_previewed_and_taken_in()
    {
        using var owner = await FreshAsync();
        await owner.PostAsync(Draft, new { });
        using var file = await owner.GetAsync($"{Root}/csv/skills?edition=draft", Ct);
        Assert.Equal("text/csv", file.Content.Headers.ContentType?.MediaType);
        var csv = Encoding.UTF8.GetString(await file.Content.ReadAsByteArrayAsync(Ct));
        Assert.Equal('\uFEFF', csv[0]);
        var changed = csv.Replace("82.00", "85.50", StringComparison.Ordinal);

        var preview = await owner.PostAsync(Draft + "/import/preview", new { part = "skills", csv = changed }, 200);
        var sentence = preview.GetProperty("changes")[0].GetProperty("sentence").GetString();
        Assert.Equal("Skill welding: rate for an hour 82.00 → 85.50", sentence);
        Assert.Equal(0, (await owner.GetJsonAsync(Draft)).GetProperty("changes").GetArrayLength());

        using var taken = await owner.SendAsync(
            HttpMethod.Post,
            Draft + "/import",
            new { part = "skills", csv = changed },
            ifMatch: preview.GetProperty("draftVersion").GetInt64()
        );
        Assert.Equal(
            sentence,
            (await taken.JsonAsync(200)).GetProperty("changes")[0].GetProperty("sentence").GetString()
        );
    }

    [Fact]
    public async Task Every_part_is_offered_and_comes_back_unchanged()
    {
        using var owner = await FreshAsync();
        await owner.PostAsync(Draft, new { });
        var parts = (await owner.GetJsonAsync(Root + "/csv")).GetProperty("items").EnumerateArray().ToList();
        Assert.True(parts.Count > 15);
        foreach (var part in parts.Select(p => p.GetProperty("code").GetString()))
        {
            using var file = await owner.GetAsync($"{Root}/csv/{part}", Ct);
            var csv = Encoding.UTF8.GetString(await file.Content.ReadAsByteArrayAsync(Ct));
            var preview = await owner.PostAsync(Draft + "/import/preview", new { part, csv }, 200);
            Assert.True(preview.GetProperty("changes").GetArrayLength() == 0, $"{part}: {preview}");
        }
    }

    [Fact]
    public async Task Whole_document_is_previewed_and_taken_in()
    {
        using var owner = await FreshAsync();
        await owner.PostAsync(Draft, new { });
        var book = Node(await owner.GetJsonAsync(Root + "/document?edition=draft"));
        book["title"] = "Prices of the summer";

        var preview = await owner.PostAsync(Draft + "/import/preview", new { document = book }, 200);
        Assert.Equal("title", preview.GetProperty("changes")[0].GetProperty("path").GetString());
        var taken = await owner.PostAsync(Draft + "/import", new { document = book }, 200);
        Assert.Equal("Prices of the summer", taken.GetProperty("document").GetProperty("title").GetString());
    }

    [Theory]
    [InlineData("""{"part":"skills","csv":"code,title\r\nfitter,\"fitting"}""", "line 2")]
    [InlineData("""{"part":"skills","csv":"code,ratePerHour\r\nfitter,sixty"}""", "row 2, ratePerHour")]
    [InlineData("""{"part":"wages","csv":"code"}""", "part")]
    [InlineData("""{"part":"skills"}""", "$")]
    [InlineData("""{"document":{"title":"x"},"part":"skills","csv":""}""", "$")]
    [InlineData("""{"document":[]}""", "$")]
    [InlineData("""{"csv":"code","file":1}""", "file")]
    public async Task Wrong_file_is_refused_at_its_place_and_nothing_is_written(string json, string path)
    {
        using var owner = await FreshAsync();
        await owner.PostAsync(Draft, new { });
        foreach (var call in new[] { Draft + "/import/preview", Draft + "/import" })
        {
            using var content = new StringContent(json, Encoding.UTF8, "application/json");
            using var response = await owner.PostAsync(new Uri(call, UriKind.Relative), content, Ct);
            var errors = (await response.JsonAsync(400)).GetProperty("errors");
            Assert.True(errors.TryGetProperty(path, out _), errors.ToString());
        }

        Assert.Equal(1, (await owner.GetJsonAsync(Draft)).GetProperty("version").GetInt32());
    }

    [Theory]
    [InlineData("2026-05-05")]
    [InlineData("2029-05-06")]
    public async Task Day_that_has_passed_or_is_far_off_is_refused(string day)
    {
        using var owner = await FreshAsync();
        await owner.PostAsync(Draft, new { });

        var problem = await owner.PostAsync(Draft + "/adopt", new { effectiveFrom = day }, 400);

        Assert.True(problem.GetProperty("errors").TryGetProperty("effectiveFrom", out _));
    }

    [Fact]
    public async Task Discarded_draft_is_gone_and_the_edition_in_force_untouched()
    {
        using var owner = await FreshAsync();
        var edition = await EditionAsync(owner);
        await owner.PostAsync(Draft, new { });

        using var gone = await owner.SendAsync(HttpMethod.Delete, Draft, ifMatch: 1);

        Assert.Equal(HttpStatusCode.NoContent, gone.StatusCode);
        await owner.GetJsonAsync(Draft, 404);
        await owner.GetJsonAsync($"{Root}/compare?to=draft", 404);
        Assert.Equal(edition, await EditionAsync(owner));
        Assert.Equal(1, (await owner.PostAsync(Draft, new { fromEdition = 1 })).GetProperty("fromEdition").GetInt32());
    }

    [Fact]
    public async Task Front_desk_reads_editions_and_files_and_sees_or_changes_no_draft()
    {
        using var owner = await FreshAsync();
        await owner.PostAsync(Draft, new { });
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var edition = await EditionAsync(desk);
        await desk.GetJsonAsync(Root + "/editions");
        await desk.GetJsonAsync($"{Root}/editions/{edition}");
        await desk.GetJsonAsync($"{Root}/compare?from=1&to={edition}");
        using var csv = await desk.GetAsync($"{Root}/csv/kits", Ct);
        Assert.Equal(HttpStatusCode.OK, csv.StatusCode);

        foreach (
            var path in new[]
            {
                Draft,
                $"{Root}/compare?to=draft",
                $"{Root}/document?edition=draft",
                $"{Root}/csv/kits?edition=draft",
            }
        )
        {
            await desk.GetJsonAsync(path, 403);
        }

        await desk.PostAsync(Draft + "/adopt", new { }, 403);
        await desk.PostAsync(Draft + "/import", new { part = "kits", csv = "code" }, 403);
        using var fabricator = await shop.ApiAsync(Role.Fabricator);
        await fabricator.GetJsonAsync(Root + "/editions", 403);
    }

    [Theory]
    [InlineData("/editions/9999", 404)]
    [InlineData("/compare?from=9999", 404)]
    [InlineData("/compare?from=new", 400)]
    [InlineData("/csv/wages", 400)]
    [InlineData("/csv/kits?edition=-1", 400)]
    public async Task Unknown_edition_or_part_is_told(string path, int status)
    {
        using var owner = await FreshAsync();

        await owner.GetJsonAsync(Root + path, status);
    }

    /// <summary>The owner on the day the shop's clock starts, without a draft left from another test.</summary>
    private async Task<HttpClient> FreshAsync()
    {
        var owner = await shop.ApiAsync(Role.Owner);
        using var gone = await owner.SendAsync(HttpMethod.Delete, Draft);
        Assert.True(gone.StatusCode is HttpStatusCode.NoContent or HttpStatusCode.NotFound);
        return owner;
    }

    private static async Task<int> EditionAsync(HttpClient client) =>
        (await client.GetJsonAsync(Root)).GetProperty("edition").GetInt32();

    private static JsonObject Node(JsonElement json) => JsonNode.Parse(json.GetRawText())!.AsObject();

    private static JsonObject Hinge(JsonObject book) =>
        book["hingeOptions"]!.AsArray().Single(h => h!["code"]!.GetValue<string>() == "swing-out-pin")!.AsObject();

    private static string? Code(JsonElement problem) =>
        problem.GetProperty("reasons")[0].GetProperty("code").GetString();
}

public sealed class PriceBookApiOnSqlite(SqliteShop shop) : PriceBookApiTests(shop), IClassFixture<SqliteShop>;

public sealed class PriceBookApiOnPostgres(PostgresShop shop) : PriceBookApiTests(shop), IClassFixture<PostgresShop>;
