using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Diagnostics.HealthChecks;
using ShopFloor.Application.Backups;
using ShopFloor.Data;

namespace ShopFloor.Web.Hosting;

/// <summary>A shop without a fresh backup still serves, so that it is never taken out for that: it is only said.</summary>
public sealed class BackupHealth(IDbContextFactory<ShopDbContext> contexts, BackupSettings settings, TimeProvider clock)
    : IHealthCheck
{
    public async Task<HealthCheckResult> CheckHealthAsync(
        HealthCheckContext context,
        CancellationToken cancellationToken = default
    )
    {
        try
        {
            await using var db = await contexts.CreateDbContextAsync(cancellationToken);
            var (last, isOld) = await ReadBackups.AgeAsync(db, settings, clock.GetUtcNow(), cancellationToken);
            return isOld
                ? HealthCheckResult.Degraded("The last good backup is too old, or there is none.")
                : HealthCheckResult.Healthy(
                    settings.IsDaily
                        ? last is null
                            ? "None yet; the first one comes by itself."
                            : "There is a fresh one."
                        : "The program makes none by itself: somebody has to."
                );
        }
        catch (System.Data.Common.DbException)
        {
            // The check of the database says so.
            return HealthCheckResult.Healthy();
        }
    }
}
