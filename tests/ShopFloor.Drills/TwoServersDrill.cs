using System.Net;
using ShopFloor.Domain.Devices;
using ShopFloor.Web.Tests.Drills;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Drills;

/// <summary>
/// Two servers on one PostgreSQL behind nginx as it is shipped. Each is killed and started again in turn while clients tap: who is signed in stays so, no tap is lost and none counts twice. One round runs with all
/// tests; <c>SHOPFLOOR_DRILL_RESTARTS=20</c> makes it the whole drill.
/// </summary>
public sealed class TwoServersDrill(ITestOutputHelper output)
{
    private const int Clients = 3;

    [Fact]
    public async Task Restarting_one_after_the_other_loses_no_tap_and_signs_nobody_out()
    {
        var database = (await Drill.DatabaseAsync("postgres"))!;
        await using var first = new RealServer(database);
        await using var second = new RealServer(database);
        await using var proxy = new Proxy();
        first.Set("SHOPFLOOR_PUBLIC_URL", proxy.Url);
        second.Set("SHOPFLOOR_PUBLIC_URL", proxy.Url);
        await first.StartAsync();
        using var direct = await RealShop.SetUpAsync(first);
        await second.StartAsync();
        await proxy.StartAsync(new Uri(first.Url), new Uri(second.Url));
        using var api = proxy.Client();
        api.DefaultRequestHeaders.Authorization = direct.DefaultRequestHeaders.Authorization;
        using var owner = proxy.Client();
        using (var entered = await owner.SignInAsync(RealShop.Email, RealShop.Password))
        {
            Assert.Equal(HttpStatusCode.Redirect, entered.StatusCode);
            Assert.Contains(
                "__Host-shopfloor=",
                string.Join(' ', entered.Headers.GetValues("Set-Cookie")),
                StringComparison.Ordinal
            );
            owner.TakeCookies(entered);
        }

        var writers = new Writers(api, "Tap", Clients) { KeepsTrying = true };
        writers.Start();
        for (var round = 0; round < Drill.Rounds("SHOPFLOOR_DRILL_RESTARTS", usual: 1); round++)
        {
            foreach (var server in (RealServer[])[first, second])
            {
                await writers.ReachAsync(10);
                await server.KillAsync();
                await writers.ReachAsync(10);
                Assert.Contains("My sign-in", await owner.PageAsync("/my-sign-in"), StringComparison.Ordinal);
                await server.StartAsync();
            }
        }

        await writers.StopAsync();
        Assert.Contains("My sign-in", await owner.PageAsync("/my-sign-in"), StringComparison.Ordinal);
        var there = await Drill.CustomersAsync(api);
        Assert.Equal(writers.Acknowledged.Order(), there.Order());
        Assert.Empty(await RealShop.VerifyAsync(first));
        await GuessAtBothAsync(proxy, first, second);
        output.WriteLine($"{there.Count} taps, {writers.Repeats} repeated.");
    }

    /// <summary>Wrong passwords from one network, half at each server, are counted together: the proxy's word on the caller is taken.</summary>
    private static async Task GuessAtBothAsync(Proxy proxy, RealServer first, RealServer second)
    {
        using var one = From(first, "203.0.113.9");
        using var other = From(second, "203.0.113.9");
        var half = AttemptRule.OfSignInsFrom.Tries / 2;
        for (var i = 0; i < half; i++)
        {
            using (await one.SignInAsync($"nobody{i}@shop.example", "wrong horse battery")) { }

            using (await other.SignInAsync($"nobody{i}@shop.example", "wrong horse battery")) { }
        }

        foreach (var guesser in (HttpClient[])[one, other])
        {
            using var right = await guesser.SignInAsync(RealShop.Email, RealShop.Password);
            Assert.Contains(
                "Too many wrong tries",
                await right.Content.ReadAsStringAsync(TestContext.Current.CancellationToken),
                StringComparison.Ordinal
            );
        }

        // Whoever comes by the proxy is another network, and is not kept waiting.
        using var customer = proxy.Client();
        using var entered = await customer.SignInAsync(RealShop.Email, RealShop.Password);
        Assert.Equal(HttpStatusCode.Redirect, entered.StatusCode);
    }

    private static HttpClient From(RealServer server, string address)
    {
        var client = new HttpClient(new HttpClientHandler { UseCookies = false, AllowAutoRedirect = false })
        {
            BaseAddress = new Uri(server.Url),
        };
        client.DefaultRequestHeaders.Add("X-Forwarded-For", address);
        return client;
    }
}
