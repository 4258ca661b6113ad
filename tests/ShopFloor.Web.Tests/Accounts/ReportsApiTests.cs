using System.Globalization;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Fixtures;
using ShopFloor.Web.Tests.Quotes;

namespace ShopFloor.Web.Tests.Accounts;

/// <summary>Closing days, tax by rate and the journal, on both databases. Each test works on days of its own.</summary>
public abstract class ReportsApiTests(ShopHost shop)
{
    [Fact]
    public async Task Day_is_counted_by_way_to_pay_and_nothing_is_booked_on_it_afterwards()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var (job, _) = await JobStory.OpenJobAsync(shop, api, "Daya Close", "SF-RE 1");
        var payments = $"/api/v1/jobs/{job}/account/payments";
        await api.PostAsync(payments, Pay(7_000, "cash", "2026-04-01"), 200);
        await api.PostAsync(payments, Pay(9_000, "card", "2026-04-01"), 200);

        var open = await api.GetJsonAsync("/api/v1/reports/day?day=2026-04-01");
        Assert.Equal([7_000, 9_000, 0, 0], Expected(open));
        var unexplained = await CloseAsync(api, "2026-04-01", 400, ("cash", 6_900, null), ("card", 9_000, null));
        Assert.True(unexplained.GetProperty("errors").TryGetProperty("methods[0].note", out _));
        var uncounted = await CloseAsync(api, "2026-04-01", 400, ("cash", 7_000, null));
        Assert.True(uncounted.GetProperty("errors").TryGetProperty("methods", out _));

        var closed = await CloseAsync(
            api,
            "2026-04-01",
            200,
            ("cash", 6_900, "A note is missing"),
            ("card", 9_000, null)
        );

        Assert.Equal("FrontDesk Person", closed.Text("closedBy"));
        var cash = closed.GetProperty("methods")[0];
        Assert.Equal((-100, "A note is missing"), (cash.Number("differenceMinor"), cash.Text("note")));
        Assert.Equal(
            "dayClosed",
            (await CloseAsync(api, "2026-04-01", 409, ("cash", 6_900, "x"), ("card", 9_000, null))).ReasonCode()
        );
        var late = await api.PostAsync(payments, Pay(100, "cash", "2026-04-01"), 400);
        Assert.Contains("counted and closed", late.ToString(), StringComparison.Ordinal);
        Assert.Empty(await JobStory.VerifyAsync(shop));
    }

    [Fact]
    public async Task Money_taken_after_today_was_closed_counts_for_the_next_day()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var (job, _) = await JobStory.OpenJobAsync(shop, api, "Nadia Next", "SF-RE 2");
        await CloseAsync(api, "2026-05-06", 200, [.. await ExpectedOfAsync(api, "2026-05-06")]);

        var paid = await api.PostAsync($"/api/v1/jobs/{job}/account/payments", Pay(500, "cash", null), 200);

        Assert.Equal("2026-05-07", paid.GetProperty("entries").EnumerateArray().Last().Text("on"));
    }

    [Fact]
    public async Task Two_who_close_one_day_at_once_close_it_once()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);

        var answers = await Task.WhenAll(
            Enumerable
                .Range(0, 6)
                .Select(_ =>
                    api.SendAsync(
                        HttpMethod.Post,
                        "/api/v1/reports/day/close",
                        new { day = "2026-03-01", methods = Array.Empty<object>() }
                    )
                )
        );

        Assert.Equal(1, answers.Count(a => (int)a.StatusCode == 200));
        Assert.All(answers.Where(a => (int)a.StatusCode != 200), a => Assert.Equal(409, (int)a.StatusCode));
    }

    [Fact]
    public async Task Money_booked_while_the_day_is_closed_is_counted_or_refused_never_lost()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var (job, _) = await JobStory.OpenJobAsync(shop, api, "Rita Race", "SF-RE 5");
        var close = new
        {
            day = "2026-03-02",
            methods = new[]
            {
                new
                {
                    method = "cash",
                    countedMinor = 0,
                    note = "Counted while others booked",
                },
            },
        };
        await Task.WhenAll(
            Enumerable
                .Range(0, 8)
                .Select(i =>
                    i == 3
                        ? api.SendAsync(HttpMethod.Post, "/api/v1/reports/day/close", close)
                        : api.SendAsync(
                            HttpMethod.Post,
                            $"/api/v1/jobs/{job}/account/payments",
                            Pay(100 + i, "cash", "2026-03-02")
                        )
                )
        );

        var day = await api.GetJsonAsync("/api/v1/reports/day?day=2026-03-02");
        Assert.Equal("FrontDesk Person", day.Text("closedBy"));
        // The check finds a closed day whose entries differ from what was counted.
        Assert.Empty(await JobStory.VerifyAsync(shop));
    }

    [Fact]
    public async Task Day_to_come_is_not_closed_and_bad_days_are_named()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);

        var future = await CloseAsync(api, "2026-12-31", 400);
        Assert.True(future.GetProperty("errors").TryGetProperty("day", out _));
        await api.GetJsonAsync("/api/v1/reports/day?day=yesterday", 400);
        var shells = await CloseAsync(api, "2026-02-01", 400, ("shells", 1, null));
        Assert.True(shells.GetProperty("errors").TryGetProperty("methods[0].method", out _));
        var twice = await CloseAsync(api, "2026-02-01", 400, ("cash", 0, null), ("cash", 0, null));
        Assert.True(twice.GetProperty("errors").TryGetProperty("methods[1].method", out _));
    }

    [Fact]
    public async Task Tax_report_adds_invoices_and_takes_credit_notes_off()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        using var owner = await shop.ApiAsync(Role.Owner);
        const string path = "/api/v1/reports/tax?from=2026-05-01&to=2026-05-31";
        var before = await owner.GetJsonAsync(path);
        var (job, quote) = await JobStory.OpenJobAsync(shop, api, "Tina Tax", "SF-RE 3");
        var invoice = await api.PostAsync($"/api/v1/jobs/{job}/invoices", new { });
        var between = await owner.GetJsonAsync(path);

        await api.PostAsync($"/api/v1/invoices/{invoice.Text("id")}/credit-notes", new { reason = "Wrong customer" });
        var after = await owner.GetJsonAsync(path);

        Assert.Equal(quote.Number("taxMinor"), between.Number("taxMinor") - before.Number("taxMinor"));
        Assert.Equal(quote.Number("totalMinor"), between.Number("totalMinor") - before.Number("totalMinor"));
        Assert.Equal(before.Number("taxMinor"), after.Number("taxMinor"));
        Assert.Equal(before.Number("creditNoteCount") + 1, after.Number("creditNoteCount"));
        var row = after.GetProperty("taxes")[0];
        Assert.Equal(row.Number("invoicedTaxMinor") - row.Number("creditedTaxMinor"), row.Number("taxMinor"));
        await api.GetJsonAsync(path, 403);
        await owner.GetJsonAsync("/api/v1/reports/tax?from=2026-05-31&to=2026-05-01", 400);
        await owner.GetJsonAsync("/api/v1/reports/tax?from=2026-05-31", 400);
    }

    [Fact]
    public async Task Journal_has_a_row_for_each_posting_balances_and_runs_no_formula()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        using var owner = await shop.ApiAsync(Role.Owner);
        var (job, quote) = await JobStory.OpenJobAsync(shop, api, "Jo Journal", "SF-RE 4");
        await api.PostAsync(
            $"/api/v1/jobs/{job}/account/payments",
            new
            {
                amountMinor = 1_234,
                method = "cash",
                reference = "=1+1, \"quoted\"",
            },
            200
        );
        await api.PostAsync($"/api/v1/jobs/{job}/invoices", new { });
        await api.PostAsync(
            $"/api/v1/jobs/{job}/costs",
            new
            {
                kind = "supplierBill",
                supplier = "@Tube Hall",
                amountMinor = 5_000,
                taxMinor = 1_000,
                on = "2026-05-02",
            },
            200
        );

        using var response = await owner.GetAsync(
            new Uri("/api/v1/reports/journal?from=2026-05-01&to=2026-05-31", UriKind.Relative),
            TestContext.Current.CancellationToken
        );
        var text = await response.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);

        Assert.Equal("text/csv", response.Content.Headers.ContentType?.MediaType);
        Assert.StartsWith("day,entry,kind,account,tax,debit,credit,currency", text, StringComparison.Ordinal);
        Assert.Contains("\"'=1+1, \"\"quoted\"\"\"", text, StringComparison.Ordinal);
        Assert.Contains("'@Tube Hall", text, StringComparison.Ordinal);
        var rows = CsvReader.Read(text).Skip(1).ToList();
        Assert.All(rows, r => Assert.Equal(12, r.Count));
        foreach (var entry in rows.GroupBy(r => r[1]))
        {
            Assert.Equal(entry.Sum(r => Amount(r[5])), entry.Sum(r => Amount(r[6])));
        }

        var number = (await api.GetJsonAsync($"/api/v1/jobs/{job}")).Text("number");
        var mine = rows.Where(r => r[1].StartsWith(number + "/", StringComparison.Ordinal)).ToList();
        Assert.Equal(quote.Number("taxMinor") / 100m, mine.Where(r => r[3] == "tax").Sum(r => Amount(r[6])));
        Assert.Contains(mine, r => r[3] == "cash" && r[5] == "12.34");
        Assert.Contains(mine, r => r[3] == "suppliers" && r[6] == "60.00");
        await api.GetJsonAsync("/api/v1/reports/journal?from=2026-05-01&to=2026-05-31", 403);
    }

    private static decimal Amount(string text) =>
        text.Length == 0 ? 0 : decimal.Parse(text, CultureInfo.InvariantCulture);

    private static object Pay(long minor, string method, string? on) =>
        new
        {
            amountMinor = minor,
            method,
            on,
        };

    private static IEnumerable<long> Expected(System.Text.Json.JsonElement day) =>
        day.GetProperty("methods").EnumerateArray().Select(m => m.Number("expectedMinor"));

    private static async Task<IEnumerable<(string, long, string?)>> ExpectedOfAsync(HttpClient api, string day) =>
        (await api.GetJsonAsync($"/api/v1/reports/day?day={day}"))
            .GetProperty("methods")
            .EnumerateArray()
            .Select(m => (m.Text("method"), m.Number("expectedMinor"), (string?)null));

    private static Task<System.Text.Json.JsonElement> CloseAsync(
        HttpClient api,
        string day,
        int expected,
        params (string Method, long Counted, string? Note)[] counts
    ) =>
        api.PostAsync(
            "/api/v1/reports/day/close",
            new
            {
                day,
                methods = counts.Select(c => new
                {
                    method = c.Method,
                    countedMinor = c.Counted,
                    note = c.Note,
                }),
            },
            expected
        );
}

public sealed class ReportsApiOnSqlite(SqliteShop shop) : ReportsApiTests(shop), IClassFixture<SqliteShop>;

public sealed class ReportsApiOnPostgres(PostgresShop shop) : ReportsApiTests(shop), IClassFixture<PostgresShop>;
