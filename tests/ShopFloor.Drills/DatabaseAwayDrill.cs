using System.Net;
using Npgsql;
using ShopFloor.Web.Tests.Drills;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Drills;

/// <summary>
/// The cable to the database is pulled while clients write: they are told so in a sentence, the program stays up, and once the cable is back it goes on by itself, with every acknowledged write there and none twice. One round runs
/// with all tests; <c>SHOPFLOOR_DRILL_CUTS=50</c> makes it the whole drill.
/// </summary>
public sealed class DatabaseAwayDrill(ITestOutputHelper output)
{
    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Program_says_that_the_database_is_away_and_goes_on_when_it_is_back()
    {
        var real = new NpgsqlConnectionStringBuilder((await Drill.DatabaseAsync("postgres"))!);
        await using var cable = new Cable(real.Port);
        var through = new NpgsqlConnectionStringBuilder(real.ConnectionString)
        {
            Host = "127.0.0.1",
            Port = cable.Port,
        };
        await using var server = new RealServer(through.ConnectionString);
        await server.StartAsync();
        using var api = await RealShop.SetUpAsync(server);
        using var stranger = new HttpClient { BaseAddress = api.BaseAddress };
        using var handler = new HttpClientHandler { UseCookies = false, AllowAutoRedirect = false };
        using var owner = new HttpClient(handler) { BaseAddress = api.BaseAddress };
        using (var entered = await owner.SignInAsync(RealShop.Email, RealShop.Password))
        {
            owner.TakeCookies(entered);
        }

        Assert.Contains("My sign-in", await owner.PageAsync("/my-sign-in"), StringComparison.Ordinal);
        for (var round = 0; round < Drill.Rounds("SHOPFLOOR_DRILL_CUTS", usual: 1); round++)
        {
            var writers = new Writers(api, $"Cut {round}", 4);
            writers.Start();
            await writers.ReachAsync(10);
            cable.Cut();
            await writers.StopAsync();

            using (var refused = await api.SendAsync(HttpMethod.Post, "/api/v1/customers", new { name = "Nobody" }))
            {
                var problem = await refused.JsonAsync(503);
                Assert.Contains(
                    "database cannot be reached",
                    problem.GetProperty("detail").GetString(),
                    StringComparison.Ordinal
                );
                Assert.Equal(TimeSpan.FromSeconds(60), refused.Headers.RetryAfter?.Delta);
            }

            foreach (
                var (browser, path) in ((HttpClient, string)[])
                    [(stranger, "/sign-in"), (owner, "/my-sign-in"), (owner, "/customers"), (owner, "/floor")]
            )
            {
                using var page = await browser.GetAsync(new Uri(path, UriKind.Relative), Ct);
                Assert.True(page.StatusCode == HttpStatusCode.ServiceUnavailable, $"{path}: {page.StatusCode}");
                Assert.Contains(
                    "default-src 'self'",
                    page.Headers.GetValues("Content-Security-Policy").Single(),
                    StringComparison.Ordinal
                );
                Assert.Equal("nosniff", page.Headers.GetValues("X-Content-Type-Options").Single());
                Assert.Contains(
                    "database cannot be reached",
                    await page.Content.ReadAsStringAsync(Ct),
                    StringComparison.Ordinal
                );
            }

            using (var live = await stranger.GetAsync(new Uri("/health/live", UriKind.Relative), Ct))
            {
                Assert.Equal(HttpStatusCode.OK, live.StatusCode);
            }

            using (var ready = await stranger.GetAsync(new Uri("/health/ready", UriKind.Relative), Ct))
            {
                Assert.Equal(HttpStatusCode.ServiceUnavailable, ready.StatusCode);
            }

            cable.Mend();
            await api.PostAsync("/api/v1/customers", new { name = $"After {round}" });
            Assert.Contains("My sign-in", await owner.PageAsync("/my-sign-in"), StringComparison.Ordinal);
            // What nobody knows is asked for again under the same key, and is there once.
            await writers.RepeatAsync();
            var there = await Drill.CustomersAsync(api);
            Assert.All(writers.Acknowledged, w => Assert.Single(there, c => c.Name == w.Name && c.Id == w.Id));
            Assert.Equal(there.Count, there.Select(c => c.Name).Distinct(StringComparer.Ordinal).Count());
            // The connections of this process were cut as well.
            NpgsqlConnection.ClearAllPools();
            Assert.Empty(await RealShop.VerifyAsync(server));
            output.WriteLine($"Round {round}: {writers.Acknowledged.Count} writes, each there once.");
        }
    }
}
