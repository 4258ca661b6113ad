using OpenTelemetry;
using OpenTelemetry.Resources;
using OpenTelemetry.Trace;
using ShopFloor.Application.Common;

namespace ShopFloor.Web.Hosting;

/// <summary>Traces, figures and log lines by OpenTelemetry, for shops whose servers are watched. Off unless the standard variables (OpenTelemetry specification, "OTLP exporter configuration") say where they go.</summary>
public static class Watching
{
    private static readonly string[] Endpoints =
    [
        "OTEL_EXPORTER_OTLP_ENDPOINT",
        "OTEL_EXPORTER_OTLP_TRACES_ENDPOINT",
        "OTEL_EXPORTER_OTLP_METRICS_ENDPOINT",
        "OTEL_EXPORTER_OTLP_LOGS_ENDPOINT",
    ];

    public static void AddWatching(this WebApplicationBuilder builder)
    {
        if (
            string.Equals(builder.Configuration["OTEL_SDK_DISABLED"], "true", StringComparison.OrdinalIgnoreCase)
            || !Endpoints.Any(name => !string.IsNullOrEmpty(builder.Configuration[name]))
        )
        {
            return;
        }

        // Secrets of links stand in no address that a span could take up: SecretPaths has taken them out before the first is begun.
        builder
            .Services.AddOpenTelemetry()
            .ConfigureResource(r => r.AddService("shopfloor", serviceInstanceId: Environment.MachineName))
            .WithTracing(t => t.AddAspNetCoreInstrumentation().AddSource(Telemetry.Name, "Npgsql"))
            .WithMetrics(m =>
                m.AddMeter(
                    Telemetry.Name,
                    "Npgsql",
                    "System.Runtime",
                    "Microsoft.AspNetCore.Hosting",
                    "Microsoft.AspNetCore.Server.Kestrel",
                    "Microsoft.AspNetCore.Components.Server.Circuits"
                )
            )
            .WithLogging()
            .UseOtlpExporter();
    }
}
