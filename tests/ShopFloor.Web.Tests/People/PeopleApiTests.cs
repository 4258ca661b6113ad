using System.Text;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Web.Tests.People;

public sealed class PeopleApiTests(SqliteShop shop) : IClassFixture<SqliteShop>
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
}
