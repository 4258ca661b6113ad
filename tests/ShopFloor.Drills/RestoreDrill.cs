using System.IO.Compression;
using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Web.Tests.Drills;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Drills;

/// <summary>
/// The real program is backed up by its own command while clients write, everything is wiped, and the archive is restored: what had been acknowledged before the backup began is there, and the history is
/// the one of the archive, line by line. One round runs with all tests; <c>SHOPFLOOR_DRILL_RESTORES=20</c> makes it the whole drill.
/// </summary>
public sealed class RestoreDrill(ITestOutputHelper output)
{
    private const int Clients = 4;

    [Theory]
    [InlineData("sqlite")]
    [InlineData("postgres")]
    public async Task A_backup_made_under_load_brings_the_shop_back_after_everything_is_gone(string kind)
    {
        var kept = Directory.CreateTempSubdirectory("shopfloor-archives").FullName;
        await using var server = new RealServer(await Drill.DatabaseAsync(kind));
        await server.StartAsync();
        using var api = await RealShop.SetUpAsync(server);
        try
        {
            for (var round = 0; round < Drill.Rounds("SHOPFLOOR_DRILL_RESTORES", usual: 1); round++)
            {
                await RoundAsync(kind, server, api, kept, round);
            }
        }
        finally
        {
            Directory.Delete(kept, recursive: true);
        }
    }

    private async Task RoundAsync(string kind, RealServer server, HttpClient api, string kept, int round)
    {
        var writers = new Writers(api, $"Round {round}", Clients);
        writers.Start();
        await writers.ReachAsync(20);
        var before = writers.Acknowledged.ToList();
        var archive = Path.Combine(kept, $"{round}.zip");
        var made = await server.AdminAsync(["backup", "--to", archive]);
        Assert.True(made.Code == 0, made.Error);
        Assert.Equal(archive, made.Out.TrimEnd().Split('\n')[^1]);

        await server.KillAsync();
        await writers.StopAsync();

        await WipeAsync(kind, server);
        var restored = await server.AdminAsync(["restore", "--from", archive]);
        Assert.True(restored.Code == 0, restored.Error);
        await server.StartAsync();
        var there = (await Drill.CustomersAsync(api)).ToDictionary(c => c.Name, c => c.Id, StringComparer.Ordinal);
        Assert.All(before, w => Assert.Equal(w.Id, there[w.Name]));
        Assert.Empty(await RealShop.VerifyAsync(server));

        Assert.Equal(HistoryOf(archive), await HistoryOfAsync(server));
        output.WriteLine(
            $"{kind}: {before.Count} writes before, {there.Count} restored, {writers.Acknowledged.Count} in all."
        );
    }

    /// <summary>Number and hash of the newest line of the history, as the archive says.</summary>
    private static (long, string?) HistoryOf(string archive)
    {
        using var zip = ZipFile.OpenRead(archive);
        using var manifest = JsonDocument.Parse(zip.GetEntry("manifest.json")!.Open());
        return (
            manifest.RootElement.GetProperty("events").GetInt64(),
            manifest.RootElement.GetProperty("lastHash").GetString()
        );
    }

    private static async Task<(long, string?)> HistoryOfAsync(RealServer server)
    {
        var options = new DbContextOptionsBuilder<ShopDbContext>();
        server.Database.Configure(options);
        await using var db = new ShopDbContext(options.Options);
        var last = await db
            .Events.AsNoTracking()
            .OrderByDescending(e => e.Sequence)
            .FirstAsync(TestContext.Current.CancellationToken);
        return (last.Sequence, last.Hash);
    }

    private static async Task WipeAsync(string kind, RealServer server)
    {
        foreach (var entry in new DirectoryInfo(server.Folder).GetFileSystemInfos())
        {
            if (entry is DirectoryInfo folder)
            {
                folder.Delete(recursive: true);
            }
            else
            {
                entry.Delete();
            }
        }

        if (kind == "postgres")
        {
            server.MoveTo(await PostgresServer.NewDatabaseAsync());
        }
    }
}
