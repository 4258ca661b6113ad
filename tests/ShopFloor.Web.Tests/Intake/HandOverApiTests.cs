using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.History;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Features.Inspection;
using ShopFloor.Web.Tests.Fixtures;
using ShopFloor.Web.Tests.Quotes;

namespace ShopFloor.Web.Tests.Intake;

public abstract class HandOverApiTests(ShopHost shop)
{
    [Fact]
    public async Task A_car_with_work_left_does_not_go()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var (job, _, _) = await IntakeStory.OpenJobAsync(desk);

        var sheet = await desk.GetJsonAsync($"/api/v1/jobs/{job}/hand-over");
        Assert.True(sheet.GetProperty("notReady").GetArrayLength() > 0);
        var refused = await desk.PostAsync($"/api/v1/jobs/{job}/hand-over", Complete(), 409);
        Assert.Equal("operation", refused.ReasonCode());
    }

    [Fact]
    public async Task A_finished_car_is_compared_signed_for_and_its_job_closed()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var (job, _, car) = await IntakeStory.OpenDoneJobAsync(desk, "Fina Fertig");
        await desk.PutAsync($"/api/v1/jobs/{job}/drop-off", IntakeStory.DropOff);
        var photo = (await desk.UploadAsync($"/api/v1/jobs/{job}/photos", IntakeStory.Jpeg)).Text("id");
        var path = $"/api/v1/jobs/{job}/hand-over";

        var notCompared = await desk.PostAsync(path, Complete(), 400);
        Assert.Equal("looks", notCompared.ErrorPath());

        object[] looks = [new { intakePhotoId = photo, isSame = true }];
        var owing = await desk.PostAsync(path, Complete(looks), 409);
        Assert.Equal("balanceDue", owing.ReasonCode());

        var decision = $"/api/v1/jobs/{job}/account/hand-over-with-balance";
        await desk.PostAsync(decision, new { reason = "Pays on Friday" }, 403);
        using var owner = await shop.ApiAsync(Role.Owner);
        await owner.PostAsync(decision, new { }, 400);
        var decided = await owner.PostAsync(decision, new { reason = "Pays on Friday" }, 200);
        Assert.Equal("Olga Owner", decided.GetProperty("decisions")[0].Text("by"));
        var done = await desk.PostAsync(path, Complete(looks), 200);
        Assert.Equal(81_050, done.Number("odometerKm"));
        Assert.True(done.Number("balanceMinor") > 0);
        Assert.Equal("closed", (await desk.GetJsonAsync($"/api/v1/jobs/{job}")).Text("state"));
        Assert.Equal(81_050, (await desk.GetJsonAsync($"/api/v1/cars/{car}")).Number("odometerKm"));

        Assert.Equal("closed", (await desk.PostAsync(path, Complete(looks), 409)).ReasonCode());
        await desk.UploadAsync($"/api/v1/jobs/{job}/photos", IntakeStory.Jpeg, 409);
    }

    [Fact]
    public async Task A_car_whose_sign_off_was_withdrawn_does_not_go()
    {
        var car = await CarStory.BeginAsync(shop);
        await car.WorkUntilAsync();
        await car.SignOffAsync();
        Assert.Equal(
            0,
            (await car.Desk.GetJsonAsync($"{car.JobPath}/hand-over")).GetProperty("notReady").GetArrayLength()
        );

        await car.Inspector.PostAsync($"{car.JobPath}/sign-off/withdraw", new { reason = "Pin loose" }, 200);

        var refused = await car.Desk.PostAsync($"{car.JobPath}/hand-over", Complete(), 409);
        Assert.Equal("notSignedOff", refused.ReasonCode());
    }

    [Fact]
    public async Task Sign_off_withdrawn_while_the_desk_hands_the_car_over_makes_the_desk_look_again()
    {
        var car = await CarStory.BeginAsync(shop);
        await car.WorkUntilAsync();
        await car.SignOffAsync();
        var seen = (await car.Desk.GetJsonAsync(car.JobPath)).Number("version");
        await car.Inspector.PostAsync($"{car.JobPath}/sign-off/withdraw", new { reason = "Pin loose" }, 200);

        using var answer = await car.Desk.SendAsync(
            HttpMethod.Post,
            $"{car.JobPath}/hand-over",
            Complete(),
            ifMatch: seen
        );

        Assert.Equal("stale", (await answer.JsonAsync(409)).ReasonCode());
    }

    [Fact]
    public async Task Remembered_answers_about_an_erased_customer_are_forgotten_too()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        using var owner = await shop.ApiAsync(Role.Owner);
        var key = $"remembered-{shop.Kind}";
        var customer = await desk.PostAsync("/api/v1/customers", new { name = "Rosa Reply" }, key: key);

        await owner.PostAsync($"/api/v1/customers/{customer.Text("id")}/erase", new { }, 200);

        var kept = await shop.WithAsync<IDbContextFactory<ShopDbContext>, int>(async contexts =>
        {
            await using var db = await contexts.CreateDbContextAsync();
            return await db.IdempotencyRecords.CountAsync(r => r.Result != null && r.Result.Contains("Rosa Reply"));
        });
        Assert.Equal(0, kept);
    }

    [Fact]
    public async Task An_erased_customer_leaves_no_name_anywhere_and_the_history_still_verifies()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        using var owner = await shop.ApiAsync(Role.Owner);
        var (job, customer, car) = await IntakeStory.OpenDoneJobAsync(desk, "Vergessa Weg");
        await desk.PutAsync($"/api/v1/jobs/{job}/drop-off", IntakeStory.DropOff);
        await desk.PostAsync(
            $"/api/v1/jobs/{job}/authorisation",
            new { signature = new { kind = "printedSheet", signedBy = "Vergessa Weg" } },
            200
        );
        var photo = (await desk.UploadAsync($"/api/v1/jobs/{job}/photos", IntakeStory.Jpeg)).Text("id");

        Assert.Equal(
            "openJob",
            (await owner.PostAsync($"/api/v1/customers/{customer}/erase", new { }, 409)).ReasonCode()
        );
        object[] looks = [new { intakePhotoId = photo, isSame = true }];
        await owner.PostAsync(
            $"/api/v1/jobs/{job}/account/hand-over-with-balance",
            new { reason = "Pays on Friday" },
            200
        );
        await desk.PostAsync($"/api/v1/jobs/{job}/hand-over", Complete(looks), 200);
        await desk.PostAsync($"/api/v1/customers/{customer}/erase", new { }, 403);

        var erased = await owner.PostAsync($"/api/v1/customers/{customer}/erase", new { removePhotos = true }, 200);

        Assert.Equal("Erased customer", erased.Text("name"));
        Assert.Equal(0, (await desk.GetJsonAsync("/api/v1/customers?search=vergessa")).Number("totalCount"));
        Assert.Equal(
            System.Text.Json.JsonValueKind.Null,
            (await desk.GetJsonAsync($"/api/v1/cars/{car}")).GetProperty("registration").ValueKind
        );
        foreach (var path in new[] { $"jobs/{job}/drop-off", $"jobs/{job}/hand-over", $"jobs/{job}" })
        {
            Assert.DoesNotContain(
                "Vergessa",
                (await desk.GetJsonAsync($"/api/v1/{path}")).ToString(),
                StringComparison.Ordinal
            );
        }

        await desk.GetJsonAsync($"/api/v1/photos/{photo}/picture", 404);
        Assert.Empty(
            await shop.WithAsync<VerifyHistory, IReadOnlyList<string>>(v => v.RunAsync(CancellationToken.None))
        );
    }

    private static object Complete(object[]? looks = null) =>
        new
        {
            odometerKm = 81_050,
            warningLights = Array.Empty<string>(),
            keysReturned = 2,
            looks = looks ?? [],
            signature = IntakeStory.Drawn,
        };
}

public sealed class HandOverApiOnSqlite(SqliteShop shop) : HandOverApiTests(shop), IClassFixture<SqliteShop>;

public sealed class HandOverApiOnPostgres(PostgresShop shop) : HandOverApiTests(shop), IClassFixture<PostgresShop>;
