using System.Text;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Web.Tests.Customers;

/// <summary>Behaviour on both databases: one abstract suite, two fixtures.</summary>
public abstract class CustomersApiTests(ShopHost shop)
{
    private const string Path = "/api/v1/customers";

    [Fact]
    public async Task A_registered_customer_can_be_read_found_and_changed()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var created = await api.PostAsync(Path, new { name = "  Ada Kremer ", email = "ada@example.com" });
        var id = created.GetProperty("id").GetString();
        Assert.Equal("Ada Kremer", created.GetProperty("name").GetString());
        Assert.Equal(1, created.GetProperty("version").GetInt64());

        var found = await api.GetJsonAsync($"{Path}?search=KREM");
        Assert.Contains(found.GetProperty("items").EnumerateArray(), c => c.GetProperty("id").GetString() == id);

        using var changed = await api.SendAsync(
            HttpMethod.Put,
            $"{Path}/{id}",
            new { name = "Ada Kremer-Voss" },
            ifMatch: 1
        );
        Assert.Equal(2, (await changed.JsonAsync(200)).GetProperty("version").GetInt64());
        using var late = await api.SendAsync(HttpMethod.Put, $"{Path}/{id}", new { name = "Ada K" }, ifMatch: 1);
        Assert.Equal("stale", (await late.JsonAsync(409)).GetProperty("reasons")[0].GetProperty("code").GetString());
    }

    [Fact]
    public async Task An_empty_name_gets_a_sentence_at_its_field_and_nothing_is_written()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var before = (await api.GetJsonAsync(Path)).GetProperty("totalCount").GetInt32();
        var problem = await api.PostAsync(Path, new { name = "  " }, 400);
        Assert.Equal(
            "The customer's name is needed.",
            problem.GetProperty("errors").GetProperty("name")[0].GetString()
        );
        Assert.Equal(before, (await api.GetJsonAsync(Path)).GetProperty("totalCount").GetInt32());
    }

    [Theory]
    [InlineData("""{"name":"A","nmae":"B"}""", "nmae")]
    [InlineData("""{"name":"A","name":"B"}""", "name")]
    [InlineData("""{"Name":"A"}""", "Name")]
    [InlineData("""{"name":5}""", "name")]
    [InlineData("""{"name":"A","payer":{"name":"B","who":1}}""", "payer.who")]
    [InlineData("""{"name":""", "name")]
    [InlineData("null", "$")]
    public async Task Strict_json_names_the_field(string json, string path)
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        using var content = new StringContent(json, Encoding.UTF8, "application/json");
        using var response = await api.PostAsync(
            new Uri(Path, UriKind.Relative),
            content,
            TestContext.Current.CancellationToken
        );
        Assert.Equal("application/problem+json", response.Content.Headers.ContentType?.MediaType);
        var problem = await response.JsonAsync(400);
        Assert.True(problem.GetProperty("errors").TryGetProperty(path, out _), problem.ToString());
    }

    [Fact]
    public async Task Other_content_types_and_ten_megabytes_are_refused()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        using var text = new StringContent("name=A", Encoding.UTF8, "text/plain");
        using var wrong = await api.PostAsync(
            new Uri(Path, UriKind.Relative),
            text,
            TestContext.Current.CancellationToken
        );
        await wrong.JsonAsync(415);
        using var big = new StringContent(
            $$"""{"name":"{{new string('a', 10 * 1024 * 1024)}}"}""",
            Encoding.UTF8,
            "application/json"
        );
        using var large = await api.PostAsync(
            new Uri(Path, UriKind.Relative),
            big,
            TestContext.Current.CancellationToken
        );
        await large.JsonAsync(413);
    }

    [Fact]
    public async Task A_repeat_with_the_same_key_changes_nothing_and_other_content_is_refused()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var key = $"key-{shop.Kind}";
        var first = await api.PostAsync(Path, new { name = "Only Once" }, key: key);
        var second = await api.PostAsync(Path, new { name = "Only Once" }, key: key);
        Assert.Equal(first.GetProperty("id").GetString(), second.GetProperty("id").GetString());
        var other = await api.PostAsync(Path, new { name = "Somebody Else" }, 409, key);
        Assert.Equal("idempotencyKey", other.GetProperty("reasons")[0].GetProperty("code").GetString());
        Assert.Equal(1, (await api.GetJsonAsync($"{Path}?search=only once")).GetProperty("totalCount").GetInt32());

        // A refusal is replayed too, and an unreadable body holds its key.
        var bad = await api.PostAsync(Path, new { name = "" }, 400, key + "2");
        var again = await api.PostAsync(Path, new { name = "" }, 400, key + "2");
        Assert.Equal(bad.GetProperty("errors").ToString(), again.GetProperty("errors").ToString());
        await api.PostAsync(Path, new { wrong = 1 }, 400, key + "3");
        await api.PostAsync(Path, new { name = "Fine" }, 409, key + "3");
    }

    [Fact]
    public async Task A_key_is_forgotten_after_thirty_days()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var first = await api.PostAsync(Path, new { name = "Month Old" }, key: "old-key");
        shop.Clock.Advance(TimeSpan.FromDays(31));
        await shop.WithAsync<Hosting.IdempotencyCleanup, int>(c =>
            c.RunOnceAsync(TestContext.Current.CancellationToken)
        );
        var second = await api.PostAsync(Path, new { name = "Month Old" }, key: "old-key");
        Assert.NotEqual(first.GetProperty("id").GetString(), second.GetProperty("id").GetString());
    }

    [Fact]
    public async Task Keys_without_the_role_and_no_key_at_all_are_refused()
    {
        using var fabricator = await shop.ApiAsync(Role.Fabricator);
        await fabricator.PostAsync(Path, new { name = "No" }, 403);
        using var anonymous = shop.CreateClient();
        using var response = await anonymous.GetAsync(
            new Uri(Path, UriKind.Relative),
            TestContext.Current.CancellationToken
        );
        Assert.Equal("application/problem+json", response.Content.Headers.ContentType?.MediaType);
        await response.JsonAsync(401);
    }
}

public sealed class CustomersApiOnSqlite(SqliteShop shop) : CustomersApiTests(shop), IClassFixture<SqliteShop>;

public sealed class CustomersApiOnPostgres(PostgresShop shop) : CustomersApiTests(shop), IClassFixture<PostgresShop>;
