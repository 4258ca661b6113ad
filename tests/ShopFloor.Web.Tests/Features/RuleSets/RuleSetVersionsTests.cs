using System.Net;
using System.Net.Http.Json;
using System.Text.Json;
using System.Text.Json.Nodes;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.RuleSets;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.RuleSets;
using ShopFloor.Web.Tests.Features.Inspection;
using ShopFloor.Web.Tests.Fixtures;
using PdfDocument = UglyToad.PdfPig.PdfDocument;

namespace ShopFloor.Web.Tests.Features.RuleSets;

/// <summary>Rule sets as stored versions: shipped files, the owner's own copies, what a job keeps, what a tampered one shows.</summary>
public abstract class RuleSetVersionsTests(ShopHost shop)
{
    private const string Root = "/api/v1/rule-sets";

    private static readonly RuleSetLibrary Files = new();

    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_start_with_the_same_files_stores_nothing_and_a_changed_file_makes_one_version()
    {
        Assert.Equal(0, (await LoadAsync(Files.Shipped)).Value);
        const string Code = "shoulder-straps";
        using var api = await shop.ApiAsync(Role.Fabricator);
        Assert.Equal("shipped", (await VersionsAsync(api, Code))[0].GetProperty("origin").GetString());

        var changed = Changed(Code, f => f with { Printed = "≤ 50°", Upper = 50 }, "fia-below-horizontal");
        Assert.Equal(1, (await LoadAsync([changed])).Value);
        Assert.Equal(0, (await LoadAsync([changed])).Value);
        // A server that still has the older file, beside the newer one, does not store it again.
        Assert.Equal(0, (await LoadAsync(Files.Shipped)).Value);

        var now = await api.GetJsonAsync($"{Root}/{Code}");
        Assert.Equal(2, now.GetProperty("version").GetInt32());
        Assert.Equal("≤ 50°", Figure(now, "fia-below-horizontal").GetProperty("printed").GetString());
        var old = await api.GetJsonAsync($"{Root}/{Code}?version=1");
        Assert.Equal("≤ 45°", Figure(old, "fia-below-horizontal").GetProperty("printed").GetString());
        Assert.Equal(2, old.GetProperty("newestVersion").GetInt32());
        await api.GetJsonAsync($"{Root}/{Code}?version=3", 404);
    }

    [Fact]
    public async Task Two_servers_that_start_at_once_store_a_file_once()
    {
        var changed = Changed("osha-1910-252", f => f with { Printed = "≥ 1 hour", Lower = 60 }, "fire-watch");
        var both = await Task.WhenAll(Enumerable.Range(0, 4).Select(_ => LoadAsync([changed])));
        Assert.All(both, o => Assert.True(o.IsSuccess, o.Failure?.Sentence));
        Assert.Equal(1, both.Sum(o => o.Value));
        using var api = await shop.ApiAsync(Role.Fabricator);
        Assert.Equal(2, (await VersionsAsync(api, "osha-1910-252")).Count);
    }

    [Fact]
    public async Task A_job_keeps_the_version_it_was_built_to_and_its_page_and_pack_say_what_is_newer()
    {
        var car = await CarStory.BeginAsync(shop);
        var before = await car.LineAsync("plate-area-hoop");
        var changed = Changed(
            "fia-appendix-j-253",
            f => f with { Printed = "≥ 130 cm²", Lower = 130 },
            "foot-plate-area"
        );
        Assert.Equal(1, (await LoadAsync([changed])).Value);

        var view = await car.InspectionAsync();
        var used = view.GetProperty("ruleSets")
            .EnumerateArray()
            .Single(r => r.GetProperty("code").GetString() == "fia-appendix-j-253");
        Assert.Equal(1, used.GetProperty("version").GetInt32());
        Assert.Equal(2, used.GetProperty("newestVersion").GetInt32());
        Assert.Contains("≥ 120 cm² → ≥ 130 cm²", used.GetProperty("changes")[0].GetString(), StringComparison.Ordinal);
        Assert.Equal(120, before.GetProperty("lower").GetDecimal());
        Assert.Equal(120, (await car.LineAsync("plate-area-hoop")).GetProperty("lower").GetDecimal());

        using var inspector = await shop.SignedInAsync(Role.Inspector);
        var page = await inspector.PageAsync($"/inspection/{car.JobId}");
        Assert.Contains("version 1 here", page, StringComparison.Ordinal);
        Assert.Contains("Version 2 exists", page, StringComparison.Ordinal);
        Assert.Contains("the scrutineer decides", page, StringComparison.Ordinal);
        using var pdf = PdfDocument.Open(
            await car.Inspector.GetByteArrayAsync(new Uri($"{car.JobPath}/inspection/pdf", UriKind.Relative), Ct)
        );
        var text = string.Join(' ', pdf.GetPages().SelectMany(p => p.GetWords()).Select(w => w.Text));
        Assert.Contains("FIA, Appendix J, article 253", text, StringComparison.Ordinal);
        Assert.Contains("version 1 here", text, StringComparison.Ordinal);

        // The tube check of the job's version names it; a new job takes the newer one.
        var tube = new
        {
            figure = "main-hoop-tube",
            ordered = new
            {
                diameter = 45,
                wall = 2.5,
                unit = "mm",
            },
        };
        var kept = await car.Inspector.PostAsync($"{Root}/fia-appendix-j-253/tube-check?version=1", tube, 200);
        Assert.Equal(1, kept.GetProperty("ruleSetVersion").GetInt32());
        Assert.Equal(2, kept.GetProperty("newestVersion").GetInt32());
        Assert.Equal("FIA", kept.GetProperty("publisher").GetString());
        Assert.StartsWith("excerpts", kept.GetProperty("edition").GetString(), StringComparison.Ordinal);
        var next = await CarStory.BeginAsync(shop, isSigned: false);
        Assert.Equal(130, (await next.LineAsync("plate-area-hoop")).GetProperty("lower").GetDecimal());
    }

    [Fact]
    public async Task The_owner_copies_a_set_changes_the_copy_and_every_version_stays_readable()
    {
        using var owner = await shop.ApiAsync(Role.Owner);
        var copy = await owner.PostAsync($"{Root}/house-street/copies", new { title = "Our own street rules" });
        var path = $"{Root}/{copy.GetProperty("code").GetString()}";
        Assert.Equal("house-street", copy.GetProperty("copyOf").GetString());
        var document = await FileAsync(owner, path, 1);
        var figures = document["figures"]!.AsArray();
        figures.RemoveAt(0);
        figures.Single(f => f!["code"]!.GetValue<string>() == "door-bar-gap")!["lower"] = 5;
        figures.Add(
            JsonNode.Parse(
                """{"code":"drain-holes","clause":"","what":"Drain holes open","printed":"yes or no","kind":"yesNo","mark":"commonPractice"}"""
            )
        );
        document["title"] = "  Our own street rules, harder ";
        var saved = await SaveAsync(owner, path, 1, document);
        Assert.Equal(2, saved.GetProperty("version").GetInt32());
        Assert.Equal("Our own street rules, harder", saved.GetProperty("title").GetString());

        var compared = await owner.GetJsonAsync($"{path}/compare?from=1&to=2");
        Assert.Equal(
            ["removed bare-metal", "changed door-bar-gap", "added drain-holes"],
            compared
                .GetProperty("figures")
                .EnumerateArray()
                .Select(f => $"{f.GetProperty("kind").GetString()} {f.GetProperty("code").GetString()}")
        );
        var withOriginal = await owner.GetJsonAsync($"{path}/compare?with=house-street&from=1&to=2");
        Assert.Contains(
            "Our own street rules, harder",
            withOriginal.GetProperty("about").GetRawText(),
            StringComparison.Ordinal
        );
        Assert.Equal(
            3,
            (await FileAsync(owner, path, 1))["figures"]!
                .AsArray()
                .Single(f => f!["code"]!.GetValue<string>() == "door-bar-gap")!["lower"]!.GetValue<decimal>()
        );
        using (var told = await shop.ApiAsync(Role.Owner))
        {
            var events = await told.GetJsonAsync($"/api/v1/events?after=0&pageSize=200");
            Assert.Contains("ruleSet.stored", events.GetRawText(), StringComparison.Ordinal);
        }

        // Made on an older version, nothing different, a figure without its clause.
        Assert.Contains(
            "Version 2 was stored meanwhile",
            (await RefusedAsync(owner, path, 1, document, 409)).GetRawText(),
            StringComparison.Ordinal
        );
        Assert.Contains(
            "Nothing differs",
            (await RefusedAsync(owner, path, 2, await FileAsync(owner, path, 2), 409)).GetRawText(),
            StringComparison.Ordinal
        );
        figures[0]!["mark"] = "read";
        var wrong = await RefusedAsync(owner, path, 2, document, 400);
        Assert.True(
            wrong.GetProperty("errors").TryGetProperty("document.figures[0].clause", out var sentence),
            wrong.GetRawText()
        );
        Assert.Contains("only common practice", sentence.GetRawText(), StringComparison.Ordinal);
        // A shipped set is not changed.
        var shipped = await FileAsync(owner, $"{Root}/house-street", 1);
        Assert.Contains(
            "Copy it",
            (await RefusedAsync(owner, $"{Root}/house-street", 1, shipped, 409)).GetRawText(),
            StringComparison.Ordinal
        );
    }

    [Fact]
    public async Task A_job_built_to_a_copy_is_measured_against_the_copys_figures()
    {
        using var owner = await shop.ApiAsync(Role.Owner);
        var copy = await owner.PostAsync($"{Root}/house-street/copies", new { });
        var code = copy.GetProperty("code").GetString()!;
        var document = await FileAsync(owner, $"{Root}/{code}", 1);
        document["figures"]!.AsArray().Single(f => f!["code"]!.GetValue<string>() == "hoop-upright")!["upper"] = 0.5;
        await SaveAsync(owner, $"{Root}/{code}", 1, document);
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var sale = await CarStory.BeginAsync(shop, isSigned: false);
        var quote = await desk.GetJsonAsync(
            (await sale.JobAsync()).GetProperty("quoteId").GetString() is { } id ? $"/api/v1/quotes/{id}" : ""
        );
        var story = await CarStory.OfSaleAsync(
            shop,
            "Ada Kremer",
            new
            {
                customerId = quote.GetProperty("customerId").GetString(),
                carId = quote.GetProperty("carId").GetString(),
                kitCode = "four-point-half-bar",
                useCode = "street",
                ruleSetCodes = new[] { code },
                doors = Array.Empty<object>(),
                condition = new { deadening = "none" },
            }
        );
        var line = await story.LineAsync("hoop-upright");
        Assert.Equal(0.5m, line.GetProperty("upper").GetDecimal());
        Assert.Contains("(own copy)", line.GetProperty("source").GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_withdrawn_set_is_refused_for_new_quotes_until_it_is_offered_again()
    {
        using var owner = await shop.ApiAsync(Role.Owner);
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var code = (await owner.PostAsync($"{Root}/house-street/copies", new { })).GetProperty("code").GetString()!;
        Assert.False(
            (await owner.PostAsync($"{Root}/{code}/withdraw", new { }, 200)).GetProperty("isOffered").GetBoolean()
        );
        await owner.PostAsync($"{Root}/{code}/withdraw", new { }, 409);
        var customerId = (await desk.PostAsync("/api/v1/customers", new { name = "Ada Kremer" }))
            .GetProperty("id")
            .GetString();
        var quote = new
        {
            customerId,
            kind = "shipped",
            kitCode = "four-point-half-bar",
            useCode = "street",
            ruleSetCodes = new[] { code },
        };
        var refused = await desk.PostAsync("/api/v1/quotes", quote, 400);
        Assert.Contains("is withdrawn from new jobs", refused.GetRawText(), StringComparison.Ordinal);
        Assert.True(
            (await owner.PostAsync($"{Root}/{code}/offer", new { }, 200)).GetProperty("isOffered").GetBoolean()
        );
        var again = await desk.SendAsync(HttpMethod.Post, "/api/v1/quotes", quote);
        Assert.DoesNotContain("withdrawn", await again.Content.ReadAsStringAsync(Ct), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_file_is_brought_in_by_the_published_format_and_by_the_owner_alone()
    {
        using var owner = await shop.ApiAsync(Role.Owner);
        var document = await FileAsync(owner, $"{Root}/house-street", 1);
        var own = await owner.PostAsync(Root, new { document }, 400);
        Assert.Contains("document.code", own.GetProperty("errors").GetRawText(), StringComparison.Ordinal);
        document["code"] = "club-rules";
        document["version"] = 7;
        var taken = await owner.PostAsync(Root, new { document });
        Assert.Equal(1, taken.GetProperty("version").GetInt32());
        Assert.True(taken.GetProperty("isOwn").GetBoolean());
        await owner.PostAsync(Root, new { document }, 409);
        document["edition"] = "second set";
        Assert.Equal(2, (await owner.PostAsync(Root, new { document })).GetProperty("version").GetInt32());
        document["figures"]![1]!["mark"] = "certain";
        var broken = await owner.PostAsync(Root, new { document }, 400);
        Assert.Contains(
            "document.figures[1].mark",
            broken.GetProperty("errors").GetRawText(),
            StringComparison.Ordinal
        );

        foreach (var role in new[] { Role.FrontDesk, Role.Fabricator, Role.Inspector })
        {
            using var other = await shop.ApiAsync(role);
            await other.PostAsync(Root, new { document }, 403);
            await other.PostAsync($"{Root}/house-street/copies", new { }, 403);
            await other.PostAsync($"{Root}/club-rules/versions", new { fromVersion = 1, document }, 403);
            await other.PostAsync($"{Root}/club-rules/withdraw", new { }, 403);
            using var schema = await other.GetAsync(new Uri("/api/v1/rule-set-schema", UriKind.Relative), Ct);
            Assert.Equal(HttpStatusCode.OK, schema.StatusCode);
            Assert.Equal(RuleSetSchema.Text, await schema.Content.ReadAsStringAsync(Ct));
        }
    }

    [Theory]
    [InlineData(
        """UPDATE "RuleSetVersions" SET "Content" = REPLACE("Content", '≥ 80 mm', '≥ 8 mm') WHERE "Code" = {0}""",
        "hash differs"
    )]
    [InlineData(
        """UPDATE "RuleSetVersions" SET ("Content", "ContentHash") = (SELECT o."Content", o."ContentHash" FROM "RuleSetVersions" AS o WHERE o."Code" = 'motorsport-uk-ncr-2026') WHERE "Code" = {0}""",
        "history names"
    )]
    [InlineData("""DELETE FROM "RuleSetVersions" WHERE "Code" = {0}""", "is gone")]
    [InlineData("""UPDATE "RuleSetVersions" SET "Number" = 9 WHERE "Code" = {0}""", "is kept as")]
    [InlineData("""DELETE FROM "RuleSetVersions" WHERE "Code" = {0}""", "was built to it")]
    public async Task A_version_changed_behind_the_programs_back_is_found(string sql, string says)
    {
        await CarStory.BeginAsync(shop, isSigned: false);
        Assert.Empty(
            await shop.WithAsync<IDbContextFactory<ShopDbContext>, IReadOnlyList<string>>(c => VerifyAsync(c, null))
        );
        var found = await shop.WithAsync<IDbContextFactory<ShopDbContext>, IReadOnlyList<string>>(c =>
            VerifyAsync(c, sql)
        );
        Assert.Contains(found, f => f.Contains(says, StringComparison.Ordinal));
    }

    private static async Task<IReadOnlyList<string>> VerifyAsync(IDbContextFactory<ShopDbContext> contexts, string? sql)
    {
        await using var db = await contexts.CreateDbContextAsync(Ct);
        // In a transaction that is rolled back.
        await using var transaction = await db.Database.BeginTransactionAsync(Ct);
        if (sql is not null)
        {
            Assert.True(await db.Database.ExecuteSqlRawAsync(sql, ["house-street"], Ct) > 0);
        }

        return await new RuleSetVerifier().VerifyAsync(db, Ct);
    }

    private Task<Outcome<int>> LoadAsync(IReadOnlyList<RuleSet> files) =>
        shop.WithAsync<LoadShippedRuleSets, Outcome<int>>(load => load.RunAsync(files, Ct));

    /// <summary>A shipped file as a later program would bring it.</summary>
    private static RuleSet Changed(string code, Func<RuleFigure, RuleFigure> change, string figure)
    {
        var document = Files.Find(code)!.Document;
        return RuleSet
            .From(document with { Figures = [.. document.Figures.Select(f => f.Code == figure ? change(f) : f)] })
            .Value;
    }

    private static async Task<IReadOnlyList<JsonElement>> VersionsAsync(HttpClient api, string code) =>
        [.. (await api.GetJsonAsync($"{Root}/{code}")).GetProperty("versions").EnumerateArray()];

    private static JsonElement Figure(JsonElement set, string code) =>
        set.GetProperty("figures").EnumerateArray().Single(f => f.GetProperty("code").GetString() == code);

    private static async Task<JsonObject> FileAsync(HttpClient api, string path, int version) =>
        (await api.GetFromJsonAsync<JsonObject>(new Uri($"{path}/versions/{version}/file", UriKind.Relative), Ct))!;

    private static Task<JsonElement> SaveAsync(HttpClient api, string path, int from, JsonObject document) =>
        RefusedAsync(api, path, from, document, 201);

    private static Task<JsonElement> RefusedAsync(
        HttpClient api,
        string path,
        int from,
        JsonObject document,
        int expected
    ) => api.PostAsync($"{path}/versions", new { fromVersion = from, document }, expected);
}

public sealed class RuleSetVersionsOnSqlite(SqliteShop shop) : RuleSetVersionsTests(shop), IClassFixture<SqliteShop>;

public sealed class RuleSetVersionsOnPostgres(PostgresShop shop)
    : RuleSetVersionsTests(shop),
        IClassFixture<PostgresShop>;
