using System.Text.Json;
using ShopFloor.Application.History;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Fixtures;
using ShopFloor.Web.Tests.Quotes;

namespace ShopFloor.Web.Tests.Intake;

public abstract class CarReturnApiTests(ShopHost shop)
{
    [Fact]
    public async Task A_car_of_an_open_job_goes_by_the_hand_over_only()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var (job, _, _) = await IntakeStory.OpenJobAsync(desk);

        var refused = await desk.PostAsync($"/api/v1/jobs/{job}/return", Complete(), 409);

        Assert.Equal("notCancelled", refused.ReasonCode());
        Assert.Equal(JsonValueKind.Null, (await JobAsync(desk, job)).GetProperty("cancelledCar").ValueKind);
    }

    [Fact]
    public async Task The_car_of_a_cancelled_job_goes_back_once_with_its_parts_and_its_caution()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var (job, car, part, photo) = await CancelledAsync(desk, "Cora Cancel");
        var path = $"/api/v1/jobs/{job}/return";
        var here = (await JobAsync(desk, job)).GetProperty("cancelledCar");
        Assert.True(here.GetProperty("wasBroughtIn").GetBoolean());
        Assert.Equal(JsonValueKind.Null, here.GetProperty("returnedAt").ValueKind);
        var sheet = await desk.GetJsonAsync(path);
        Assert.Equal("Door panels", sheet.GetProperty("parts")[0].Text("what"));
        Assert.Contains("certifies nothing", sheet.GetProperty("notice").ToString(), StringComparison.Ordinal);

        object[] looks = [new { intakePhotoId = photo, isSame = true }];
        Assert.Equal("partsBack", (await desk.PostAsync(path, Complete(looks), 400)).ErrorPath());
        object[] parts = [new { partId = part, isBack = true }];
        var done = await desk.PostAsync(path, Complete(looks, parts), 200);

        Assert.Equal("Carpet cut; left plate tacked", done.Text("leftOpen"));
        Assert.Equal(81_050, (await desk.GetJsonAsync($"/api/v1/cars/{car}")).Number("odometerKm"));
        var back = await JobAsync(desk, job);
        Assert.Equal("cancelled", back.Text("state"));
        Assert.Equal(
            done.GetProperty("returnedAt").GetDateTimeOffset(),
            back.GetProperty("cancelledCar").GetProperty("returnedAt").GetDateTimeOffset()
        );
        Assert.Equal("returned", (await desk.PostAsync(path, Complete(looks, parts), 409)).ReasonCode());
        await desk.UploadAsync($"/api/v1/jobs/{job}/photos", IntakeStory.Jpeg, 409, fields: [("kind", "handOver")]);
        var history = (await desk.GetJsonAsync($"/api/v1/events")).ToString();
        Assert.Contains("car.returned", history, StringComparison.Ordinal);
        Assert.DoesNotContain("Carpet cut", history, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_car_does_not_go_back_while_a_removed_part_is_unaccounted_for()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        using var owner = await shop.ApiAsync(Role.Owner);
        var (job, _, part, photo) = await CancelledAsync(desk, "Rita Rest");
        var path = $"/api/v1/jobs/{job}/return";
        object[] looks = [new { intakePhotoId = photo, isSame = true }];
        object[] parts = [new { partId = part, isBack = true }];
        var seat = await OutAsync(desk, job, "Driver's seat");
        var trim = await OutAsync(desk, job, "Sill trim");

        var refused = await desk.PostAsync(path, Complete(looks, parts), 409);

        Assert.Equal("partsOut", refused.ReasonCode());
        Assert.Contains("Sill trim (Shelf 3)", refused.ToString(), StringComparison.Ordinal);
        var sheet = await desk.GetJsonAsync(path);
        Assert.Equal("partsOut", sheet.GetProperty("obstacles")[0].Text("code"));
        await desk.PostAsync($"{seat}/refit", new { fastenersBack = 4 }, 200);
        await owner.PostAsync($"{trim}/leave-out", new { handedOver = true, reason = "In the boot" }, 200);
        await desk.PostAsync(path, Complete(looks, parts), 200);
        Assert.Equal("jobOver", (await desk.PostAsync($"{seat}/out-again", new { }, 409)).ReasonCode());
    }

    [Fact]
    public async Task What_is_owed_is_settled_first_or_said_to_be_settled_later()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var (job, _, part, photo) = await CancelledAsync(desk, "Sol Settle", deposit: 10_000);
        var path = $"/api/v1/jobs/{job}/return";
        object[] looks = [new { intakePhotoId = photo, isSame = true }];
        object[] parts =
        [
            new
            {
                partId = part,
                isBack = false,
                note = "At the painter",
            },
        ];

        var owing = await desk.PostAsync(path, Complete(looks, parts), 400);
        Assert.Equal("settleLater", owing.ErrorPath());
        Assert.Contains("The shop owes", owing.ToString(), StringComparison.Ordinal);

        await desk.PostAsync(
            $"/api/v1/jobs/{job}/account/refunds",
            new
            {
                amountMinor = 10_000,
                method = "cash",
                reason = "Cancelled",
            },
            200
        );
        var done = await desk.PostAsync(path, Complete(looks, parts), 200);

        Assert.Equal(0, done.Number("balanceMinor"));
    }

    [Fact]
    public async Task The_car_of_a_cancelled_job_is_photographed_as_it_goes_and_no_other_photo_is_taken()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var (job, _, _, _) = await CancelledAsync(desk, "Pia Photo");

        await desk.UploadAsync($"/api/v1/jobs/{job}/photos", IntakeStory.Jpeg, fields: [("kind", "handOver")]);
        await desk.UploadAsync($"/api/v1/jobs/{job}/photos", IntakeStory.Jpeg, 409);
        await desk.PostAsync($"/api/v1/jobs/{job}/upload-links", new { kind = "handOver" });
        await desk.PostAsync($"/api/v1/jobs/{job}/upload-links", new { }, 409);
    }

    [Fact]
    public async Task Only_those_who_book_cars_in_give_them_back()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var (job, _, _, _) = await CancelledAsync(desk, "Rolf Role");
        foreach (var role in new[] { Role.Fabricator, Role.Inspector })
        {
            using var other = await shop.ApiAsync(role);
            await other.GetJsonAsync($"/api/v1/jobs/{job}/return", 403);
            await other.PostAsync($"/api/v1/jobs/{job}/return", Complete(), 403);
        }
    }

    [Fact]
    public async Task An_erased_customer_is_forgotten_in_the_return_too()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        using var owner = await shop.ApiAsync(Role.Owner);
        var (job, _, part, photo) = await CancelledAsync(desk, "Erna Erase");
        object[] looks = [new { intakePhotoId = photo, isSame = true }];
        object[] parts = [new { partId = part, isBack = true }];
        await desk.PostAsync($"/api/v1/jobs/{job}/return", Complete(looks, parts, "Erna Erase"), 200);
        var customer = (await JobAsync(desk, job)).Text("customerId");

        await owner.PostAsync($"/api/v1/customers/{customer}/erase", new { }, 200);

        var read = (await desk.GetJsonAsync($"/api/v1/jobs/{job}/return")).ToString();
        Assert.DoesNotContain("Erna", read, StringComparison.Ordinal);
        Assert.Contains("Carpet cut", read, StringComparison.Ordinal);
        Assert.Empty(
            await shop.WithAsync<VerifyHistory, IReadOnlyList<string>>(v => v.RunAsync(CancellationToken.None))
        );
    }

    private static Task<JsonElement> JobAsync(HttpClient desk, string job) => desk.GetJsonAsync($"/api/v1/jobs/{job}");

    /// <summary>A car that was dropped off with a photo and the customer's door panels, and whose job was cancelled before any work.</summary>
    private static async Task<(string Job, string Car, string Part, string Photo)> CancelledAsync(
        HttpClient desk,
        string name,
        int deposit = 0
    )
    {
        var (job, _, car) = await IntakeStory.OpenJobAsync(desk, name);
        var path = $"/api/v1/jobs/{job}";
        await desk.PutAsync($"{path}/drop-off", IntakeStory.DropOff);
        var photo = (await desk.UploadAsync($"{path}/photos", IntakeStory.Jpeg)).Text("id");
        var part = await desk.PostAsync($"{path}/customer-parts", new { what = "Door panels", dueOn = "2026-05-06" });
        await desk.PostAsync($"/api/v1/customer-parts/{part.Text("id")}/arrive", new { }, 200);
        if (deposit > 0)
        {
            await desk.PostAsync($"{path}/account/deposits", new { amountMinor = deposit, method = "cash" }, 200);
        }

        await desk.PostAsync($"{path}/cancel", new { reason = "car sold" }, 200);
        return (job, car, part.Text("id"), photo);
    }

    private static async Task<string> OutAsync(HttpClient desk, string job, string what)
    {
        var part = await desk.PostAsync(
            $"/api/v1/jobs/{job}/removed-parts",
            new
            {
                what,
                takenFrom = "the cabin",
                fasteners = 4,
                place = "Shelf 3",
            }
        );
        return $"/api/v1/removed-parts/{part.Text("id")}";
    }

    private static object Complete(object[]? looks = null, object[]? parts = null, string signedBy = "Ada Kremer") =>
        new
        {
            odometerKm = 81_050,
            warningLights = Array.Empty<string>(),
            fuelPercent = 25,
            keysReturned = 2,
            looks = looks ?? [],
            partsBack = parts ?? [],
            removedParts = new[] { new { what = "Rear seat", place = "inBox" } },
            leftOpen = "Carpet cut; left plate tacked",
            signature = new { kind = "printedSheet", signedBy },
        };
}

public sealed class CarReturnApiOnSqlite(SqliteShop shop) : CarReturnApiTests(shop), IClassFixture<SqliteShop>;

public sealed class CarReturnApiOnPostgres(PostgresShop shop) : CarReturnApiTests(shop), IClassFixture<PostgresShop>;
