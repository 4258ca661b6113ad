using System.Text.Json.Nodes;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Fixtures;
using ShopFloor.Web.Tests.Quotes;

namespace ShopFloor.Web.Tests.Accounts;

/// <summary>Part invoices, credit notes and what a cancelled job leaves of them, by the API, on both databases.</summary>
public abstract class InvoicesApiTests(ShopHost shop)
{
    [Fact]
    public async Task Parts_and_the_rest_sum_to_the_quote_and_each_series_counts_for_itself()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var (job, quote) = await JobStory.OpenJobAsync(shop, api, "Petra Parts", "SF-IN 1");
        var total = quote.Number("totalMinor");

        var third = await InvoiceAsync(api, job, new { percent = 33.3333m });
        var amount = await InvoiceAsync(api, job, new { amountMinor = 100_001 });
        var note = await api.PostAsync(
            $"/api/v1/invoices/{third.Text("id")}/credit-notes",
            new { reason = "Agreed otherwise" }
        );
        var last = await InvoiceAsync(api, job, new { });

        Assert.Equal(("part", 100_001), (amount.Text("kind"), amount.Number("totalMinor")));
        Assert.Matches(@"^C-2026-\d{4}$", note.Text("number"));
        Assert.Equal(third.Text("number"), note.Text("creditsNumber"));
        Assert.Equal("final", last.Text("kind"));
        Assert.Equal(total, amount.Number("totalMinor") + last.Number("totalMinor"));
        var account = await api.GetJsonAsync($"/api/v1/jobs/{job}/account");
        Assert.Equal(
            (total, total, 0, total),
            (
                account.Number("chargedMinor"),
                account.Number("invoicedMinor"),
                account.Number("notInvoicedMinor"),
                account.Number("balanceMinor")
            )
        );
        Assert.Empty(await JobStory.VerifyAsync(shop));
    }

    [Fact]
    public async Task Chosen_lines_are_invoiced_and_credited_by_their_keys()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var (job, _) = await JobStory.OpenJobAsync(shop, api, "Lina Lines", "SF-IN 2");
        var account = await api.GetJsonAsync($"/api/v1/jobs/{job}/account");
        var keys = account.GetProperty("lines").EnumerateArray().Take(2).Select(l => l.Text("key")).ToArray();

        var invoice = await InvoiceAsync(api, job, new { lines = keys });
        var path = $"/api/v1/invoices/{invoice.Text("id")}/credit-notes";
        var note = await api.PostAsync(path, new { reason = "Not fitted", lines = new[] { keys[1] } });

        Assert.Equal(keys, invoice.GetProperty("lines").EnumerateArray().Select(l => l.Text("key")));
        Assert.Equal(keys[1], Assert.Single(note.GetProperty("lines").EnumerateArray()).Text("key"));
        var twice = await api.PostAsync(path, new { reason = "Again", lines = new[] { keys[1] } }, 400);
        Assert.True(twice.GetProperty("errors").TryGetProperty("lines[0]", out _), twice.ToString());
        await api.PostAsync(path, new { lines = new[] { keys[0] } }, 400);
    }

    [Fact]
    public async Task Eight_people_who_invoice_at_once_issue_one_invoice()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var (job, _) = await JobStory.OpenJobAsync(shop, api, "Otto Once", "SF-IN 3");

        var answers = await Task.WhenAll(
            Enumerable.Range(0, 8).Select(_ => api.SendAsync(HttpMethod.Post, $"/api/v1/jobs/{job}/invoices", new { }))
        );

        Assert.Equal(1, answers.Count(a => (int)a.StatusCode == 201));
        Assert.All(answers.Where(a => (int)a.StatusCode != 201), a => Assert.Equal(409, (int)a.StatusCode));
        var account = await api.GetJsonAsync($"/api/v1/jobs/{job}/account");
        Assert.Single(account.GetProperty("invoices").EnumerateArray());
        Assert.Empty(await JobStory.VerifyAsync(shop));
    }

    [Fact]
    public async Task Job_cancelled_after_a_part_invoice_gets_a_credit_note_for_what_was_not_supplied()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var (job, _) = await JobStory.OpenJobAsync(shop, api, "Cara Cancel", "SF-IN 4");
        var part = await InvoiceAsync(api, job, new { percent = 40 });
        await api.PostAsync(
            $"/api/v1/jobs/{job}/account/payments",
            new { amountMinor = part.Number("totalMinor"), method = "card" },
            200
        );

        await api.PostAsync($"/api/v1/jobs/{job}/cancel", new { reason = "Car was sold" }, 200);

        var account = await api.GetJsonAsync($"/api/v1/jobs/{job}/account");
        var papers = account.GetProperty("invoices").EnumerateArray().ToList();
        Assert.Equal(["part", "credit"], papers.Select(p => p.Text("kind")));
        Assert.Equal(part.Number("totalMinor"), papers[1].Number("totalMinor"));
        Assert.Equal(
            (0, 0, -part.Number("totalMinor")),
            (account.Number("chargedMinor"), account.Number("invoicedMinor"), account.Number("balanceMinor"))
        );
        Assert.Equal("invoiced", (await api.PostAsync($"/api/v1/jobs/{job}/invoices", new { }, 409)).ReasonCode());
        Assert.Empty(await JobStory.VerifyAsync(shop));
    }

    [Theory]
    [InlineData("""{"percent":0}""", "percent")]
    [InlineData("""{"percent":101}""", "percent")]
    [InlineData("""{"percent":12.34567}""", "percent")]
    [InlineData("""{"amountMinor":-1}""", "amountMinor")]
    [InlineData("""{"amountMinor":9007199254740991}""", "amountMinor")]
    [InlineData("""{"lines":["x"]}""", "lines[0]")]
    [InlineData("""{"lines":[]}""", "lines")]
    [InlineData("""{"percent":10,"amountMinor":100}""", "percent")]
    [InlineData("""{"suppliedOn":"2026-12-31"}""", "suppliedOn")]
    [InlineData("""{"suppliedOn":"1999-12-31"}""", "suppliedOn")]
    public async Task Bad_part_is_named_at_its_field(string body, string path)
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var (job, _) = await JobStory.OpenJobAsync(shop, api, "Bad Part", "SF-IN 5");

        var problem = await api.PostAsync(
            $"/api/v1/jobs/{job}/invoices",
            System.Text.Json.Nodes.JsonNode.Parse(body),
            400
        );

        Assert.True(problem.GetProperty("errors").TryGetProperty(path, out _), problem.ToString());
    }

    [Fact]
    public async Task Papers_say_what_they_are_what_they_credit_and_what_was_given_in_exchange()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var (job, _) = await JobStory.OpenJobAsync(shop, api, "Bea Barter", "SF-IN 6", tradeCreditMinor: 20_000);
        var part = await InvoiceAsync(api, job, new { percent = 50 });
        var note = await api.PostAsync(
            $"/api/v1/invoices/{part.Text("id")}/credit-notes",
            new { reason = "Hours were fewer", amountMinor = 5_000 }
        );

        var invoice = await JobStory.PdfTextAsync(api, $"/api/v1/invoices/{part.Text("id")}/pdf");
        var credit = await JobStory.PdfTextAsync(api, $"/api/v1/invoices/{note.Text("id")}/pdf?size=letter");

        Assert.Contains("Part invoice", invoice, StringComparison.Ordinal);
        Assert.Contains("Bea Barter", invoice, StringComparison.Ordinal);
        Assert.Contains("Tax registration T-1", invoice, StringComparison.Ordinal);
        Assert.Contains("exchange", invoice, StringComparison.Ordinal);
        Assert.Contains("A tax adviser decides", invoice, StringComparison.Ordinal);
        Assert.Contains("Credit note", credit, StringComparison.Ordinal);
        Assert.Contains($"Invoice {part.Text("number")}", credit, StringComparison.Ordinal);
        Assert.Contains("Hours were fewer", credit, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_part_invoice_below_the_deposit_asks_for_nothing_back_and_says_the_same_for_ever()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var (job, quote) = await JobStory.OpenJobAsync(shop, api, "Dora Deposit", "SF-IN 9");
        var deposit = quote.Number("totalMinor") / 2;
        await api.PostAsync(
            $"/api/v1/jobs/{job}/account/deposits",
            new { amountMinor = deposit, method = "card" },
            200
        );
        var part = await InvoiceAsync(api, job, new { amountMinor = 20_000 });
        var path = $"/api/v1/invoices/{part.Text("id")}/pdf";

        var paper = await JobStory.PdfTextAsync(api, path);

        Assert.DoesNotContain("paid back", paper, StringComparison.Ordinal);
        Assert.Contains("left of it for the work to come", paper, StringComparison.Ordinal);
        await api.PostAsync($"/api/v1/jobs/{job}/account/payments", new { amountMinor = 5_000, method = "cash" }, 200);
        var rest = await InvoiceAsync(api, job, new { });
        Assert.Equal(paper, await JobStory.PdfTextAsync(api, path));
        var last = await JobStory.PdfTextAsync(api, $"/api/v1/invoices/{rest.Text("id")}/pdf");
        Assert.Contains("Still to be paid", last, StringComparison.Ordinal);
        Assert.Contains(part.Text("number"), last, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Name_on_an_invoice_stays_as_it_was_when_the_customer_is_renamed()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var (job, quote) = await JobStory.OpenJobAsync(shop, api, "Nora Before", "SF-IN 7");
        var invoice = await InvoiceAsync(api, job, new { });
        var customer = quote.Text("customerId");
        var version = (await api.GetJsonAsync($"/api/v1/customers/{customer}")).Number("version");

        using var changed = await api.SendAsync(
            HttpMethod.Put,
            $"/api/v1/customers/{customer}",
            new { name = "Nora After" },
            ifMatch: version
        );

        Assert.Equal(200, (int)changed.StatusCode);
        var text = await JobStory.PdfTextAsync(api, $"/api/v1/invoices/{invoice.Text("id")}/pdf");
        Assert.Contains("Nora Before", text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_rate_that_changed_since_it_was_agreed_is_pointed_out_and_the_agreed_one_is_charged()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        using var owner = await shop.ApiAsync(Role.Owner);
        var (job, quote) = await JobStory.OpenJobAsync(shop, desk, "Tilda Taxed", "SF-IN 8");
        Assert.Empty(await ChangesAsync());

        const string draft = "/api/v1/price-book/draft";
        var book = JsonNode.Parse((await owner.PostAsync(draft, new { })).GetProperty("document").GetRawText())!;
        var rate = book["taxes"]![0]!["rates"]!.AsArray()[^1]!;
        rate["ratePercent"] = 17.5;
        using var saved = await owner.SendAsync(HttpMethod.Put, draft, new { document = book }, ifMatch: 1);
        await saved.JsonAsync(200);
        await owner.PostAsync(draft + "/adopt", new { });

        var sentence = Assert.Single(await ChangesAsync()).Text("sentence");
        Assert.Matches("^.+ was agreed at [0-9.]+ %, and the price book now has 17.5 %\\.$", sentence);
        Assert.Equal(quote.Number("totalMinor"), (await InvoiceAsync(desk, job, new { })).Number("totalMinor"));

        async Task<IReadOnlyList<System.Text.Json.JsonElement>> ChangesAsync() =>
            [.. (await desk.GetJsonAsync($"/api/v1/jobs/{job}/account")).GetProperty("rateChanges").EnumerateArray()];
    }

    private static Task<System.Text.Json.JsonElement> InvoiceAsync(HttpClient api, string job, object body) =>
        api.PostAsync($"/api/v1/jobs/{job}/invoices", body);
}

public sealed class InvoicesApiOnSqlite(SqliteShop shop) : InvoicesApiTests(shop), IClassFixture<SqliteShop>;

public sealed class InvoicesApiOnPostgres(PostgresShop shop) : InvoicesApiTests(shop), IClassFixture<PostgresShop>;
