using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Diagnostics.HealthChecks;
using ShopFloor.Data;

namespace ShopFloor.Web.Hosting;

/// <summary>Ready means: the database answers.</summary>
public sealed class DatabaseHealth(IDbContextFactory<ShopDbContext> contexts) : IHealthCheck
{
    public async Task<HealthCheckResult> CheckHealthAsync(
        HealthCheckContext context,
        CancellationToken cancellationToken = default
    )
    {
        await using var db = await contexts.CreateDbContextAsync(cancellationToken);
        return await db.Database.CanConnectAsync(cancellationToken)
            ? HealthCheckResult.Healthy("It answers.")
            : HealthCheckResult.Unhealthy("The database does not answer.");
    }
}
