using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.History;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Web.Tests.Common;

/// <summary>The append-only history, on both databases.</summary>
public abstract class HistoryTests(ShopHost shop)
{
    private const string Customers = "/api/v1/customers";
    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    [Fact]
    public async Task With_eight_writers_event_numbers_never_appear_late_or_with_gaps()
    {
        using var owner = await shop.ApiAsync(Role.Owner);
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var start = await LastAsync(owner);
        using var stop = new CancellationTokenSource();
        var reader = Task.Run(
            async () =>
            {
                var seen = start;
                while (!stop.IsCancellationRequested || seen < start + 120)
                {
                    foreach (var e in await AfterAsync(owner, seen))
                    {
                        // A number that was skipped now could only appear late.
                        Assert.Equal(++seen, e.GetProperty("sequence").GetInt64());
                    }
                }

                return seen;
            },
            Ct
        );
        await Task.WhenAll(
            Enumerable
                .Range(0, 8)
                .Select(w =>
                    Task.Run(
                        async () =>
                        {
                            for (var i = 0; i < 15; i++)
                            {
                                await desk.PostAsync(Customers, new { name = $"Writer {w} no. {i}" });
                            }
                        },
                        Ct
                    )
                )
        );
        await stop.CancelAsync();
        Assert.Equal(start + 120, await reader);
    }

    [Fact]
    public async Task Eight_repeats_at_once_of_one_command_make_one_customer_and_one_event()
    {
        using var owner = await shop.ApiAsync(Role.Owner);
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var answers = await Task.WhenAll(
            Enumerable
                .Range(0, 8)
                .Select(_ => Task.Run(() => desk.PostAsync(Customers, new { name = "Same Tap" }, key: "same-tap"), Ct))
        );
        var id = Assert.Single(answers.Select(a => a.GetProperty("id").GetString()).Distinct());
        var events = await shop.WithAsync<IDbContextFactory<ShopDbContext>, int>(async f =>
        {
            await using var db = await f.CreateDbContextAsync(Ct);
            return await db.Events.CountAsync(e => e.SubjectId == Guid.Parse(id!), Ct);
        });
        Assert.Equal(1, events);
    }

    [Fact]
    public async Task Verify_finds_nothing_in_what_was_written_and_finds_a_changed_line()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        await desk.PostAsync(Customers, new { name = "Somebody" });
        Assert.Empty(await shop.WithAsync<VerifyHistory, IReadOnlyList<string>>(v => v.RunAsync(Ct)));

        await shop.WithAsync<IDbContextFactory<ShopDbContext>, int>(async f =>
        {
            await using var db = await f.CreateDbContextAsync(Ct);
            return await db
                .Events.Where(e => e.Sequence == 2)
                .ExecuteUpdateAsync(s => s.SetProperty(e => e.Device, "elsewhere"), Ct);
        });
        var differences = await shop.WithAsync<VerifyHistory, IReadOnlyList<string>>(v => v.RunAsync(Ct));
        Assert.Contains(differences, d => d.Contains("Event 2 ", StringComparison.Ordinal));
        await shop.WithAsync<IDbContextFactory<ShopDbContext>, int>(async f =>
        {
            await using var db = await f.CreateDbContextAsync(Ct);
            return await db
                .Events.Where(e => e.Sequence == 2)
                .ExecuteUpdateAsync(s => s.SetProperty(e => e.Device, (string?)null), Ct);
        });
    }

    [Fact]
    public async Task The_model_has_no_change_without_a_migration()
    {
        var pending = await shop.WithAsync<IDbContextFactory<ShopDbContext>, bool>(async f =>
        {
            await using var db = await f.CreateDbContextAsync(Ct);
            return db.Database.HasPendingModelChanges();
        });
        Assert.False(pending);
    }

    [Fact]
    public async Task Taps_from_the_future_or_from_eight_days_ago_are_refused_at_their_field()
    {
        var now = shop.Clock.GetUtcNow();
        Assert.Equal(400, await StatusOfAsync(now.AddMinutes(5)));
        Assert.Equal(400, await StatusOfAsync(now.AddDays(-8)));
        Assert.Equal(200, await StatusOfAsync(now.AddDays(-6)));

        Task<int> StatusOfAsync(DateTimeOffset at) =>
            shop.WithAsync<Application.Common.CommandRunner, int>(async runner =>
            {
                var outcome = await runner.RunAsync<Done>(
                    Application.Common.Permission.SeeOffice,
                    new Application.Common.Envelope(Actor.System, at),
                    null,
                    _ => Task.FromResult(Outcome.Ok),
                    Ct
                );
                return outcome.Failure is Failure.Invalid { Errors: [{ Path: "occurredAt" }] } ? 400 : 200;
            });
    }

    private static async Task<long> LastAsync(HttpClient owner)
    {
        long last = 0;
        while (await AfterAsync(owner, last) is { Count: > 0 } items)
        {
            last = items[^1].GetProperty("sequence").GetInt64();
        }

        return last;
    }

    private static async Task<List<JsonElement>> AfterAsync(HttpClient owner, long after) =>
        [.. (await owner.GetJsonAsync($"/api/v1/events?after={after}")).GetProperty("items").EnumerateArray()];
}

public sealed class HistoryOnSqlite(SqliteShop shop) : HistoryTests(shop), IClassFixture<SqliteShop>;

public sealed class HistoryOnPostgres(PostgresShop shop) : HistoryTests(shop), IClassFixture<PostgresShop>;
