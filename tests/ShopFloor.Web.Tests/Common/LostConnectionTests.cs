using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Application.Common;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Web.Tests.Common;

/// <summary>Pages hear of what was committed while their server's connection for notices was lost.</summary>
public sealed class LostConnectionTests(PostgresShop shop) : IClassFixture<PostgresShop>
{
    [Fact]
    public async Task What_was_committed_while_nobody_listened_is_told_afterwards_in_order_and_once()
    {
        using var patience = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
        patience.CancelAfter(TimeSpan.FromMinutes(2));
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var heard = new List<ChangeNotice>();
        var first = new TaskCompletionSource();
        var wanted = new HashSet<Guid>();
        var listening = Task.Run(
            async () =>
            {
                await foreach (
                    var notice in shop.Services.GetRequiredService<IChangeNotices>().ListenAsync(patience.Token)
                )
                {
                    lock (wanted)
                    {
                        heard.Add(notice);
                        if (wanted.Count == 3 && wanted.All(id => heard.Exists(n => n.SubjectId == id)))
                        {
                            return;
                        }
                    }

                    first.TrySetResult();
                }
            },
            patience.Token
        );
        // The listener may still be on its way to the database: what happened before it came is no news.
        while (!first.Task.IsCompleted)
        {
            await desk.PostAsync("/api/v1/customers", new { name = "Before" });
            await Task.WhenAny(first.Task, Task.Delay(TimeSpan.FromMilliseconds(200), patience.Token));
            patience.Token.ThrowIfCancellationRequested();
        }

        Assert.True(await CutAsync() > 0, "Nobody was listening.");
        foreach (var name in new[] { "While one", "While two", "While three" })
        {
            var added = await desk.PostAsync("/api/v1/customers", new { name });
            lock (wanted)
            {
                wanted.Add(added.GetProperty("id").GetGuid());
            }
        }

        // One more, so that the listener looks whether it has heard them all.
        await desk.PostAsync("/api/v1/customers", new { name = "After" });
        await listening;

        var told = heard.ConvertAll(n => n.Sequence);
        Assert.Equal(told.Distinct().Order(), told);
    }

    /// <summary>Ends the sessions that listen; how many there were.</summary>
    private async Task<int> CutAsync()
    {
        await using var db = await shop
            .Services.GetRequiredService<IDbContextFactory<ShopDbContext>>()
            .CreateDbContextAsync(TestContext.Current.CancellationToken);
        return (
            await db
                .Database.SqlQuery<bool>(
                    $"""
                    SELECT pg_terminate_backend(pid) AS "Value" FROM pg_stat_activity
                    WHERE datname = current_database() AND query LIKE 'LISTEN%'
                    """
                )
                .ToListAsync(TestContext.Current.CancellationToken)
        ).Count;
    }
}
