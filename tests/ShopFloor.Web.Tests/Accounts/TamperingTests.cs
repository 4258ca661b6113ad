using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Fixtures;
using ShopFloor.Web.Tests.Quotes;

namespace ShopFloor.Web.Tests.Accounts;

/// <summary>What somebody changes behind the program's back in the tables of money is found, and nothing is found before it.</summary>
public abstract class TamperingTests(ShopHost shop)
{
    private static int registration;

    [Theory]
    [InlineData("""UPDATE "Invoices" SET "TotalMinor" = "TotalMinor" + 1 WHERE "Id" = {0}""", "total")]
    [InlineData(
        """UPDATE "Invoices" SET "Content" = REPLACE("Content", '"netMinor":', '"netMinor":1') WHERE "Id" = {0}""",
        "add up"
    )]
    [InlineData(
        """UPDATE "Invoices" SET "Snapshot" = REPLACE("Snapshot", 'kind', 'kinf') WHERE "Id" = {0}""",
        "hash differs"
    )]
    [InlineData(
        """UPDATE "Invoices" SET "SuppliedOn" = "IssuedOn", "QuoteReference" = 'Q-0' WHERE "Id" = {0}""",
        "was frozen"
    )]
    [InlineData(
        """UPDATE "Invoices" SET "Parties" = REPLACE("Parties", 'Tam', 'Tom') WHERE "Id" = {0}""",
        "names and addresses"
    )]
    [InlineData("""UPDATE "Invoices" SET "Number" = 'I-2026-9999' WHERE "Id" = {0}""", "is missing")]
    [InlineData("""DELETE FROM "LedgerEntries" WHERE "Paper" = {0}""", "booked otherwise")]
    [InlineData(
        """UPDATE "LedgerEntries" SET "Postings" = REPLACE("Postings", '"minor":-', '"minor":') WHERE "Paper" = {0}""",
        "lopsided"
    )]
    [InlineData(
        """UPDATE "LedgerEntries" SET "Postings" = REPLACE("Postings", '"minor":-', '"minor":') WHERE "Kind" = 'Payment' AND "JobId" IN (SELECT "JobId" FROM "Invoices" WHERE "Id" = {0})""",
        "lopsided"
    )]
    [InlineData(
        """UPDATE "AgreedCharges" SET "Content" = REPLACE("Content", '"totalMinor":', '"totalMinor":1') WHERE "JobId" IN (SELECT "JobId" FROM "Invoices" WHERE "Id" = {0})""",
        "than was agreed"
    )]
    [InlineData(
        """UPDATE "LedgerEntries" SET "Postings" = REPLACE("Postings", '"minor":', '"minor":x') WHERE "Paper" = {0}""",
        "cannot be read"
    )]
    [InlineData("""UPDATE "NumberSeries" SET "Last" = "Last" + 1 WHERE "Series" = 'I' AND {0} = {0}""", "is missing")]
    public async Task Change_behind_the_programs_back_is_found(string sql, string says)
    {
        var invoice = await InvoicedAsync();
        Assert.Empty(await JobStory.VerifyAsync(shop));

        var found = await shop.WithAsync<IDbContextFactory<ShopDbContext>, IReadOnlyList<string>>(async contexts =>
        {
            await using var db = await contexts.CreateDbContextAsync();
            // In a transaction that is rolled back, so that the next case begins with sound books.
            await using var transaction = await db.Database.BeginTransactionAsync();
            Assert.True(await db.Database.ExecuteSqlRawAsync(sql, invoice) > 0);
            return await new Application.Accounts.MoneyVerifier().VerifyAsync(db, CancellationToken.None);
        });

        Assert.Contains(found, f => f.Contains(says, StringComparison.Ordinal));
    }

    [Fact]
    public async Task Entry_moved_out_of_a_closed_day_is_found()
    {
        await InvoicedAsync();
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var day = await api.GetJsonAsync("/api/v1/reports/day?day=2026-05-05");
        await api.PostAsync(
            "/api/v1/reports/day/close",
            new
            {
                day = "2026-05-05",
                methods = day.GetProperty("methods")
                    .EnumerateArray()
                    .Select(m => new { method = m.Text("method"), countedMinor = m.Number("expectedMinor") }),
            },
            200
        );

        var found = await shop.WithAsync<IDbContextFactory<ShopDbContext>, IReadOnlyList<string>>(async contexts =>
        {
            await using var db = await contexts.CreateDbContextAsync();
            await using var transaction = await db.Database.BeginTransactionAsync();
            var moved = await db.Set<LedgerEntry>()
                .Where(e => e.Kind == EntryKind.Payment && e.On == new DateOnly(2026, 5, 5))
                .ExecuteUpdateAsync(s => s.SetProperty(e => e.On, new DateOnly(2026, 5, 4)));
            Assert.True(moved > 0);
            return await new Application.Accounts.MoneyVerifier().VerifyAsync(db, CancellationToken.None);
        });

        Assert.Contains(found, f => f.Contains("2026-05-05 was closed", StringComparison.Ordinal));
    }

    private async Task<Guid> InvoicedAsync()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var (job, _) = await JobStory.OpenJobAsync(
            shop,
            api,
            "Tamara Row",
            $"SF-TA {Interlocked.Increment(ref registration)}"
        );
        // A day no other case closes.
        var on = shop
            .Clock.GetUtcNow()
            .AddDays(-1)
            .ToString("yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture);
        var isOpen =
            (await api.GetJsonAsync($"/api/v1/reports/day?day={on}")).GetProperty("closedAt").ValueKind
            == System.Text.Json.JsonValueKind.Null;
        await api.PostAsync(
            $"/api/v1/jobs/{job}/account/payments",
            new
            {
                amountMinor = 1_000,
                method = "cash",
                on = isOpen ? on : null,
            },
            200
        );
        return Guid.Parse((await api.PostAsync($"/api/v1/jobs/{job}/invoices", new { })).Text("id"));
    }
}

public sealed class TamperingOnSqlite(SqliteShop shop) : TamperingTests(shop), IClassFixture<SqliteShop>;

public sealed class TamperingOnPostgres(PostgresShop shop) : TamperingTests(shop), IClassFixture<PostgresShop>;
