using System.Net;
using System.Text.Json;
using System.Text.RegularExpressions;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Changes;
using ShopFloor.Web.Tests.Fixtures;
using ShopFloor.Web.Tests.Jobs;
using ShopFloor.Web.Tests.Quotes;

namespace ShopFloor.Web.Tests.Decisions;

/// <summary>What a customer decides by a link without an account, on both databases.</summary>
public abstract partial class DecisionApiTests(ShopHost shop)
{
    private const string Api = "/api/v1";
    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    [Fact]
    public async Task One_of_two_offers_is_accepted_by_name_once_and_the_other_is_closed()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        using var phone = Phone();
        var who = await QuoteStory.CustomerWithCarAsync(shop, "Mina Okafor", "SF-DE 1");
        var first = await SentAsync(desk, who);
        var second = await SentAsync(desk, who, discountPercent: 10);
        var link = await LinkAsync(desk, "quote", first.Text("id"), second.Text("id"));

        // Opening it, as a mail scanner does, changes nothing.
        var page = await PageAsync(phone, link);
        Assert.Equal("sent", (await desk.GetJsonAsync($"{Api}/quotes/{first.Text("id")}")).Text("state"));
        Assert.Contains(first.Text("contentHash"), page, StringComparison.Ordinal);
        Assert.Contains(second.Text("contentHash"), page, StringComparison.Ordinal);
        Assert.Equal(2, Choice().Count(page));

        var choice = Choice().Matches(page)[1].Groups[1].Value;
        Assert.StartsWith(second.Text("id"), choice, StringComparison.Ordinal);
        var unnamed = await AnswerAsync(phone, link, 400, ("do", "accept"), ("choice", choice), ("name", " "));
        Assert.Contains("Type your name", unnamed, StringComparison.Ordinal);
        var forged = $"{second.Text("id")}:{new string('0', 64)}";
        await AnswerAsync(phone, link, 409, ("do", "accept"), ("choice", forged), ("name", "Mina"));
        await AnswerAsync(phone, link, 302, ("do", "accept"), ("choice", choice), ("name", "Mina Okafor"));

        var taken = await desk.GetJsonAsync($"{Api}/quotes/{second.Text("id")}");
        Assert.Equal(("accepted", "Mina Okafor"), (taken.Text("state"), taken.Text("acceptedBy")));
        Assert.Equal("declined", (await desk.GetJsonAsync($"{Api}/quotes/{first.Text("id")}")).Text("state"));
        Assert.Contains("You said yes", await PageAsync(phone, link), StringComparison.Ordinal);
        var twice = await AnswerAsync(phone, link, 409, ("do", "decline"));
        Assert.Contains("This was answered before", twice, StringComparison.Ordinal);
        Assert.Equal("accepted", (await desk.GetJsonAsync($"{Api}/quotes/{second.Text("id")}")).Text("state"));
        var told = await EventAsync("quote.accepted", Guid.Parse(second.Text("id")));
        Assert.Equal((ActorKind.Link, null), (told.ActorKind, told.Person));
    }

    [Fact]
    public async Task An_offer_that_was_replaced_meanwhile_says_so_and_cannot_be_taken()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        using var phone = Phone();
        var who = await QuoteStory.CustomerWithCarAsync(shop, "Noa Brandt", "SF-DE 2");
        var quote = await SentAsync(desk, who);
        var link = await LinkAsync(desk, "quote", quote.Text("id"));
        var choice = Hidden().Match(await PageAsync(phone, link)).Groups[1].Value;
        var revised = await desk.PostAsync($"{Api}/quotes/{quote.Text("id")}/revise", new { });
        await desk.PostAsync($"{Api}/quotes/{revised.Text("id")}/send", new { }, 200);

        var late = await AnswerAsync(phone, link, 409, ("do", "accept"), ("choice", choice), ("name", "Noa Brandt"));

        Assert.Contains("replaced by a newer one", late, StringComparison.Ordinal);
        Assert.DoesNotContain("Accept this offer", await PageAsync(phone, link), StringComparison.Ordinal);
        Assert.Equal("sent", (await desk.GetJsonAsync($"{Api}/quotes/{revised.Text("id")}")).Text("state"));
        // A link needs something that can be answered.
        var refused = await desk.PostAsync(
            $"{Api}/decision-links",
            new { kind = "quote", subjects = new[] { quote.Text("id") } },
            409
        );
        Assert.Equal("notSent", refused.ReasonCode());
    }

    [Fact]
    public async Task A_change_is_approved_by_the_link_and_the_job_has_it()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        using var phone = Phone();
        var (job, _) = await ChangeStory.SignedJobAsync(desk);
        var draft = await desk.PostAsync($"{Api}/jobs/{job}/change-orders", ChangeStory.FurtherPlate());
        var offered = await ChangeStory.OfferAsync(desk, draft);
        var link = await LinkAsync(desk, "change", offered.Text("id"));
        var page = await PageAsync(phone, link);
        Assert.Contains("The sill is cracked under the trim", page, StringComparison.Ordinal);
        Assert.Contains(offered.Text("contentHash"), page, StringComparison.Ordinal);
        // Nobody of the shop says that the customer used the link.
        await ChangeStory.ApproveAsync(desk, offered, 400, how: "byLink");

        await AnswerAsync(
            phone,
            link,
            302,
            ("do", "accept"),
            ("choice", Hidden().Match(page).Groups[1].Value),
            ("name", "Ada Kremer")
        );

        var approved = await desk.GetJsonAsync($"{Api}/change-orders/{offered.Text("id")}");
        Assert.Equal(
            ("approved", "byLink", "the customer's link"),
            (approved.Text("state"), approved.Text("approvedHow"), approved.Text("takenBy"))
        );
        Assert.Contains(
            (await desk.GetJsonAsync($"{Api}/jobs/{job}")).GetProperty("operations").EnumerateArray(),
            o => o.Text("code") == "55"
        );
    }

    [Fact]
    public async Task A_part_gets_its_day_questions_reach_the_desk_and_a_last_word_is_kept()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        using var phone = Phone();
        var (job, _) = await ChangeStory.SignedJobAsync(desk);
        var today = DateOnly.FromDateTime(shop.Clock.GetUtcNow().DateTime);
        var part = await desk.PostAsync(
            $"{Api}/jobs/{job}/customer-parts",
            new { what = "Door panels", dueOn = $"{today.AddDays(3):yyyy-MM-dd}" }
        );
        var link = await LinkAsync(desk, "partDay", part.Text("id"));
        var question = $"Do they need the clips? {job}";
        // Pressed twice, one form is one question.
        await AnswerAsync(phone, link, 302, ("do", "ask"), ("text", question), ("key", $"twice-{job}"));
        await AnswerAsync(phone, link, 302, ("do", "ask"), ("text", question), ("key", $"twice-{job}"));
        var shown = Hidden().Match(await PageAsync(phone, link)).Groups[1].Value;
        var later = ("day", $"{today.AddDays(9):yyyy-MM-dd}");
        await AnswerAsync(
            phone,
            link,
            400,
            ("do", "tell"),
            ("choice", shown),
            ("name", "Mina"),
            ("day", $"{today.AddDays(-1):yyyy-MM-dd}")
        );
        await AnswerAsync(phone, link, 400, ("do", "tell"), ("choice", shown), ("name", " "), later);
        var forged = $"{part.Text("id")}:{new string('0', 64)}";
        await AnswerAsync(phone, link, 409, ("do", "tell"), ("choice", forged), ("name", "Mina"), later);
        await AnswerAsync(phone, link, 302, ("do", "tell"), ("choice", shown), ("name", "Mina"), later);
        var parts = await desk.GetJsonAsync($"{Api}/jobs/{job}/customer-parts");
        Assert.Contains($"{today.AddDays(9):yyyy-MM-dd}", parts.ToString(), StringComparison.Ordinal);

        var asked = Word(await desk.GetJsonAsync($"{Api}/customer-words"), question);
        Assert.Equal(job, asked.Text("jobId"));
        await desk.PostAsync($"{Api}/customer-words/{asked.Text("id")}/settle", new { answer = "Yes, all." }, 204);
        await desk.PostAsync($"{Api}/customer-words/{asked.Text("id")}/settle", new { }, 409);
        Assert.DoesNotContain(
            question,
            (await desk.GetJsonAsync($"{Api}/customer-words")).ToString(),
            StringComparison.Ordinal
        );

        var last = await LinkAsync(desk, "lastWord", job);
        await AnswerAsync(phone, last, 400, ("do", "tell"), ("text", ""));
        await AnswerAsync(phone, last, 302, ("do", "tell"), ("text", "The belts sit well."));
        var words = await desk.GetJsonAsync($"{Api}/customer-words?job={job}");
        Assert.True(Word(words, "The belts sit well.").GetProperty("isLast").GetBoolean());
    }

    [Fact]
    public async Task A_shut_link_and_a_wrong_one_look_alike_and_another_site_decides_nothing()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        using var phone = Phone();
        var who = await QuoteStory.CustomerWithCarAsync(shop, "Tove Arends", "SF-DE 3");
        var quote = await SentAsync(desk, who);
        var link = await LinkAsync(desk, "quote", quote.Text("id"));
        var choice = Hidden().Match(await PageAsync(phone, link)).Groups[1].Value;

        using (var elsewhere = Form(link, ("do", "accept"), ("choice", choice), ("name", "Tove")))
        {
            elsewhere.Headers.Add("Sec-Fetch-Site", "cross-site");
            using var refused = await phone.SendAsync(elsewhere, Ct);
            Assert.Equal(HttpStatusCode.Forbidden, refused.StatusCode);
        }

        using (var foreign = Form(link, ("do", "accept"), ("choice", choice), ("name", "Tove")))
        {
            foreign.Headers.Add("Origin", "https://elsewhere.example");
            using var refused = await phone.SendAsync(foreign, Ct);
            Assert.Equal(HttpStatusCode.Forbidden, refused.StatusCode);
        }

        await AnswerAsync(phone, link, 400, ("do", "ask"), ("text", new string('x', 2_001)));
        await AnswerAsync(phone, link, 400, ("do", "ask"), ("text", new string('x', 70_000)));
        Assert.Equal("sent", (await desk.GetJsonAsync($"{Api}/quotes/{quote.Text("id")}")).Text("state"));

        var again = await desk.PostAsync(
            $"{Api}/decision-links",
            new { kind = "quote", subjects = new[] { quote.Text("id") } }
        );
        var other = new Uri(again.Text("url")).AbsolutePath;
        var made = (await desk.GetJsonAsync($"{Api}/decision-links?subject={quote.Text("id")}")).GetProperty("items");
        Assert.Equal(2, made.GetArrayLength());
        using (var revoked = await desk.SendAsync(HttpMethod.Delete, $"{Api}/decision-links/{again.Text("id")}"))
        {
            Assert.Equal(HttpStatusCode.NoContent, revoked.StatusCode);
        }

        var wrong = await BytesAsync(phone, "/d/" + new string('A', 43));
        Assert.Equal(wrong, await BytesAsync(phone, other));
        await AnswerAsync(phone, other, 404, ("do", "accept"), ("choice", choice), ("name", "Tove"));
        shop.Clock.Advance(TimeSpan.FromDays(61));
        Assert.Equal(wrong, await BytesAsync(phone, link));
    }

    private HttpClient Phone() => shop.CreateClient(new() { AllowAutoRedirect = false, HandleCookies = false });

    private static async Task<JsonElement> SentAsync(HttpClient desk, (Guid, Guid) who, decimal? discountPercent = null)
    {
        var draft = await desk.PostAsync($"{Api}/quotes", QuoteStory.Request(who, discountPercent: discountPercent));
        return await desk.PostAsync($"{Api}/quotes/{draft.Text("id")}/send", new { }, 200);
    }

    private static async Task<string> LinkAsync(HttpClient desk, string kind, params string[] subjects) =>
        new Uri((await desk.PostAsync($"{Api}/decision-links", new { kind, subjects })).Text("url")).AbsolutePath;

    private static async Task<string> PageAsync(HttpClient phone, string path)
    {
        using var response = await phone.GetAsync(new Uri(path, UriKind.Relative), Ct);
        Assert.Equal(HttpStatusCode.OK, response.StatusCode);
        Assert.False(response.Headers.Contains("Set-Cookie"));
        var german = await phone.GetStringAsync(new Uri($"{path}?lang=de", UriKind.Relative), Ct);
        GermanPages.AssertGerman(german);
        return WebUtility.HtmlDecode(await response.Content.ReadAsStringAsync(Ct));
    }

    private static async Task<byte[]> BytesAsync(HttpClient phone, string path)
    {
        using var response = await phone.GetAsync(new Uri(path, UriKind.Relative), Ct);
        Assert.Equal(HttpStatusCode.NotFound, response.StatusCode);
        return await response.Content.ReadAsByteArrayAsync(Ct);
    }

    private static async Task<string> AnswerAsync(
        HttpClient phone,
        string path,
        int expected,
        params (string Name, string Value)[] fields
    )
    {
        using var form = Form(path, fields);
        using var response = await phone.SendAsync(form, Ct);
        var text = WebUtility.HtmlDecode(await response.Content.ReadAsStringAsync(Ct));
        Assert.True(expected == (int)response.StatusCode, $"{(int)response.StatusCode}: {text}");
        if (expected is 400 or 409)
        {
            // What was refused changed nothing, so it is refused again, in the other language.
            using var german = Form($"{path}?lang=de", fields);
            using var refused = await phone.SendAsync(german, Ct);
            Assert.Equal(expected, (int)refused.StatusCode);
            GermanPages.AssertGerman(await refused.Content.ReadAsStringAsync(Ct));
        }

        return text;
    }

    private static HttpRequestMessage Form(string path, params (string Name, string Value)[] fields) =>
        new(HttpMethod.Post, path)
        {
            Content = new FormUrlEncodedContent(fields.Select(f => KeyValuePair.Create(f.Name, f.Value))),
        };

    private static JsonElement Word(JsonElement words, string text) =>
        words.GetProperty("items").EnumerateArray().Single(w => w.Text("text") == text);

    private async Task<Data.History.EventRow> EventAsync(string type, Guid subject)
    {
        Data.History.EventRow? row = null;
        await shop.WriteAsync(db => row = db.Events.Single(e => e.Type == type && e.SubjectId == subject));
        return row!;
    }

    [GeneratedRegex("""type="radio" name="choice" value="([^"]+)""")]
    private static partial Regex Choice();

    [GeneratedRegex("""type="hidden" name="choice" value="([^"]+)""")]
    private static partial Regex Hidden();
}

public sealed class DecisionApiOnSqlite(SqliteShop shop) : DecisionApiTests(shop), IClassFixture<SqliteShop>;

public sealed class DecisionApiOnPostgres(PostgresShop shop) : DecisionApiTests(shop), IClassFixture<PostgresShop>;
