using Microsoft.Data.Sqlite;
using ShopFloor.Web.Tests.Drills;

namespace ShopFloor.Drills;

/// <summary>
/// The real program is killed with SIGKILL again and again while clients write. Whatever it acknowledged is there when it is started again, nothing is there twice, and the history adds up.
/// One kill runs with all tests; <c>SHOPFLOOR_DRILL_KILLS=100</c> makes it the whole drill.
/// </summary>
public sealed class CrashDrill(ITestOutputHelper output)
{
    private const int Clients = 4;

    /// <summary>Between one and so many acknowledged writes lie between a start and its kill.</summary>
    private const int MostWrites = 40;

    [Theory]
    [InlineData("sqlite")]
    [InlineData("postgres")]
    public async Task Every_acknowledged_write_survives_kill_9_at_any_moment(string kind)
    {
        var kills = Drill.Rounds("SHOPFLOOR_DRILL_KILLS", usual: 1);
        var seed = Environment.TickCount;
        var random = new Random(seed);
        await using var server = new RealServer(await Drill.DatabaseAsync(kind));
        await server.StartAsync();
        using var api = await RealShop.SetUpAsync(server);
        Dictionary<string, string> written = [];
        var unanswered = 0;
        for (var kill = 0; kill < kills; kill++)
        {
            var writers = new Writers(api, $"Kill {kill}", Clients);
            writers.Start();
            await writers.ReachAsync(random.Next(1, MostWrites));
            await server.KillAsync();
            await writers.StopAsync();

            await server.StartAsync();
            var there = (await Drill.CustomersAsync(api)).ToLookup(c => c.Name, c => c.Id);
            foreach (var (id, name) in writers.Acknowledged)
            {
                Assert.Equal([id], there[name]);
            }

            // What was on its way is there or not; sent again under its key it is there once.
            unanswered += writers.Unanswered.Count;
            await writers.RepeatAsync();
            foreach (var (id, name) in writers.Acknowledged)
            {
                written.Add(name, id);
            }
        }

        var all = await Drill.CustomersAsync(api);
        Assert.Equal(written.Count, all.Count);
        Assert.All(all, c => Assert.Equal(written[c.Name], c.Id));
        Assert.Empty(await RealShop.VerifyAsync(server));
        if (kind == "sqlite")
        {
            await using var file = new SqliteConnection(server.Database.ConnectionString);
            await file.OpenAsync(TestContext.Current.CancellationToken);
            await using var check = file.CreateCommand();
            check.CommandText = "PRAGMA integrity_check";
            Assert.Equal("ok", await check.ExecuteScalarAsync(TestContext.Current.CancellationToken));
        }

        RealShop.LetGo(server);
        output.WriteLine(
            $"{kind}, seed {seed}: {kills} kills, {written.Count} writes, {unanswered} of them on their way when the server was killed; all there once."
        );
    }
}
