using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Numbers;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;
using ShopFloor.Web.Tests.Fixtures;
using ShopFloor.Web.Tests.Intake;

namespace ShopFloor.Web.Tests.Jobs;

/// <summary>A half-built car with what was paid for it: all of it in one go, or nothing.</summary>
public abstract class HalfBuiltDepositsTests(ShopHost shop)
{
    private const string Path = "/api/v1/jobs/half-built";

    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Deposits_paid_before_are_on_the_account_with_their_own_days_and_receipts()
    {
        using var office = await shop.ApiAsync(Role.FrontDesk);
        var twin = await office.PostAsync(Path, await RequestAsync());

        var job = await office.PostAsync(
            Path,
            await RequestAsync(
                new
                {
                    amountMinor = 30_000,
                    method = "bankTransfer",
                    on = "2026-02-03",
                    reference = "T-17",
                },
                new
                {
                    amountMinor = 5_000,
                    method = "cash",
                    on = "2026-03-04",
                }
            )
        );

        Assert.Equal(twin.GetProperty("balanceMinor").GetInt64() - 35_000, job.GetProperty("balanceMinor").GetInt64());
        var account = await office.GetJsonAsync($"/api/v1/jobs/{job.GetProperty("id").GetString()}/account");
        var deposits = account
            .GetProperty("entries")
            .EnumerateArray()
            .Where(e => e.GetProperty("kind").GetString() == "deposit")
            .ToList();
        Assert.Equal(["2026-02-03", "2026-03-04"], deposits.Select(e => e.GetProperty("on").GetString()));
        Assert.Equal("T-17", deposits[0].GetProperty("reference").GetString());
        Assert.Equal(2, deposits.Select(e => e.GetProperty("receipt").GetString()).OfType<string>().Distinct().Count());
    }

    [Fact]
    public async Task Wrong_deposit_is_told_at_its_field_and_nothing_is_written()
    {
        using var office = await shop.ApiAsync(Role.FrontDesk);
        var request = await RequestAsync(
            new
            {
                amountMinor = 100,
                method = "cash",
                on = "2026-02-03",
            },
            new
            {
                amountMinor = 0,
                method = "cash",
                on = "2026-02-03",
            },
            new
            {
                amountMinor = 100,
                method = "barter",
                on = "2026-02-03",
            },
            new { amountMinor = 100, method = "cash" },
            new
            {
                amountMinor = 100,
                method = "cash",
                on = "2030-01-01",
            },
            new
            {
                amountMinor = 99_999_999,
                method = "cash",
                on = "2026-02-03",
            }
        );
        var before = await RowsAsync();

        var problem = await office.PostAsync(Path, request, 400);

        Assert.Equal(
            [
                "deposits[1].amountMinor",
                "deposits[2].method",
                "deposits[3].on",
                "deposits[4].on",
                "deposits[5].amountMinor",
            ],
            problem.GetProperty("errors").EnumerateObject().Select(e => e.Name).Order(StringComparer.Ordinal)
        );
        Assert.Equal(before, await RowsAsync());
        var fresh = await office.PostAsync(
            Path,
            await RequestAsync(
                new
                {
                    amountMinor = 100,
                    method = "cash",
                    on = "2026-02-03",
                }
            )
        );
        Assert.NotEqual(JsonValueKind.Null, fresh.GetProperty("id").ValueKind);
    }

    [Fact]
    public async Task Deposit_is_not_booked_where_the_done_operations_are_refused()
    {
        using var office = await shop.ApiAsync(Role.FrontDesk);
        var quote = (await shop.AcceptedQuoteAsync()).Value;
        var before = await RowsAsync();

        var problem = await office.PostAsync(
            Path,
            new
            {
                quoteId = quote,
                done = new[] { new { code = "999", doneOn = "2026-02-03" } },
                deposits = new[]
                {
                    new
                    {
                        amountMinor = 100,
                        method = "cash",
                        on = "2026-02-03",
                    },
                },
            },
            400
        );

        Assert.Equal("done[0].code", problem.ErrorPath());
        Assert.Equal(before, await RowsAsync());
    }

    private async Task<object> RequestAsync(params object[] deposits) =>
        new
        {
            quoteId = (await shop.AcceptedQuoteAsync()).Value,
            done = new[]
            {
                new
                {
                    code = "10",
                    doneOn = "2026-02-03",
                    minutes = 30,
                },
            },
            deposits,
        };

    /// <summary>Jobs, ledger entries, events and used receipt numbers.</summary>
    private Task<(int Jobs, int Entries, int Events, long Receipts)> RowsAsync() =>
        shop.WithAsync<IDbContextFactory<ShopDbContext>, (int, int, int, long)>(async contexts =>
        {
            await using var db = await contexts.CreateDbContextAsync(Ct);
            return (
                await db.Set<Job>().CountAsync(Ct),
                await db.Set<LedgerEntry>().CountAsync(Ct),
                await db.Events.CountAsync(Ct),
                await db.Set<NumberSeriesRow>().Where(n => n.Series == "R").Select(n => n.Last).SumAsync(Ct)
            );
        });
}

public sealed class HalfBuiltDepositsOnSqlite(SqliteShop shop)
    : HalfBuiltDepositsTests(shop),
        IClassFixture<SqliteShop>;

public sealed class HalfBuiltDepositsOnPostgres(PostgresShop shop)
    : HalfBuiltDepositsTests(shop),
        IClassFixture<PostgresShop>;
