using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Mvc.Testing;
using Microsoft.Extensions.DependencyInjection;
using OpenTelemetry.Metrics;
using OpenTelemetry.Trace;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Web.Tests.Integrations;

/// <summary>What a server tells those who watch it, caught where it is sent to by the OTLP exporter. Log lines go the same way, but hosts in tests keep theirs in a file.</summary>
public sealed class WatchingTests(SqliteShop shop) : IClassFixture<SqliteShop>
{
    [Fact]
    public async Task Traces_and_figures_go_out_and_no_secret_of_a_link_with_them()
    {
        await using var catcher = await WebhookCatcher.StartAsync();
        var secret = new string('S', 43);
        var ct = TestContext.Current.CancellationToken;
        using var key = await shop.ApiAsync(Role.FrontDesk);
        await using (
            var watched = shop.WithWebHostBuilder(b =>
            {
                b.UseSetting("OTEL_EXPORTER_OTLP_ENDPOINT", $"http://127.0.0.1:{catcher.Port}");
                b.UseSetting("OTEL_EXPORTER_OTLP_PROTOCOL", "http/protobuf");
            })
        )
        {
            using var client = watched.CreateClient(
                new WebApplicationFactoryClientOptions { AllowAutoRedirect = false }
            );
            foreach (var path in new[] { "/p/", "/d/", "/c/", "/j/", "/m/", "/u/" })
            {
                using var unknown = await client.GetAsync(new Uri(path + secret, UriKind.Relative), ct);
            }

            client.DefaultRequestHeaders.Authorization = key.DefaultRequestHeaders.Authorization;
            await client.PostAsync("/api/v1/customers", new { name = "Marta Marker" });
            Assert.True(watched.Services.GetRequiredService<TracerProvider>().ForceFlush());
            Assert.True(watched.Services.GetRequiredService<MeterProvider>().ForceFlush());
        }

        var sent = string.Concat(catcher.Caught.Select(p => p.Path + " " + p.Body));
        Assert.Contains("/v1/traces ", sent, StringComparison.Ordinal);
        Assert.Contains("/v1/metrics ", sent, StringComparison.Ordinal);
        Assert.Contains("/p/hidden", sent, StringComparison.Ordinal);
        Assert.Contains("/api/v1/customers", sent, StringComparison.Ordinal);
        Assert.Contains("shopfloor.commands", sent, StringComparison.Ordinal);
        Assert.DoesNotContain(secret, sent, StringComparison.Ordinal);
        Assert.DoesNotContain("Marker", sent, StringComparison.Ordinal);
        Assert.DoesNotContain(key.DefaultRequestHeaders.Authorization!.Parameter!, sent, StringComparison.Ordinal);
    }
}
