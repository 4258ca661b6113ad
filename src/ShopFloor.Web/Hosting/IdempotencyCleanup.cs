using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Idempotency;

namespace ShopFloor.Web.Hosting;

/// <summary>Forgets idempotency keys after their 30 days: at the start and once a day.</summary>
public sealed class IdempotencyCleanup(
    IDbContextFactory<ShopDbContext> contexts,
    TimeProvider clock,
    ILogger<IdempotencyCleanup> log
) : BackgroundService
{
    private static readonly TimeSpan Pause = TimeSpan.FromDays(1);

    /// <summary>Removes what is too old; returns how many.</summary>
    public async Task<int> RunOnceAsync(CancellationToken ct)
    {
        await using var db = await contexts.CreateDbContextAsync(ct);
        var oldest = clock.GetUtcNow() - IdempotencyRecord.Kept;
        return await db.IdempotencyRecords.Where(r => r.CreatedAt < oldest).ExecuteDeleteAsync(ct);
    }

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        using var timer = new PeriodicTimer(Pause, clock);
        do
        {
            try
            {
                await RunOnceAsync(stoppingToken);
            }
            catch (System.Data.Common.DbException exception)
            {
                log.LogWarning(exception, "Old idempotency keys could not be removed; trying again tomorrow.");
            }
        } while (await timer.WaitForNextTickAsync(stoppingToken));
    }
}
