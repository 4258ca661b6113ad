using ShopFloor.Data;
using ShopFloor.Web.Tests.Drills;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Drills;

/// <summary>
/// A shop with data is taken back to the database of each earlier program, which is shown to have the very layout that program makes; then the program of today starts on it: it backs the shop up, brings it
/// up to date, and everything is there.
/// </summary>
public sealed class UpgradeDrill(ITestOutputHelper output)
{
    [Theory]
    [InlineData("sqlite")]
    [InlineData("postgres")]
    public async Task Database_of_every_earlier_program_comes_up_to_date_with_its_data(string kind)
    {
        await using var server = new RealServer(await Drill.DatabaseAsync(kind));
        await server.StartAsync();
        using var api = await RealShop.SetUpAsync(server);
        var writers = new Writers(api, "Before", 2);
        writers.Start();
        await writers.ReachAsync(10);
        await writers.StopAsync();
        await server.KillAsync();
        var today = await EarlierDatabase.LayoutAsync(server.Database);
        var migrations = EarlierDatabase.Migrations(server.Database);
        Assert.True(migrations.Count > 1, "There is no earlier program to come from.");

        var backups = 0;
        foreach (var earlier in migrations.SkipLast(1))
        {
            await EarlierDatabase.TakeBackAsync(server.Database, earlier);
            Assert.Equal(await NewLayoutAsync(kind, earlier), await EarlierDatabase.LayoutAsync(server.Database));

            await server.StartAsync();

            var there = (await Drill.CustomersAsync(api)).Select(c => c.Id).ToHashSet(StringComparer.Ordinal);
            Assert.All(writers.Acknowledged, w => Assert.Contains(w.Id, there));
            Assert.Empty(await RealShop.VerifyAsync(server));
            await server.KillAsync();
            Assert.Equal(today, await EarlierDatabase.LayoutAsync(server.Database));
            backups++;
            Assert.Equal(
                backups,
                Directory
                    .GetFiles(Path.Combine(server.Folder, "backups"))
                    .Count(f => f.Contains("before-upgrade", StringComparison.Ordinal))
            );
            output.WriteLine($"{kind}: from {earlier}, {there.Count} customers.");
        }
    }

    private static async Task<List<string>> NewLayoutAsync(string kind, string migration)
    {
        var folder = Directory.CreateTempSubdirectory("shopfloor-earlier").FullName;
        try
        {
            var database = await Drill.DatabaseAsync(kind) is { } connection
                ? new ShopDatabase(DatabaseKind.Postgres, connection, folder)
                : ShopDatabase.SqliteIn(folder);
            await EarlierDatabase.MakeAsync(database, migration);
            return await EarlierDatabase.LayoutAsync(database);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }
}
