using System.Globalization;
using System.Text.Json;
using ShopFloor.Application.Integrations;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Fixtures;
using StandardWebhooks;

namespace ShopFloor.Web.Tests.Integrations;

/// <summary>Lines of the history on their way to another program, on both databases. Signatures are held against the library of Standard Webhooks, which did not make them.</summary>
public abstract class WebhookApiTests(ShopHost shop)
{
    private const string Hooks = "/api/v1/webhooks";

    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    private Task<int> SendAsync() => shop.WithAsync<SendWebhooks, int>(s => s.RunOnceAsync(Ct));

    /// <summary>A webhook, alone in the shop.</summary>
    private static async Task<(string Id, string Secret)> AddAsync(
        HttpClient owner,
        string address,
        params string[] types
    )
    {
        foreach (var old in (await owner.GetJsonAsync(Hooks)).GetProperty("items").EnumerateArray())
        {
            using var gone = await owner.SendAsync(HttpMethod.Delete, $"{Hooks}/{old.GetProperty("id")}");
            Assert.Equal(204, (int)gone.StatusCode);
        }

        var made = await owner.PostAsync(
            Hooks,
            new
            {
                name = "The books",
                address,
                types,
            }
        );
        return (made.GetProperty("id").GetString()!, made.GetProperty("secret").GetString()!);
    }

    private static Task<JsonElement> AddCustomerAsync(HttpClient desk) =>
        desk.PostAsync("/api/v1/customers", new { name = "Marta Marker", email = "marta@marker.example" });

    private static async Task<JsonElement> OnlyAsync(HttpClient owner) =>
        Assert.Single((await owner.GetJsonAsync(Hooks)).GetProperty("items").EnumerateArray());

    private static async Task<List<JsonElement>> DeliveriesAsync(HttpClient owner, string id) =>
        [.. (await owner.GetJsonAsync($"{Hooks}/{id}/deliveries")).GetProperty("items").EnumerateArray()];

    [Fact]
    public async Task Lines_of_the_chosen_kind_arrive_signed_without_names_and_once()
    {
        await using var books = await WebhookCatcher.StartAsync();
        var owner = await shop.ApiAsync(Role.Owner);
        var desk = await shop.ApiAsync(Role.FrontDesk);
        await AddCustomerAsync(desk);
        var (id, secret) = await AddAsync(owner, books.Address, "customer.registered");
        Assert.StartsWith("whsec_", secret, StringComparison.Ordinal);
        Assert.True(Convert.FromBase64String(secret[6..]).Length >= 24);

        var first = (await AddCustomerAsync(desk)).GetProperty("id").GetString();
        var second = (await AddCustomerAsync(desk)).GetProperty("id").GetString();
        Assert.Equal(2, await SendAsync());
        Assert.Equal(0, await SendAsync());

        // What happened before it was added is not told, nor what is of another kind.
        Assert.Equal(2, books.Caught.Count);
        var subjects = new HashSet<string?>();
        foreach (var post in books.Caught)
        {
            var at = DateTimeOffset.FromUnixTimeSeconds(
                long.Parse(post.Headers["webhook-timestamp"]!, CultureInfo.InvariantCulture)
            );
            Assert.Equal(
                new StandardWebhook(secret).Sign(post.Headers["webhook-id"].ToString(), at, post.Body),
                post.Headers["webhook-signature"].ToString()
            );
            Assert.Equal("application/json", post.Headers.ContentType);
            var body = JsonSerializer.Deserialize<JsonElement>(post.Body);
            Assert.Equal("customer.registered", body.GetProperty("type").GetString());
            Assert.True(body.GetProperty("timestamp").GetDateTimeOffset() <= shop.Clock.GetUtcNow());
            subjects.Add(body.GetProperty("data").GetProperty("subjectId").GetString());
            Assert.DoesNotContain("arker", post.Body, StringComparison.OrdinalIgnoreCase);
        }

        Assert.Equivalent(new[] { first, second }, subjects, strict: true);
        Assert.All(await DeliveriesAsync(owner, id), d => Assert.Equal("taken", d.GetProperty("state").GetString()));
        Assert.DoesNotContain(secret, (await OnlyAsync(owner)).ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_is_not_taken_comes_again_under_the_same_id_and_can_be_sent_again_by_hand()
    {
        await using var books = await WebhookCatcher.StartAsync();
        var owner = await shop.ApiAsync(Role.Owner);
        var desk = await shop.ApiAsync(Role.FrontDesk);
        var (id, _) = await AddAsync(owner, books.Address, "customer.registered");
        await AddCustomerAsync(desk);
        books.Status = 503;

        Assert.Equal(1, await SendAsync());
        Assert.Equal(0, await SendAsync());
        var waiting = Assert.Single(await DeliveriesAsync(owner, id));
        Assert.Equal("waiting", waiting.GetProperty("state").GetString());
        Assert.Equal(503, waiting.GetProperty("status").GetInt32());
        Assert.NotEqual(JsonValueKind.Null, (await OnlyAsync(owner)).GetProperty("failingSince").ValueKind);

        shop.Clock.Advance(TimeSpan.FromSeconds(6));
        books.Status = 204;
        Assert.Equal(1, await SendAsync());
        Assert.Single(books.Caught.Select(p => p.Headers["webhook-id"].ToString()).Distinct());
        Assert.Equal(JsonValueKind.Null, (await OnlyAsync(owner)).GetProperty("failingSince").ValueKind);

        var delivery = Assert.Single(await DeliveriesAsync(owner, id)).GetProperty("id").GetString();
        using (var again = await owner.SendAsync(HttpMethod.Post, $"{Hooks}/deliveries/{delivery}/repeat", new { }))
        {
            Assert.Equal(204, (int)again.StatusCode);
        }

        Assert.Equal(1, await SendAsync());
        Assert.Equal(3, books.Caught.Count);
    }

    [Fact]
    public async Task An_answer_410_turns_it_off_and_a_redirect_is_not_followed()
    {
        await using var books = await WebhookCatcher.StartAsync();
        var owner = await shop.ApiAsync(Role.Owner);
        var desk = await shop.ApiAsync(Role.FrontDesk);
        var (id, _) = await AddAsync(owner, books.Address, "customer.registered");
        books.Status = 302;
        var tested = await owner.PostAsync($"{Hooks}/{id}/test", new { }, 200);
        Assert.False(tested.GetProperty("isTaken").GetBoolean());
        Assert.Equal("/hooks", Assert.Single(books.Caught).Path);

        books.Status = 410;
        await AddCustomerAsync(desk);
        await SendAsync();
        var hook = await OnlyAsync(owner);
        Assert.False(hook.GetProperty("isOn").GetBoolean());
        Assert.Contains("410", hook.GetProperty("trouble").GetString(), StringComparison.Ordinal);
        Assert.Equal("givenUp", Assert.Single(await DeliveriesAsync(owner, id)).GetProperty("state").GetString());

        // Off: nothing is noted; on again: only what happens from then on.
        await AddCustomerAsync(desk);
        Assert.Equal(0, await SendAsync());
        books.Status = 200;
        using (
            var on = await owner.SendAsync(
                HttpMethod.Put,
                $"{Hooks}/{id}",
                new
                {
                    name = "The books",
                    address = books.Address,
                    types = new[] { "customer.registered" },
                    isOn = true,
                },
                ifMatch: hook.GetProperty("version").GetInt64()
            )
        )
        {
            Assert.Equal(200, (int)on.StatusCode);
        }

        Assert.Equal(0, await SendAsync());
        await AddCustomerAsync(desk);
        Assert.Equal(1, await SendAsync());
    }

    [Fact]
    public async Task News_of_the_history_changes_no_version_under_whoever_edits_and_what_waits_goes_when_it_is_turned_off()
    {
        await using var books = await WebhookCatcher.StartAsync();
        var owner = await shop.ApiAsync(Role.Owner);
        var desk = await shop.ApiAsync(Role.FrontDesk);
        var (id, _) = await AddAsync(owner, books.Address, "customer.registered");
        var seen = (await OnlyAsync(owner)).GetProperty("version").GetInt64();
        books.Status = 500;
        await AddCustomerAsync(desk);
        Assert.Equal(1, await SendAsync());

        using (
            var off = await owner.SendAsync(
                HttpMethod.Put,
                $"{Hooks}/{id}",
                new
                {
                    name = "The books",
                    address = books.Address,
                    isOn = false,
                },
                ifMatch: seen
            )
        )
        {
            Assert.Equal(200, (int)off.StatusCode);
        }

        Assert.Equal("givenUp", Assert.Single(await DeliveriesAsync(owner, id)).GetProperty("state").GetString());
        shop.Clock.Advance(TimeSpan.FromHours(1));
        Assert.Equal(0, await SendAsync());
    }

    [Fact]
    public async Task One_that_takes_nothing_is_felt_for_by_one_line_at_a_time_and_turned_off_after_five_days()
    {
        await using var books = await WebhookCatcher.StartAsync();
        var owner = await shop.ApiAsync(Role.Owner);
        var desk = await shop.ApiAsync(Role.FrontDesk);
        var (id, _) = await AddAsync(owner, books.Address, "customer.registered");
        books.Status = 500;
        for (var i = 0; i < 3; i++)
        {
            await AddCustomerAsync(desk);
        }

        Assert.Equal(3, await SendAsync());
        shop.Clock.Advance(TimeSpan.FromMinutes(6));
        Assert.Equal(1, await SendAsync());
        shop.Clock.Advance(TimeSpan.FromDays(5));
        Assert.Equal(1, await SendAsync());

        var hook = await OnlyAsync(owner);
        Assert.False(hook.GetProperty("isOn").GetBoolean());
        Assert.Equal(0, hook.GetProperty("waiting").GetInt32());
        Assert.All(await DeliveriesAsync(owner, id), d => Assert.Equal("givenUp", d.GetProperty("state").GetString()));
    }

    [Fact]
    public async Task The_shops_own_network_is_not_reached_whatever_the_address_is_called()
    {
        await using var books = await WebhookCatcher.StartAsync();
        var owner = await shop.ApiAsync(Role.Owner);
        foreach (
            var address in new[]
            {
                $"http://127.0.0.2:{books.Port}/",
                $"http://[::1]:{books.Port}/",
                $"https://0.0.0.0:{books.Port}/",
                $"http://[::ffff:127.0.0.3]:{books.Port}/",
                $"http://2130706434:{books.Port}/",
                "https://169.254.169.254/latest/meta-data/",
            }
        )
        {
            var (id, _) = await AddAsync(owner, address);
            var tested = await owner.PostAsync($"{Hooks}/{id}/test", new { }, 200);
            var said = $"{address}: {tested.GetProperty("sentence").GetString()}";
            Assert.Contains("private network", said, StringComparison.Ordinal);
        }

        Assert.Empty(books.Caught);
    }

    [Fact]
    public async Task Several_servers_at_once_send_each_line_once()
    {
        await using var books = await WebhookCatcher.StartAsync();
        var owner = await shop.ApiAsync(Role.Owner);
        var desk = await shop.ApiAsync(Role.FrontDesk);
        await AddAsync(owner, books.Address, "customer.registered");
        for (var i = 0; i < 8; i++)
        {
            await AddCustomerAsync(desk);
        }

        var tried = await Task.WhenAll(SendAsync(), SendAsync(), SendAsync());
        // One may have looked before the other had noted: the next turn finds the rest.
        var rest = await SendAsync();

        Assert.Equal(8, tried.Sum() + rest);
        Assert.Equal(8, books.Caught.Select(p => p.Headers["webhook-id"].ToString()).Distinct().Count());
        Assert.Equal(8, books.Caught.Count);
    }

    [Fact]
    public async Task Another_secret_signs_from_then_on()
    {
        await using var books = await WebhookCatcher.StartAsync();
        var owner = await shop.ApiAsync(Role.Owner);
        var (id, old) = await AddAsync(owner, books.Address);
        var fresh = (await owner.PostAsync($"{Hooks}/{id}/secret", new { }, 200)).GetProperty("secret").GetString()!;
        await owner.PostAsync($"{Hooks}/{id}/test", new { }, 200);

        var post = Assert.Single(books.Caught);
        var at = DateTimeOffset.FromUnixTimeSeconds(
            long.Parse(post.Headers["webhook-timestamp"]!, CultureInfo.InvariantCulture)
        );
        string By(string secret) =>
            new StandardWebhook(secret).Sign(post.Headers["webhook-id"].ToString(), at, post.Body);
        Assert.Equal(By(fresh), post.Headers["webhook-signature"].ToString());
        Assert.NotEqual(By(old), post.Headers["webhook-signature"].ToString());
    }
}

public sealed class SqliteWebhookApiTests(SqliteShop shop) : WebhookApiTests(shop), IClassFixture<SqliteShop>;

public sealed class PostgresWebhookApiTests(PostgresShop shop) : WebhookApiTests(shop), IClassFixture<PostgresShop>;
