using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Fixtures;
using ShopFloor.Web.Tests.Quotes;

namespace ShopFloor.Web.Tests.Intake;

public abstract class CustomerPartsApiTests(ShopHost shop)
{
    [Fact]
    public async Task A_promised_part_becomes_late_and_arrives()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var (job, _, _) = await IntakeStory.OpenJobAsync(desk);
        var path = $"/api/v1/jobs/{job}/customer-parts";
        var today = DateOnly.FromDateTime(shop.Clock.GetUtcNow().DateTime);

        var part = await desk.PostAsync(
            path,
            new
            {
                what = "Door panels",
                code = "door-panels",
                dueOn = today.AddDays(-1),
            }
        );
        Assert.Equal("awaited", part.Text("state"));
        Assert.True(part.GetProperty("isLate").GetBoolean());
        Assert.Equal(1, (await desk.GetJsonAsync(path)).GetProperty("items").GetArrayLength());

        var moved = await desk.PutAsync(
            $"/api/v1/customer-parts/{part.Text("id")}",
            new
            {
                what = "Door panels",
                code = "door-panels",
                dueOn = today.AddDays(2),
            }
        );
        Assert.False(moved.GetProperty("isLate").GetBoolean());

        var here = await desk.PostAsync($"/api/v1/customer-parts/{part.Text("id")}/arrive", new { }, 200);
        Assert.Equal("arrived", here.Text("state"));
        var again = await desk.PostAsync($"/api/v1/customer-parts/{part.Text("id")}/arrive", new { }, 409);
        Assert.Equal("arrived", again.ReasonCode());
    }

    [Fact]
    public async Task A_day_in_1900_gets_a_sentence_at_its_field()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var (job, _, _) = await IntakeStory.OpenJobAsync(desk);

        var problem = await desk.PostAsync(
            $"/api/v1/jobs/{job}/customer-parts",
            new { what = "Seats", dueOn = "1900-01-01" },
            400
        );

        Assert.Equal("dueOn", problem.ErrorPath());
    }

    [Fact]
    public async Task A_job_that_does_not_exist_takes_no_part()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        await desk.PostAsync(
            $"/api/v1/jobs/{Guid.Empty}/customer-parts",
            new { what = "Seats", dueOn = "2026-05-08" },
            404
        );
    }
}

public sealed class CustomerPartsApiOnSqlite(SqliteShop shop) : CustomerPartsApiTests(shop), IClassFixture<SqliteShop>;

public sealed class CustomerPartsApiOnPostgres(PostgresShop shop)
    : CustomerPartsApiTests(shop),
        IClassFixture<PostgresShop>;
