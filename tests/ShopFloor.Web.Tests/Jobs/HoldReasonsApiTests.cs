using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Features.Inspection;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Web.Tests.Jobs;

/// <summary>Reasons for a hold as the shop's own data, with words and a photo, on both databases.</summary>
public abstract class HoldReasonsApiTests(ShopHost shop)
{
    private const string List = "/api/v1/shop/hold-reasons";

    [Fact]
    public async Task The_owners_list_is_offered_and_a_hold_keeps_the_words_it_was_given()
    {
        var car = await CarStory.BeginAsync(shop, "Holda Reason");
        var offered = await car.Fabricator.GetJsonAsync("/api/v1/hold-reasons");
        var codes = offered
            .GetProperty("items")
            .EnumerateArray()
            .Select(r => r.GetProperty("code").GetString())
            .ToList();
        Assert.Equal("partMissing", codes[0]);
        Assert.Equal("other", codes[^1]);
        var own = new object[]
        {
            new
            {
                code = "liftBusy",
                title = "The lift is taken",
                whom = "the bay lead",
            },
            new { code = "partMissing", title = "A part is missing" },
        };
        await ChangeAsync(car.Owner, own, 200);
        await car.Fabricator.PostAsync(
            $"{car.JobPath}/operations/10/hold",
            new { reason = "liftBusy", note = "until noon" },
            200
        );
        await ChangeAsync(
            car.Owner,
            [
                new
                {
                    code = "liftBusy",
                    title = "Lift",
                    isRetired = true,
                },
            ],
            200
        );

        var job = await car.JobAsync();
        var hold = job.GetProperty("operations")[0].GetProperty("hold");
        Assert.Equal("liftBusy", hold.GetProperty("reason").GetString());
        Assert.Equal("The lift is taken", hold.GetProperty("text").GetString());
        Assert.Contains(
            job.GetProperty("waitsFor").EnumerateArray(),
            w => w.GetString() == "10 is on hold: The lift is taken, until noon."
        );
        var waits = await car.Desk.GetJsonAsync("/api/v1/waits?pageSize=200");
        Assert.Contains(
            waits.GetProperty("items").EnumerateArray(),
            w => w.GetProperty("jobId").GetString() == car.JobId && w.GetProperty("whom").GetString() == "the bay lead"
        );

        // What is no longer offered is still taken: a tap may come late. What nobody knows is taken as words.
        await car.Fabricator.PostAsync($"{car.JobPath}/operations/10/resume", new { }, 200);
        await car.Fabricator.PostAsync($"{car.JobPath}/operations/10/hold", new { reason = "liftBusy" }, 200);
        Assert.Equal("Lift", Hold(await car.JobAsync()).GetProperty("text").GetString());
        await car.Fabricator.PostAsync($"{car.JobPath}/operations/10/resume", new { }, 200);
        await car.Fabricator.PostAsync($"{car.JobPath}/operations/10/hold", new { reason = "no light" }, 200);
        hold = Hold(await car.JobAsync());
        Assert.Equal(
            ("other", "no light"),
            (hold.GetProperty("reason").GetString(), hold.GetProperty("note").GetString())
        );
    }

    [Fact]
    public async Task A_hold_shows_a_photo_of_its_own_job_only()
    {
        var (car, other) = (await CarStory.BeginAsync(shop, "Photo One"), await CarStory.BeginAsync(shop, "Photo Two"));
        var photo = await car.PhotoAsync();

        await other.Fabricator.PostAsync(
            $"{other.JobPath}/operations/10/hold",
            new { reason = "other", photoId = photo },
            400
        );
        await car.Fabricator.PostAsync(
            $"{car.JobPath}/operations/10/hold",
            new { reason = "other", photoId = photo },
            200
        );

        var hold = (await car.JobAsync()).GetProperty("operations")[0].GetProperty("hold");
        Assert.Equal(photo, hold.GetProperty("photoId").GetString());
    }

    [Fact]
    public async Task Lists_that_cannot_be_are_refused_at_their_field_and_only_the_owner_changes_them()
    {
        using var owner = await shop.ApiAsync(Role.Owner);
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        await ChangeAsync(desk, [], 403);
        await ChangeAsync(owner, [new { code = "other", title = "Other" }], 400);
        await ChangeAsync(owner, [new { code = "a1", title = "" }], 400);
        await ChangeAsync(owner, [new { code = "Big", title = "Big" }], 400);
        await ChangeAsync(owner, [new { code = "a", title = "A" }, new { code = "a", title = "B" }], 400);
        await ChangeAsync(owner, [.. Enumerable.Range(0, 21).Select(n => new { code = $"a{n}", title = "Many" })], 400);
    }

    private static System.Text.Json.JsonElement Hold(System.Text.Json.JsonElement job) =>
        job.GetProperty("operations")[0].GetProperty("hold");

    private static async Task ChangeAsync(HttpClient client, object[] reasons, int expected)
    {
        using var answer = await client.SendAsync(HttpMethod.Put, List, new { reasons });
        await answer.JsonAsync(expected);
    }
}

public sealed class HoldReasonsApiOnSqlite(SqliteShop shop) : HoldReasonsApiTests(shop), IClassFixture<SqliteShop>;

public sealed class HoldReasonsApiOnPostgres(PostgresShop shop)
    : HoldReasonsApiTests(shop),
        IClassFixture<PostgresShop>;
