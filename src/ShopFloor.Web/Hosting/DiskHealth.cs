using System.Globalization;
using Microsoft.Extensions.Diagnostics.HealthChecks;

namespace ShopFloor.Web.Hosting;

/// <summary>Room where data and backups lie. A full disk loses nothing that was acknowledged, but nothing more can be written.</summary>
public sealed class DiskHealth(Settings settings) : IHealthCheck
{
    /// <summary>Room for some days of photos.</summary>
    private const long Little = 1L << 30;

    public Task<HealthCheckResult> CheckHealthAsync(
        HealthCheckContext context,
        CancellationToken cancellationToken = default
    ) =>
        Task.FromResult(
            new[] { settings.Database.DataFolder, settings.Backups.Folder }
                .Where(Directory.Exists)
                .Select(Free)
                .DefaultIfEmpty(long.MaxValue)
                .Min()
                is var free
                    and < Little
                ? HealthCheckResult.Degraded(
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"Only {free / 1_000_000} MB are free where data or backups lie: make room soon."
                    )
                )
                : HealthCheckResult.Healthy("There is room where data and backups lie.")
        );

    private static long Free(string folder) => new DriveInfo(folder).AvailableFreeSpace;
}
