using System.Net;
using System.Net.Http.Headers;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Web.Tests.People;

/// <summary>What a key is limited to, on both databases.</summary>
public abstract class ApiKeyLimitsTests(ShopHost shop)
{
    private const string Keys = "/api/v1/api-keys";

    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    private async Task<(string Id, HttpClient Client)> KeyAsync(HttpClient owner, object request)
    {
        var made = await owner.PostAsync(Keys, request);
        var client = shop.CreateClient();
        client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue(
            "Bearer",
            made.GetProperty("key").GetString()
        );
        return (made.GetProperty("id").GetString()!, client);
    }

    private static async Task<HttpStatusCode> StatusAsync(HttpClient client, string path)
    {
        using var answer = await client.GetAsync(new Uri(path, UriKind.Relative), Ct);
        return answer.StatusCode;
    }

    [Fact]
    public async Task A_key_for_some_permissions_has_no_others_and_never_more_than_its_role()
    {
        var owner = await shop.ApiAsync(Role.Owner);
        var (_, client) = await KeyAsync(
            owner,
            new
            {
                name = "books",
                role = "front-desk",
                scopes = new[] { "SeeHistory", "RunShop" },
            }
        );

        Assert.Equal(HttpStatusCode.OK, await StatusAsync(client, "/api/v1/events?after=0"));
        Assert.Equal(HttpStatusCode.Forbidden, await StatusAsync(client, "/api/v1/customers"));
        Assert.Equal(HttpStatusCode.Forbidden, await StatusAsync(client, "/api/v1/people"));
    }

    [Fact]
    public async Task A_key_that_may_only_read_is_refused_every_command()
    {
        var owner = await shop.ApiAsync(Role.Owner);
        var (_, client) = await KeyAsync(
            owner,
            new
            {
                name = "board",
                role = "front-desk",
                isReader = true,
            }
        );

        Assert.Equal(HttpStatusCode.OK, await StatusAsync(client, "/api/v1/customers"));
        using var refused = await client.SendAsync(HttpMethod.Post, "/api/v1/customers", new { name = "Nobody" });
        Assert.Equal(HttpStatusCode.Forbidden, refused.StatusCode);
        Assert.Contains("may only read", await refused.Content.ReadAsStringAsync(Ct), StringComparison.Ordinal);
        var (_, owners) = await KeyAsync(
            owner,
            new
            {
                name = "board",
                role = "owner",
                isReader = true,
            }
        );
        await owners.PostAsync("/api/v1/shop/mail/test", new { to = "somebody@else.example" }, 403);
    }

    [Fact]
    public async Task A_limited_key_of_an_owner_lets_nobody_in_and_makes_no_other_key()
    {
        var owner = await shop.ApiAsync(Role.Owner);
        foreach (
            var limits in new object[]
            {
                new
                {
                    name = "x",
                    role = "owner",
                    scopes = new[] { "RunShop", "KeepAccess" },
                },
                new
                {
                    name = "x",
                    role = "owner",
                    daysValid = 1,
                },
            }
        )
        {
            var (_, client) = await KeyAsync(owner, limits);
            Assert.Equal(HttpStatusCode.OK, await StatusAsync(client, Keys));
            await client.PostAsync(Keys, new { name = "wider", role = "owner" }, 403);
            await client.PostAsync($"/api/v1/people/{shop.People[Role.Owner]}/password-links", new { }, 403);
            await client.PostAsync("/api/v1/devices/codes", new { }, 403);
            await client.PostAsync(
                "/api/v1/people",
                new
                {
                    name = "Mallory",
                    email = "m@x.example",
                    password = "a long enough one",
                    roles = new[] { "owner" },
                },
                403
            );
        }
    }

    [Fact]
    public async Task A_key_ends_on_its_day_and_its_last_use_is_noted()
    {
        var owner = await shop.ApiAsync(Role.Owner);
        var (id, client) = await KeyAsync(
            owner,
            new
            {
                name = "a month",
                role = "front-desk",
                daysValid = 30,
            }
        );
        Assert.Null(await LastUseAsync(owner, id));
        Assert.Equal(HttpStatusCode.OK, await StatusAsync(client, "/api/v1/customers"));
        var first = await LastUseAsync(owner, id);
        Assert.NotNull(first);

        shop.Clock.Advance(TimeSpan.FromDays(29));
        Assert.Equal(HttpStatusCode.OK, await StatusAsync(client, "/api/v1/customers"));
        Assert.True(await LastUseAsync(owner, id) > first);
        shop.Clock.Advance(TimeSpan.FromDays(1));
        Assert.Equal(HttpStatusCode.Unauthorized, await StatusAsync(client, "/api/v1/customers"));
    }

    private static async Task<DateTimeOffset?> LastUseAsync(HttpClient owner, string id)
    {
        var key = (await owner.GetJsonAsync(Keys))
            .GetProperty("items")
            .EnumerateArray()
            .Single(k => k.GetProperty("id").GetString() == id);
        return key.GetProperty("lastUsedAt").ValueKind == System.Text.Json.JsonValueKind.Null
            ? null
            : key.GetProperty("lastUsedAt").GetDateTimeOffset();
    }

    [Fact]
    public async Task Limits_that_make_no_sense_are_said_at_their_field()
    {
        var owner = await shop.ApiAsync(Role.Owner);
        foreach (
            var (request, field) in new (object, string)[]
            {
                (
                    new
                    {
                        name = "x",
                        role = "inspector",
                        scopes = new[] { "Fly" },
                    },
                    "scopes"
                ),
                (
                    new
                    {
                        name = "x",
                        role = "inspector",
                        scopes = new[] { "TakeMoney" },
                    },
                    "scopes"
                ),
                (
                    new
                    {
                        name = "x",
                        role = "inspector",
                        daysValid = 0,
                    },
                    "daysValid"
                ),
            }
        )
        {
            var answer = await owner.PostAsync(Keys, request, 400);
            Assert.True(answer.GetProperty("errors").TryGetProperty(field, out _), answer.ToString());
        }
    }
}

public sealed class SqliteApiKeyLimitsTests(SqliteShop shop) : ApiKeyLimitsTests(shop), IClassFixture<SqliteShop>;

public sealed class PostgresApiKeyLimitsTests(PostgresShop shop) : ApiKeyLimitsTests(shop), IClassFixture<PostgresShop>;
