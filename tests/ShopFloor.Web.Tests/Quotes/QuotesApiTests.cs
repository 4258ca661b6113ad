using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Fixtures;
using static ShopFloor.Web.Tests.Quotes.QuoteStory;

namespace ShopFloor.Web.Tests.Quotes;

/// <summary>A quote from the empty form to the customer's yes, by the API, on both databases.</summary>
public abstract class QuotesApiTests(ShopHost shop)
{
    private const string Path = "/api/v1/quotes";

    [Fact]
    public async Task Price_book_names_the_codes_that_a_quote_uses()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var book = await api.GetJsonAsync("/api/v1/price-book");

        Assert.Equal("six-point-weld-in", book.GetProperty("kits")[0].Text("code"));
        Assert.Contains(book.GetProperty("hingeOptions").EnumerateArray(), h => h.Text("code") == "swing-out-pin");
        var rust = book.GetProperty("questions").EnumerateArray().Single(q => q.Text("code") == "rust");
        Assert.Equal("none", rust.Text("default"));
        Assert.Equal(
            ["none", "light", "heavy"],
            rust.GetProperty("answers").EnumerateArray().Select(a => a.GetString())
        );
        Assert.Equal("EUR", book.Text("currency"));
    }

    [Fact]
    public async Task Draft_is_priced_sent_and_accepted_by_name_for_what_was_shown()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var who = await CustomerWithCarAsync(shop, "Mina Okafor", "SF-QT 1");
        var draft = await api.PostAsync(Path, Request(who, discountPercent: 5, tradeCreditMinor: 20_000));

        Assert.Matches(@"^Q-2026-\d{4}$", draft.Text("number"));
        Assert.Equal(("draft", 1), (draft.Text("state"), draft.GetProperty("revision").GetInt32()));
        Assert.True(
            draft.GetProperty("hours").GetProperty("p80").GetDouble()
                > draft.GetProperty("hours").GetProperty("p50").GetDouble()
        );
        Assert.All(
            draft.GetProperty("lines").EnumerateArray(),
            l => Assert.NotEqual("", l.GetProperty("explanation").Text("rule"))
        );
        Assert.Equal(
            draft.Number("subtotalMinor") - draft.Number("discountMinor") + draft.Number("taxMinor"),
            draft.Number("totalMinor")
        );
        Assert.Equal(draft.Number("totalMinor") - 20_000, draft.Number("amountDueMinor"));

        var id = draft.Text("id");
        var sent = await api.PostAsync($"{Path}/{id}/send", new { }, 200);
        var hash = sent.Text("contentHash");
        Assert.Equal(("sent", 64), (sent.Text("state"), hash.Length));
        var today = DateOnly.FromDateTime(shop.Clock.GetUtcNow().DateTime);
        Assert.Equal($"{today.AddDays(30):yyyy-MM-dd}", sent.Text("validUntil"));
        Assert.Equal($"{today.AddDays(28):yyyy-MM-dd}", sent.Text("promiseDate"));

        var wrong = await api.PostAsync(
            $"{Path}/{id}/accept",
            new { acceptedBy = "Mina Okafor", contentHash = new string('0', 64) },
            409
        );
        Assert.Equal("contentHash", wrong.ReasonCode());
        var nameless = await api.PostAsync($"{Path}/{id}/accept", new { contentHash = hash }, 400);
        Assert.True(nameless.GetProperty("errors").TryGetProperty("acceptedBy", out _));
        Assert.Equal("sent", (await api.GetJsonAsync($"{Path}/{id}")).Text("state"));

        var accepted = await api.PostAsync(
            $"{Path}/{id}/accept",
            new { acceptedBy = "Mina Okafor", contentHash = hash },
            200
        );
        Assert.Equal(("accepted", "Mina Okafor"), (accepted.Text("state"), accepted.Text("acceptedBy")));
        Assert.Equal(
            "closed",
            (
                await api.PostAsync($"{Path}/{id}/accept", new { acceptedBy = "Mina Okafor", contentHash = hash }, 409)
            ).ReasonCode()
        );
    }

    [Fact]
    public async Task Stored_quote_keeps_every_figure_and_explanation()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var who = await CustomerWithCarAsync(shop, "Paul Stored", "SF-QT 2");
        var draft = await api.PostAsync(Path, Request(who));

        var read = await api.GetJsonAsync($"{Path}/{draft.Text("id")}");

        Assert.Equal(draft.ToString(), read.ToString());
    }

    [Fact]
    public async Task Draft_is_edited_on_its_version_and_the_second_writer_is_told()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var who = await CustomerWithCarAsync(shop, "Edith Draft", "SF-QT 3");
        var draft = await api.PostAsync(Path, Request(who));
        var path = $"{Path}/{draft.Text("id")}";

        using var first = await api.SendAsync(HttpMethod.Put, path, Request(who, new { rust = "heavy" }), ifMatch: 1);
        var edited = await first.JsonAsync(200);
        Assert.True(edited.Number("totalMinor") > draft.Number("totalMinor"));
        Assert.Equal(2, edited.Number("version"));

        using var second = await api.SendAsync(HttpMethod.Put, path, Request(who), ifMatch: 1);
        Assert.Equal("stale", (await second.JsonAsync(409)).ReasonCode());
        Assert.Equal("heavy", (await api.GetJsonAsync(path)).GetProperty("condition").Text("rust"));
    }

    [Fact]
    public async Task Revision_replaces_the_old_quote_only_when_it_is_sent()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var who = await CustomerWithCarAsync(shop, "Rita Revise", "SF-QT 4");
        var old = (await api.PostAsync(Path, Request(who))).Text("id");
        Assert.Equal("draft", (await api.PostAsync($"{Path}/{old}/revise", new { }, 409)).ReasonCode());
        var hash = (await api.PostAsync($"{Path}/{old}/send", new { }, 200)).Text("contentHash");

        var revision = await api.PostAsync($"{Path}/{old}/revise", new { });
        Assert.Equal((2, "draft"), (revision.GetProperty("revision").GetInt32(), revision.Text("state")));
        Assert.NotEqual(old, revision.Text("id"));
        Assert.Equal("sent", (await api.GetJsonAsync($"{Path}/{old}")).Text("state"));
        Assert.Equal("newerRevision", (await api.PostAsync($"{Path}/{old}/revise", new { }, 409)).ReasonCode());

        await api.PostAsync($"{Path}/{revision.Text("id")}/send", new { }, 200);
        Assert.Equal("replaced", (await api.GetJsonAsync($"{Path}/{old}")).Text("state"));
        var late = await api.PostAsync(
            $"{Path}/{old}/accept",
            new { acceptedBy = "Rita Revise", contentHash = hash },
            409
        );
        Assert.Equal("replaced", late.ReasonCode());
    }

    [Fact]
    public async Task Sent_quote_is_frozen_and_keeps_its_total_when_the_price_book_changes()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        using var owner = await shop.ApiAsync(Role.Owner);
        var who = await CustomerWithCarAsync(shop, "Fred Frozen", "SF-QT 5");
        var sent = (await api.PostAsync(Path, Request(who))).Text("id");
        var before = await api.PostAsync($"{Path}/{sent}/send", new { }, 200);
        using var edit = await api.SendAsync(HttpMethod.Put, $"{Path}/{sent}", Request(who, new { rust = "heavy" }));
        Assert.Equal("notDraft", (await edit.JsonAsync(409)).ReasonCode());

        var document = System.Text.Json.Nodes.JsonNode.Parse(
            (await owner.GetJsonAsync("/api/v1/price-book/document")).ToString()
        )!;
        document["kits"]![0]!["priceMinor"] = 222_222;
        var adopted = await owner.PostAsync("/api/v1/price-book", new { document });

        var after = await api.GetJsonAsync($"{Path}/{sent}");
        Assert.Equal(before.ToString(), after.ToString());
        var fresh = await api.PostAsync(Path, Request(who));
        Assert.Equal(adopted.GetProperty("edition").GetInt32(), fresh.GetProperty("priceBookEdition").GetInt32());
        Assert.Equal(222_222, fresh.GetProperty("lines")[0].Number("netMinor"));
        await owner.PostAsync("/api/v1/price-book", new { });
    }

    [Fact]
    public async Task Quote_expires_by_date_and_can_then_only_be_revised_or_declined()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var who = await CustomerWithCarAsync(shop, "Ella Expired", "SF-QT 6");
        var id = (await api.PostAsync(Path, Request(who))).Text("id");
        var hash = (await api.PostAsync($"{Path}/{id}/send", new { }, 200)).Text("contentHash");

        shop.Clock.Advance(TimeSpan.FromDays(31));

        Assert.Equal("expired", (await api.GetJsonAsync($"{Path}/{id}")).Text("state"));
        var late = await api.PostAsync(
            $"{Path}/{id}/accept",
            new { acceptedBy = "Ella Expired", contentHash = hash },
            409
        );
        Assert.Equal("expired", late.ReasonCode());
        var expired = await api.GetJsonAsync($"{Path}?state=expired&search=ella");
        Assert.Equal(id, expired.GetProperty("items")[0].Text("id"));
        Assert.Equal(
            0,
            (await api.GetJsonAsync($"{Path}?state=sent&search=ella")).GetProperty("totalCount").GetInt32()
        );
        var declined = await api.PostAsync($"{Path}/{id}/decline", new { reason = "Sold the car" }, 200);
        Assert.Equal(("declined", "Sold the car"), (declined.Text("state"), declined.Text("declineReason")));
    }

    [Theory]
    [InlineData("zelda")]
    [InlineData("sf-find")]
    [InlineData("042788")]
    public async Task Quotes_are_found_by_name_registration_and_end_of_the_chassis_number(string search)
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var who = await CustomerWithCarAsync(shop, "Zelda Found", "SF-FIND 7", vin: "1M8GDM9AXKP042788");
        var quote = await api.PostAsync(Path, Request(who));

        var byText = await api.GetJsonAsync($"{Path}?search={search}");
        var byNumber = await api.GetJsonAsync($"{Path}?search={quote.Text("number")}");

        Assert.Contains(byText.GetProperty("items").EnumerateArray(), q => q.Text("id") == quote.Text("id"));
        Assert.Equal(1, byNumber.GetProperty("totalCount").GetInt32());
    }

    [Fact]
    public async Task Exempt_customer_is_quoted_without_tax()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var who = await CustomerWithCarAsync(shop, "Eve Exempt", "SF-QT 8", taxExemption: "Certificate 12");

        Assert.Equal(0, (await api.PostAsync(Path, Request(who))).Number("taxMinor"));
    }

    [Theory]
    [InlineData("""{"kitCode":"no-such-kit"}""", "kitCode")]
    [InlineData(
        """{"kitCode":"six-point-weld-in","doors":[{"door":"left","hingeOptionCode":"glue"}]}""",
        "doors[0].hingeOptionCode"
    )]
    [InlineData(
        """{"kitCode":"six-point-weld-in","doors":[{"door":"middle","hingeOptionCode":"fixed"}]}""",
        "doors[0].door"
    )]
    [InlineData("""{"kitCode":"four-point-half-bar","doors":[{"door":"left","hingeOptionCode":"fixed"}]}""", "doors")]
    [InlineData("""{"kitCode":"four-point-half-bar","condition":{"rust":"blue"}}""", "condition.rust")]
    [InlineData("""{"kitCode":"four-point-half-bar","ruleSetCodes":["none"]}""", "ruleSetCodes[0]")]
    [InlineData("""{"kitCode":"four-point-half-bar","useCode":"sanctioned"}""", "ruleSetCodes")]
    [InlineData("""{"kitCode":"four-point-half-bar","discountPercent":101}""", "discountPercent")]
    [InlineData("""{"kitCode":"four-point-half-bar","tradeCreditMinor":-1}""", "tradeCreditMinor")]
    [InlineData("""{"kitCode":"four-point-half-bar","tradeCreditMinor":999999999}""", "tradeCreditMinor")]
    [InlineData("""{"kitCode":"four-point-half-bar","promiseDate":"1900-01-01"}""", "promiseDate")]
    public async Task Bad_input_is_named_at_its_field_and_nothing_is_written(string body, string path)
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var who = await CustomerWithCarAsync(shop, "Bad Input", "SF-QT 9");
        var before = (await api.GetJsonAsync(Path)).GetProperty("totalCount").GetInt32();
        var json = System.Text.Json.Nodes.JsonNode.Parse(body)!.AsObject();
        json["customerId"] = who.Customer;
        json["carId"] = who.Car;

        var problem = await api.PostAsync(Path, json, 400);

        Assert.True(problem.GetProperty("errors").TryGetProperty(path, out _), problem.ToString());
        Assert.Equal(before, (await api.GetJsonAsync(Path)).GetProperty("totalCount").GetInt32());
    }

    [Fact]
    public async Task Car_of_another_customer_is_refused()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var one = await CustomerWithCarAsync(shop, "One", "SF-QT 10");
        var other = await CustomerWithCarAsync(shop, "Other", "SF-QT 11");

        var problem = await api.PostAsync(Path, Request((one.Customer, other.Car)), 400);

        Assert.True(problem.GetProperty("errors").TryGetProperty("carId", out _));
    }

    [Fact]
    public async Task Preview_prices_without_customer_or_car_and_keeps_nothing()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var before = (await api.GetJsonAsync(Path)).GetProperty("totalCount").GetInt32();

        var price = await api.PostAsync($"{Path}/preview", new { kitCode = "four-point-half-bar" }, 200);

        Assert.True(price.Number("totalMinor") > 0);
        Assert.Equal(before, (await api.GetJsonAsync(Path)).GetProperty("totalCount").GetInt32());
    }

    [Fact]
    public async Task Same_quote_sent_twice_with_one_key_is_written_once()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var who = await CustomerWithCarAsync(shop, "Ralph Repeat", "SF-QT 13");

        var first = await api.PostAsync(Path, Request(who), key: "quote-" + shop.Kind);
        var second = await api.PostAsync(Path, Request(who), key: "quote-" + shop.Kind);

        Assert.Equal(first.ToString(), second.ToString());
        Assert.Equal(1, (await api.GetJsonAsync($"{Path}?search=ralph")).GetProperty("totalCount").GetInt32());
    }

    [Theory]
    [InlineData("kits", "kits")]
    [InlineData("validityDays", "validityDays")]
    public async Task Price_book_that_cannot_be_used_is_refused_and_the_old_one_stays(string field, string path)
    {
        using var owner = await shop.ApiAsync(Role.Owner);
        var before = (await owner.GetJsonAsync("/api/v1/price-book")).GetProperty("edition").GetInt32();
        var document = System.Text.Json.Nodes.JsonNode.Parse(
            (await owner.GetJsonAsync("/api/v1/price-book/document")).ToString()
        )!;
        document[field] = field == "kits" ? new System.Text.Json.Nodes.JsonArray() : 0;

        var problem = await owner.PostAsync("/api/v1/price-book", new { document }, 400);

        Assert.True(problem.GetProperty("errors").TryGetProperty(path, out _), problem.ToString());
        await owner.PostAsync("/api/v1/price-book", new { document = new { title = "Half a book" } }, 400);
        Assert.Equal(before, (await owner.GetJsonAsync("/api/v1/price-book")).GetProperty("edition").GetInt32());
    }

    [Fact]
    public async Task Fabricator_sees_no_prices()
    {
        using var api = await shop.ApiAsync(Role.Fabricator);
        await api.GetJsonAsync(Path, 403);
        await api.GetJsonAsync("/api/v1/price-book", 403);
    }

    [Fact]
    public async Task Numbers_of_quotes_have_no_gap_after_a_refused_one()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var who = await CustomerWithCarAsync(shop, "Gap Less", "SF-QT 12");
        var first = (await api.PostAsync(Path, Request(who))).Text("number");
        await api.PostAsync(Path, Request(who, new { rust = "blue" }), 400);
        var next = (await api.PostAsync(Path, Request(who))).Text("number");

        Assert.Equal(Count(first) + 1, Count(next));

        static int Count(string number) => int.Parse(number[^4..], System.Globalization.CultureInfo.InvariantCulture);
    }
}

public sealed class QuotesApiOnSqlite(SqliteShop shop) : QuotesApiTests(shop), IClassFixture<SqliteShop>;

public sealed class QuotesApiOnPostgres(PostgresShop shop) : QuotesApiTests(shop), IClassFixture<PostgresShop>;
