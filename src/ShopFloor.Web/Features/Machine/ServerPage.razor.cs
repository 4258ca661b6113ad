using Microsoft.Extensions.Diagnostics.HealthChecks;
using ShopFloor.Domain.Common;
using HostSettings = ShopFloor.Web.Hosting.Settings;

namespace ShopFloor.Web.Features.Machine;

/// <summary>For the owner, in plain words: whether all is well with the machine that the shop runs on.</summary>
public partial class ServerPage(HealthCheckService health, HostSettings settings)
{
    private IReadOnlyList<Check> checks = [];

    private sealed record Check(string Name, string Glyph, string Sentence);

    private HostSettings Host => settings;

    private static string Version => typeof(ServerPage).Assembly.GetName().Version?.ToString(3) ?? "";

    private bool IsSecure => new Uri(Navigation.BaseUri).Scheme == Uri.UriSchemeHttps;

    protected override async Task<Failure?> LoadAsync()
    {
        var report = await health.CheckHealthAsync(Closing);
        checks = [.. report.Entries.Select(e => Say(e.Key, e.Value))];
        return null;
    }

    private static Check Say(string name, HealthReportEntry entry) =>
        new(
            name switch
            {
                "database" => "Database",
                "backup" => "Backup",
                "disk" => "Disk",
                "outbox" => "Messages",
                _ => name,
            },
            entry.Status == HealthStatus.Healthy ? "✓" : "⚠",
            entry.Description ?? (entry.Status == HealthStatus.Healthy ? "All is well." : "It does not answer.")
        );
}
