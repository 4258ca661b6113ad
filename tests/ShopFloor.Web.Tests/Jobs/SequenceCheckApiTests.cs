using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Web.Tests.Jobs;

/// <summary>The calculator stores nothing, so one database is enough.</summary>
public sealed class SequenceCheckApiTests(SqliteShop shop) : IClassFixture<SqliteShop>
{
    private const string Path = "/api/v1/calculators/sequence-check";

    [Fact]
    public async Task Order_is_given_where_there_is_one()
    {
        using var api = await shop.ApiAsync(Role.Fabricator);

        var answer = await api.PostAsync(
            Path,
            new
            {
                ways = new[] { "floor" },
                operations = new object[]
                {
                    new { id = "bar", closes = new[] { "floor" } },
                    new { id = "plates", needsOpen = new[] { "floor" } },
                },
            },
            200
        );

        Assert.True(answer.GetProperty("canFinish").GetBoolean());
        Assert.Equal(["plates", "bar"], answer.GetProperty("order").EnumerateArray().Select(o => o.GetString()));
        Assert.False(answer.TryGetProperty("deadEnd", out _));
        Assert.False(answer.TryGetProperty("cycle", out _));
    }

    [Fact]
    public async Task Dead_end_names_the_operation_and_what_it_lacks()
    {
        using var api = await shop.ApiAsync(Role.Fabricator);

        var answer = await api.PostAsync(
            Path,
            new
            {
                ways = new[] { "floor" },
                operations = new object[]
                {
                    new { id = "bar", closes = new[] { "floor" } },
                    new { id = "plates", needsOpen = new[] { "floor" } },
                },
                done = new[] { "bar" },
            },
            200
        );

        Assert.False(answer.GetProperty("canFinish").GetBoolean());
        var end = answer.GetProperty("deadEnd");
        Assert.Equal("plates", end.GetProperty("operation").GetString());
        Assert.Equal(0, end.GetProperty("after").GetArrayLength());
        Assert.Equal("accessWay", end.GetProperty("reasons")[0].GetProperty("code").GetString());
    }

    [Fact]
    public async Task Circle_is_shown()
    {
        using var api = await shop.ApiAsync(Role.Fabricator);

        var answer = await api.PostAsync(
            Path,
            new
            {
                ways = Array.Empty<string>(),
                operations = new object[]
                {
                    new { id = "a", after = new[] { "b" } },
                    new { id = "b", after = new[] { "a" } },
                },
            },
            200
        );

        Assert.False(answer.GetProperty("canFinish").GetBoolean());
        Assert.Equal(["a", "b"], answer.GetProperty("cycle").EnumerateArray().Select(o => o.GetString()).Order());
    }

    [Theory]
    [InlineData("""{"ways":[],"operations":[{"id":"a","after":["z"]}]}""", "operations[0].after[0]")]
    [InlineData("""{"ways":[],"operations":[{"id":"a"},{"id":"a"}]}""", "operations[1].id")]
    [InlineData("""{"ways":[],"operations":[{"id":"a"}],"done":["z"]}""", "done[0]")]
    [InlineData("""{"ways":[],"operations":[{}]}""", "operations[0].id")]
    [InlineData("""{"ways":[],"operations":[null]}""", "operations[0]")]
    [InlineData("""{"operations":[]}""", "ways")]
    [InlineData("""{"ways":[],"operations":[{"id":"a","needs":[]}]}""", "operations[0].needs")]
    public async Task Bad_input_is_told_by_its_path(string json, string path)
    {
        using var api = await shop.ApiAsync(Role.Fabricator);
        using var content = new StringContent(json, System.Text.Encoding.UTF8, "application/json");
        using var response = await api.PostAsync(
            new Uri(Path, UriKind.Relative),
            content,
            TestContext.Current.CancellationToken
        );

        var problem = await response.JsonAsync(400);
        Assert.True(problem.GetProperty("errors").TryGetProperty(path, out _), problem.ToString());
    }
}
