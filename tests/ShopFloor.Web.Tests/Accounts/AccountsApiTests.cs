using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;
using ShopFloor.Web.Tests.Fixtures;
using ShopFloor.Web.Tests.Quotes;

namespace ShopFloor.Web.Tests.Accounts;

/// <summary>A job's money by the API, on both databases.</summary>
public abstract class AccountsApiTests(ShopHost shop)
{
    [Fact]
    public async Task Job_owes_its_quote_until_deposit_and_payment_settle_it()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var (job, quote) = await OpenJobAsync(api, "Dora Deposit", "SF-AC 1");
        var total = quote.Number("totalMinor");
        var deposit = quote.Number("depositMinor");

        var open = await api.GetJsonAsync($"/api/v1/jobs/{job}/account");
        Assert.Equal((total, deposit), (open.Number("balanceMinor"), open.Number("depositMinor")));

        var paid = await api.PostAsync(
            $"/api/v1/jobs/{job}/account/deposits",
            new
            {
                amountMinor = deposit,
                method = "card",
                reference = "slip 7",
            },
            200
        );
        Assert.Equal(total - deposit, paid.Number("balanceMinor"));
        Assert.Matches(@"^R-2026-\d{4}$", paid.GetProperty("entries")[1].Text("receipt"));
        Assert.Equal("FrontDesk Person", paid.GetProperty("entries")[1].Text("recordedBy"));

        var settled = await api.PostAsync(
            $"/api/v1/jobs/{job}/account/payments",
            new { amountMinor = total - deposit, method = "cash" },
            200
        );
        Assert.Equal((0L, total), (settled.Number("balanceMinor"), settled.Number("paidMinor")));
        var over = await api.PostAsync(
            $"/api/v1/jobs/{job}/account/payments",
            new { amountMinor = 1, method = "cash" },
            400
        );
        Assert.True(over.GetProperty("errors").TryGetProperty("amountMinor", out _));
    }

    [Fact]
    public async Task Trade_credit_agreed_in_the_quote_lowers_what_is_owed()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var (job, quote) = await OpenJobAsync(api, "Tracy Trade", "SF-AC 2", tradeCreditMinor: 25_000);

        var account = await api.GetJsonAsync($"/api/v1/jobs/{job}/account");

        Assert.Equal(quote.Number("amountDueMinor"), account.Number("balanceMinor"));
        Assert.Equal(25_000, account.Number("tradeCreditMinor"));
    }

    [Fact]
    public async Task Mistake_is_taken_back_and_stays_readable()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var (job, quote) = await OpenJobAsync(api, "Mia Mistake", "SF-AC 3");
        var paid = await api.PostAsync(
            $"/api/v1/jobs/{job}/account/payments",
            new { amountMinor = 5_000, method = "cash" },
            200
        );
        var entry = paid.GetProperty("entries")[1].Text("id");

        var back = await api.PostAsync(
            $"/api/v1/jobs/{job}/account/entries/{entry}/reverse",
            new { reason = "Wrong job" },
            200
        );

        Assert.Equal(quote.Number("totalMinor"), back.Number("balanceMinor"));
        Assert.Equal(3, back.GetProperty("entries").GetArrayLength());
        var twice = await api.PostAsync(
            $"/api/v1/jobs/{job}/account/entries/{entry}/reverse",
            new { reason = "Again" },
            409
        );
        Assert.Equal("reversed", twice.ReasonCode());
    }

    [Fact]
    public async Task Same_payment_sent_twice_with_one_key_is_booked_once()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var (job, _) = await OpenJobAsync(api, "Tim Twice", "SF-AC 4");
        var body = new { amountMinor = 4_000, method = "cash" };

        await api.PostAsync($"/api/v1/jobs/{job}/account/payments", body, 200, key: "pay-" + shop.Kind);
        await api.PostAsync($"/api/v1/jobs/{job}/account/payments", body, 200, key: "pay-" + shop.Kind);

        Assert.Equal(4_000, (await api.GetJsonAsync($"/api/v1/jobs/{job}/account")).Number("paidMinor"));
    }

    [Fact]
    public async Task Five_payments_at_once_are_all_booked()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var (job, _) = await OpenJobAsync(api, "Fay Five", "SF-AC 9");

        await Task.WhenAll(
            Enumerable
                .Range(1, 5)
                .Select(i =>
                    api.PostAsync(
                        $"/api/v1/jobs/{job}/account/payments",
                        new { amountMinor = 1_000 + i, method = "cash" },
                        200
                    )
                )
        );

        Assert.Equal(5_015, (await api.GetJsonAsync($"/api/v1/jobs/{job}/account")).Number("paidMinor"));
    }

    [Fact]
    public async Task Eight_payments_at_once_are_all_booked()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var (job, _) = await OpenJobAsync(api, "Ada Atonce", "SF-AC 11");

        var answers = await Task.WhenAll(
            Enumerable
                .Range(1, 8)
                .Select(i =>
                    api.SendAsync(
                        HttpMethod.Post,
                        $"/api/v1/jobs/{job}/account/payments",
                        new { amountMinor = i * 100, method = "cash" }
                    )
                )
        );

        Assert.All(answers, a => Assert.Equal(200, (int)a.StatusCode));
        Assert.Equal(3_600, (await api.GetJsonAsync($"/api/v1/jobs/{job}/account")).Number("paidMinor"));
    }

    [Fact]
    public async Task Refund_needs_a_reason_and_is_at_most_what_was_paid()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var (job, _) = await OpenJobAsync(api, "Rob Refund", "SF-AC 5");
        await api.PostAsync($"/api/v1/jobs/{job}/account/payments", new { amountMinor = 1_000, method = "cash" }, 200);

        await api.PostAsync($"/api/v1/jobs/{job}/account/refunds", new { amountMinor = 500, method = "cash" }, 400);
        await api.PostAsync(
            $"/api/v1/jobs/{job}/account/refunds",
            new
            {
                amountMinor = 1_001,
                method = "cash",
                reason = "Too much",
            },
            400
        );
        var back = await api.PostAsync(
            $"/api/v1/jobs/{job}/account/refunds",
            new
            {
                amountMinor = 400,
                method = "cash",
                reason = "Goodwill",
            },
            200
        );

        Assert.Equal(600, back.Number("paidMinor"));
    }

    [Theory]
    [InlineData("""{"method":"cash"}""", "amountMinor")]
    [InlineData("""{"amountMinor":-5,"method":"cash"}""", "amountMinor")]
    [InlineData("""{"amountMinor":100,"method":"shells"}""", "method")]
    [InlineData("""{"amountMinor":100,"method":"cash","on":"1900-01-01"}""", "on")]
    public async Task Bad_payment_is_named_at_its_field(string body, string path)
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var (job, _) = await OpenJobAsync(api, "Bad Payment", "SF-AC 6");

        var problem = await api.PostAsync(
            $"/api/v1/jobs/{job}/account/payments",
            System.Text.Json.Nodes.JsonNode.Parse(body),
            400
        );

        Assert.True(problem.GetProperty("errors").TryGetProperty(path, out _), problem.ToString());
    }

    [Fact]
    public async Task Invoice_is_issued_once_with_a_number_and_says_what_was_quoted()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var (job, quote) = await OpenJobAsync(api, "Ina Invoice", "SF-AC 7");

        var invoice = await api.PostAsync($"/api/v1/jobs/{job}/invoices", new { });

        Assert.Matches(@"^I-2026-\d{4}$", invoice.Text("number"));
        Assert.Equal(quote.Number("totalMinor"), invoice.Number("totalMinor"));
        Assert.Equal("invoiced", (await api.PostAsync($"/api/v1/jobs/{job}/invoices", new { }, 409)).ReasonCode());
        var text = await PdfTextAsync(api, $"/api/v1/invoices/{invoice.Text("id")}/pdf");
        Assert.Contains(invoice.Text("number"), text, StringComparison.Ordinal);
        Assert.Contains("Ina", text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Quote_and_receipt_are_printed()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var (job, quote) = await OpenJobAsync(api, "Petra Paper", "SF-AC 8");
        var paid = await api.PostAsync(
            $"/api/v1/jobs/{job}/account/deposits",
            new { amountMinor = 10_000, method = "card" },
            200
        );
        var entry = paid.GetProperty("entries")[1];

        var offer = await PdfTextAsync(api, $"/api/v1/quotes/{quote.Text("id")}/pdf");
        var receipt = await PdfTextAsync(api, $"/api/v1/receipts/{entry.Text("id")}/pdf?size=letter");

        Assert.Contains(quote.Text("number"), offer, StringComparison.Ordinal);
        Assert.Contains(
            quote.Text("contentHash"),
            offer.Replace(" ", "", StringComparison.Ordinal),
            StringComparison.Ordinal
        );
        Assert.Contains(entry.Text("receipt"), receipt, StringComparison.Ordinal);
        Assert.DoesNotContain('\0', offer + receipt);
    }

    [Fact]
    public async Task Everything_stored_adds_up_and_a_changed_quote_is_found()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var (_, quote) = await OpenJobAsync(api, "Vera Verify", "SF-AC 9");
        Assert.Empty(await JobStory.VerifyAsync(shop));

        var id = new QuoteId(Guid.Parse(quote.Text("id")));
        await ChangeSnapshotAsync(id, s => s.Replace("\"revision\":1", "\"revision\":7"));
        var found = await JobStory.VerifyAsync(shop);
        await ChangeSnapshotAsync(id, s => s.Replace("\"revision\":7", "\"revision\":1"));

        Assert.Contains(quote.Text("number"), Assert.Single(found), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Fabricator_sees_no_account()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        using var floor = await shop.ApiAsync(Role.Fabricator);
        var (job, _) = await OpenJobAsync(api, "Fay Floor", "SF-AC 10");

        await floor.GetJsonAsync($"/api/v1/jobs/{job}/account", 403);
        await floor.PostAsync($"/api/v1/jobs/{job}/account/payments", new { amountMinor = 1, method = "cash" }, 403);
    }

    private Task<(string Job, JsonElement Quote)> OpenJobAsync(
        HttpClient api,
        string name,
        string registration,
        long? tradeCreditMinor = null
    ) => JobStory.OpenJobAsync(shop, api, name, registration, tradeCreditMinor);

    private static Task<string> PdfTextAsync(HttpClient api, string path) => JobStory.PdfTextAsync(api, path);

    private Task<int> ChangeSnapshotAsync(QuoteId id, Func<string, string> change) =>
        shop.WithAsync<IDbContextFactory<ShopDbContext>, int>(async contexts =>
        {
            await using var db = await contexts.CreateDbContextAsync();
            var snapshot = await db.Set<Quote>().Where(q => q.Id == id).Select(q => q.Snapshot!).SingleAsync();
            var changed = change(snapshot);
            Assert.NotEqual(snapshot, changed);
            return await db.Set<Quote>()
                .Where(q => q.Id == id)
                .ExecuteUpdateAsync(s => s.SetProperty(q => q.Snapshot, changed));
        });
}

public sealed class AccountsApiOnSqlite(SqliteShop shop) : AccountsApiTests(shop), IClassFixture<SqliteShop>;

public sealed class AccountsApiOnPostgres(PostgresShop shop) : AccountsApiTests(shop), IClassFixture<PostgresShop>;
