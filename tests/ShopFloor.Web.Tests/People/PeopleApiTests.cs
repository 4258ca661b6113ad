using System.Text;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Web.Tests.People;

public abstract class PeopleApiTests(ShopHost shop)
{
    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    [Theory]
    [InlineData("[0]")]
    [InlineData("[99]")]
    [InlineData("""["0"]""")]
    [InlineData("""["99"]""")]
    [InlineData("""["frontDesk, fabricator"]""")]
    [InlineData("""["nobody"]""")]
    public async Task Role_that_is_no_word_of_the_list_is_refused_and_changes_nothing(string roles)
    {
        using var api = await shop.ApiAsync(Role.Owner);
        using var content = new StringContent(
            $$"""{"roles":{{roles}},"isActive":true}""",
            Encoding.UTF8,
            "application/json"
        );

        using var response = await api.PutAsync(
            new Uri($"/api/v1/people/{shop.OtherFabricator}", UriKind.Relative),
            content,
            Ct
        );

        var problem = await response.JsonAsync(400);
        Assert.True(problem.GetProperty("errors").TryGetProperty("roles[0]", out _), problem.ToString());
        var people = await api.GetJsonAsync("/api/v1/people");
        var person = people
            .GetProperty("items")
            .EnumerateArray()
            .Single(p => p.GetProperty("id").GetGuid() == shop.OtherFabricator.Value);
        Assert.Equal(["fabricator"], person.GetProperty("roles").EnumerateArray().Select(r => r.GetString()));
    }

    [Fact]
    public async Task Two_owners_who_step_down_at_once_leave_one_owner()
    {
        using var shopKey = await shop.ApiAsync(Role.Owner, null);
        PersonId[] two = [shop.People[Role.Owner], shop.OtherFabricator];
        using var first = await shop.ApiAsync(Role.Owner, two[0]);
        using var second = await shop.ApiAsync(Role.Owner, two[1]);
        for (var round = 0; round < 5; round++)
        {
            await Task.WhenAll(two.Select(p => ChangeAsync(shopKey, p, "owner", "fabricator")));

            var answers = await Task.WhenAll(
                ChangeAsync(first, two[1], "fabricator"),
                ChangeAsync(second, two[0], "fabricator")
            );

            Assert.Contains(204, answers);
            var people = await shopKey.GetJsonAsync("/api/v1/people");
            Assert.Single(
                people.GetProperty("items").EnumerateArray(),
                p => p.GetProperty("roles").EnumerateArray().Any(r => r.GetString() == "owner")
            );
        }

        await ChangeAsync(shopKey, two[0], "owner");
        await ChangeAsync(shopKey, two[1], "fabricator");
    }

    private static async Task<int> ChangeAsync(HttpClient api, PersonId person, params string[] roles)
    {
        using var response = await api.SendAsync(HttpMethod.Put, $"/api/v1/people/{person}", new { roles });
        return (int)response.StatusCode;
    }
}

public sealed class PeopleApiOnSqlite(SqliteShop shop) : PeopleApiTests(shop), IClassFixture<SqliteShop>;

public sealed class PeopleApiOnPostgres(PostgresShop shop) : PeopleApiTests(shop), IClassFixture<PostgresShop>;
