using System.Net.Http.Headers;
using Microsoft.AspNetCore.Builder;
using Microsoft.Data.Sqlite;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using ShopFloor.Application.Backups;
using ShopFloor.Application.Common;
using ShopFloor.Application.History;
using ShopFloor.Application.People;
using ShopFloor.Application.Setup;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Hosting;

namespace ShopFloor.Web.Tests.Drills;

/// <summary>A shop of the real program, set up as by its command line, without a process for each command.</summary>
internal static class RealShop
{
    internal const string Email = "o@shop.example";
    internal const string Password = "a long password";

    /// <summary>A client with the key of its owner.</summary>
    internal static async Task<HttpClient> SetUpAsync(RealServer server)
    {
        await using var app = ProgramOn(server);
        await using var scope = app.Services.CreateAsyncScope();
        var setUp = scope.ServiceProvider.GetRequiredService<SetUpShop>();
        var details = new Shop.Details("Drill", null, null, null, null, null, null, "Europe/Berlin", "mm", null, false);
        var shop = await setUp.CreateShopAsync(details, "EUR", CancellationToken.None);
        Assert.True(shop.IsSuccess, shop.Failure?.Sentence);
        var owner = await setUp.CreateOwnerAsync("O", Email, Password, CancellationToken.None);
        Assert.True(owner.IsSuccess, owner.Failure?.Sentence);
        var key = await scope
            .ServiceProvider.GetRequiredService<CreateApiKey>()
            .RunAsync(
                new CreateApiKey.Request("drill", "owner", Email),
                Envelope.Of(Actor.System),
                CancellationToken.None
            );
        var client = new HttpClient { BaseAddress = new Uri(server.Url) };
        client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", key.Value.Key);
        LetGo(server);
        return client;
    }

    /// <summary>What <c>admin verify</c> would say, without a process of its own.</summary>
    internal static async Task<IReadOnlyList<string>> VerifyAsync(RealServer server)
    {
        await using var app = ProgramOn(server);
        await using var scope = app.Services.CreateAsyncScope();
        var differences = await scope
            .ServiceProvider.GetRequiredService<VerifyHistory>()
            .RunAsync(TestContext.Current.CancellationToken);
        LetGo(server);
        return differences;
    }

    private static WebApplication ProgramOn(RealServer server)
    {
        var builder = WebApplication.CreateBuilder();
        builder.Logging.ClearProviders();
        builder.AddShopFloorServices(new Settings(server.Database, server.Url, new BackupSettings(server.Folder)));
        return builder.Build();
    }

    /// <summary>A connection kept open would go on reading a file that was deleted meanwhile.</summary>
    internal static void LetGo(RealServer server)
    {
        if (server.Database.Kind == DatabaseKind.Sqlite)
        {
            using var own = new SqliteConnection(server.Database.ConnectionString);
            SqliteConnection.ClearPool(own);
        }
    }
}
