using ShopFloor.Web.Tests.Features.Inspection;
using ShopFloor.Web.Tests.Fixtures;
using ShopFloor.Web.Tests.Quotes;

namespace ShopFloor.Web.Tests.Jobs;

/// <summary>What no car goes without: its inspections, and the sign-off that is the route's last operation.</summary>
public abstract class ReleaseApiTests(ShopHost shop)
{
    [Fact]
    public async Task Release_is_finished_by_the_sign_off_and_not_by_hand()
    {
        var car = await CarStory.BeginAsync(shop);
        await car.WorkUntilAsync();
        var finish = $"{car.JobPath}/operations/270/finish";

        Assert.Equal("notSignedOff", (await car.Inspector.PostAsync(finish, new { }, 409)).ReasonCode());
        Assert.Equal("notSignedOff", (await car.Fabricator.PostAsync(finish, new { }, 409)).ReasonCode());
        Assert.True(await OperationAsync(car, "270", "waitsForSignOff"));

        await car.SignOffAsync();

        Assert.Equal("alreadyFinished", (await car.Inspector.PostAsync(finish, new { }, 409)).ReasonCode());
        Assert.False(await OperationAsync(car, "270", "waitsForSignOff"));
    }

    [Theory]
    [InlineData("120")]
    [InlineData("270")]
    public async Task Inspection_is_neither_offered_nor_accepted_as_not_needed(string code)
    {
        var car = await CarStory.BeginAsync(shop);

        var refused = await car.Desk.PostAsync(
            $"{car.JobPath}/operations/{code}/not-needed",
            new { reason = "in a hurry" },
            409
        );

        Assert.Equal("inspection", refused.ReasonCode());
        Assert.False(await OperationAsync(car, code, "mayBeNotNeeded"));
        Assert.True(await OperationAsync(car, "30", "mayBeNotNeeded"));
    }

    private static async Task<bool> OperationAsync(CarStory car, string code, string fact) =>
        (await car.Desk.GetJsonAsync(car.JobPath))
            .GetProperty("operations")
            .EnumerateArray()
            .Single(o => o.GetProperty("code").GetString() == code)
            .GetProperty(fact)
            .GetBoolean();
}

public sealed class ReleaseApiOnSqlite(SqliteShop shop) : ReleaseApiTests(shop), IClassFixture<SqliteShop>;

public sealed class ReleaseApiOnPostgres(PostgresShop shop) : ReleaseApiTests(shop), IClassFixture<PostgresShop>;
