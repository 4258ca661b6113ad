using System.Net.Http.Headers;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Web.Tests.Drills;

/// <summary>The real program from the command line: set up by admin commands, killed with SIGKILL after acknowledged writes, started again.</summary>
public sealed class CrashTests
{
    [Theory]
    [InlineData("sqlite")]
    [InlineData("postgres")]
    public async Task An_acknowledged_write_survives_kill_9(string kind)
    {
        await using var server = new RealServer(kind == "postgres" ? await PostgresServer.NewDatabaseAsync() : null);
        await server.StartAsync();
        using var api = await SetUpAsync(server);
        var ids = new List<string>();
        for (var round = 0; round < 2; round++)
        {
            for (var i = 0; i < 10; i++)
            {
                var created = await api.PostAsync("/api/v1/customers", new { name = $"Round {round} no. {i}" });
                ids.Add(created.GetProperty("id").GetString()!);
            }

            await server.KillAsync();
            await server.StartAsync();
            foreach (var id in ids)
            {
                await api.GetJsonAsync($"/api/v1/customers/{id}");
            }
        }

        var (code, _, error) = await server.AdminAsync(["verify"]);
        Assert.True(code == 0, error);
    }

    [Fact]
    public async Task Admin_commands_print_results_alone_and_refuse_with_one_sentence()
    {
        await using var server = new RealServer(null);
        var noShop = await server.AdminAsync(
            ["owner", "create", "--email", "a@shop.example", "--name", "A"],
            "a long password"
        );
        Assert.Equal(2, noShop.Code);
        Assert.Equal("There is no shop yet: create the shop first.", noShop.Error.Trim());
        Assert.Empty(noShop.Out);

        var bad = await server.AdminAsync([
            "shop",
            "create",
            "--name",
            "S",
            "--currency",
            "euro",
            "--time-zone",
            "Mars/Base",
            "--length-unit",
            "mm",
        ]);
        Assert.Equal(2, bad.Code);
        Assert.Contains("ISO 4217", bad.Error, StringComparison.Ordinal);
        Assert.Contains("IANA", bad.Error, StringComparison.Ordinal);

        var unknown = await server.AdminAsync(["dance"]);
        Assert.Equal(2, unknown.Code);

        server.Set("SHOPFLOOR_DATABASE", "oracle");
        var wrong = await server.AdminAsync(["migrate"]);
        Assert.NotEqual(0, wrong.Code);
        Assert.Equal("SHOPFLOOR_DATABASE is 'oracle', but must be sqlite or postgres.", wrong.Error.Trim());
    }

    internal static async Task<HttpClient> SetUpAsync(RealServer server)
    {
        Assert.Equal(
            0,
            (
                await server.AdminAsync([
                    "shop",
                    "create",
                    "--name",
                    "Drill",
                    "--currency",
                    "EUR",
                    "--time-zone",
                    "Europe/Berlin",
                    "--length-unit",
                    "mm",
                ])
            ).Code
        );
        Assert.Equal(
            0,
            (
                await server.AdminAsync(
                    ["owner", "create", "--email", "o@shop.example", "--name", "O"],
                    "a long password"
                )
            ).Code
        );
        var key = await server.AdminAsync([
            "api-key",
            "create",
            "--name",
            "drill",
            "--role",
            "owner",
            "--user",
            "o@shop.example",
        ]);
        Assert.True(key.Code == 0, key.Error);
        var client = new HttpClient { BaseAddress = new Uri(server.Url) };
        client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue(
            "Bearer",
            key.Out.TrimEnd().Split('\n')[^1]
        );
        return client;
    }
}
