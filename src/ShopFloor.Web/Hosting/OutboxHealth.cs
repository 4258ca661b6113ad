using System.Globalization;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Diagnostics.HealthChecks;
using ShopFloor.Data;
using ShopFloor.Domain.Messages;

namespace ShopFloor.Web.Hosting;

/// <summary>Messages that should have gone long ago: the mail server is away, or refuses.</summary>
public sealed class OutboxHealth(IDbContextFactory<ShopDbContext> contexts, TimeProvider clock) : IHealthCheck
{
    /// <summary>A server that is away for so long is worth a look.</summary>
    private static readonly TimeSpan Long = TimeSpan.FromHours(1);

    public async Task<HealthCheckResult> CheckHealthAsync(
        HealthCheckContext context,
        CancellationToken cancellationToken = default
    )
    {
        try
        {
            await using var db = await contexts.CreateDbContextAsync(cancellationToken);
            var before = clock.GetUtcNow() - Long;
            var waiting = await db.Set<MailSettings>().AnyAsync(m => m.IsOn, cancellationToken)
                ? await db.Set<OutboxMessage>()
                    .CountAsync(m => m.State == MessageState.Waiting && m.AskedAt < before, cancellationToken)
                : 0;
            return waiting == 0
                ? HealthCheckResult.Healthy("No message waits longer than it should.")
                : HealthCheckResult.Degraded(
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"{waiting} message{(waiting == 1 ? " waits" : "s wait")} for more than an hour: look at the page Messages."
                    )
                );
        }
        catch (System.Data.Common.DbException)
        {
            // The check of the database says so.
            return HealthCheckResult.Healthy();
        }
    }
}
