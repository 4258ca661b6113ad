using System.Text.Json.Nodes;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Web.Tests.Features.RuleSets;

/// <summary>A route that hides work before it was looked at is not put in force.</summary>
public abstract class HoldOrderApiTests(ShopHost shop)
{
    private const string Path = "/api/v1/route-templates/kit-shipped";

    [Fact]
    public async Task A_route_without_the_gate_of_its_hold_point_is_refused_with_both_operations_named()
    {
        using var owner = await shop.ApiAsync(Role.Owner);
        var draft = await owner.PostAsync($"{Path}/draft", new { }, 201);
        var document = JsonNode.Parse(draft.GetProperty("template").GetRawText())!.AsObject();
        document["operations"]!.AsArray().Single(o => (string?)o!["code"] == "30")!["gates"] = new JsonArray();
        using var response = await owner.SendAsync(HttpMethod.Put, $"{Path}/draft", new { document });
        var saved = await response.JsonAsync(200);
        Assert.Contains(
            "hides what is looked at at 20",
            saved.GetProperty("problems").GetRawText(),
            StringComparison.Ordinal
        );
        var refused = await owner.PostAsync($"{Path}/draft/put-in-force", new { }, 400);
        Assert.Contains("hides what is looked at at 20", refused.GetRawText(), StringComparison.Ordinal);
    }
}

public sealed class HoldOrderApiOnSqlite(SqliteShop shop) : HoldOrderApiTests(shop), IClassFixture<SqliteShop>;

public sealed class HoldOrderApiOnPostgres(PostgresShop shop) : HoldOrderApiTests(shop), IClassFixture<PostgresShop>;
