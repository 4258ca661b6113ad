using System.Net.Http.Headers;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Mvc.Testing;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Application.Common;
using ShopFloor.Application.People;
using ShopFloor.Application.Setup;
using ShopFloor.Domain.Common;

namespace ShopFloor.Benchmarks;

/// <summary>The whole program in this process, on a SQLite database of its own in a folder that is thrown away.</summary>
internal sealed class RunningShop : WebApplicationFactory<Web.Features.Workbench.TubeEndpoints>
{
    private readonly string folder = Directory.CreateTempSubdirectory("shopfloor-bench").FullName;

    /// <summary>A shop that is set up, and a client that may do everything.</summary>
    public static async Task<(RunningShop Shop, HttpClient Api)> OpenAsync()
    {
        var shop = new RunningShop();
        await using var scope = shop.Services.CreateAsyncScope();
        var details = new Shop.Details(
            "Bench Works",
            "Bench Works Ltd",
            "1 Bench Lane",
            "B-1",
            null,
            null,
            null,
            "Europe/Berlin",
            "mm",
            null,
            false
        );
        var setUp = await scope
            .ServiceProvider.GetRequiredService<SetUpShop>()
            .RunAsync(
                new SetUpShop.Request(
                    details,
                    "EUR",
                    true,
                    "Olga Owner",
                    "owner@shop.example",
                    "correct horse battery"
                ),
                CancellationToken.None
            );
        _ = setUp.Value;
        var key = await scope
            .ServiceProvider.GetRequiredService<CreateApiKey>()
            .RunAsync(
                new CreateApiKey.Request("bench", "owner", "owner@shop.example"),
                Envelope.Of(Actor.System),
                CancellationToken.None
            );
        var api = shop.CreateClient(new WebApplicationFactoryClientOptions { AllowAutoRedirect = false });
        api.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", key.Value.Key);
        return (shop, api);
    }

    protected override void ConfigureWebHost(IWebHostBuilder builder)
    {
        builder.UseContentRoot(AppContext.BaseDirectory);
        builder.UseEnvironment("Development");
        builder.UseSetting("SHOPFLOOR_DATA", folder);
        builder.UseSetting("SHOPFLOOR_PUBLIC_URL", "https://bench.example");
        builder.UseSetting("Logging:LogLevel:Default", "Error");
    }

    protected override void Dispose(bool disposing)
    {
        base.Dispose(disposing);
        if (disposing && Directory.Exists(folder))
        {
            Directory.Delete(folder, recursive: true);
        }
    }
}
