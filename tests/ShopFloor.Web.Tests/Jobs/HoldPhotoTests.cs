using System.Net.Http.Headers;
using System.Text;
using System.Text.Json;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Features.Inspection;
using ShopFloor.Web.Tests.Fixtures;
using ShopFloor.Web.Tests.Intake;

namespace ShopFloor.Web.Tests.Jobs;

/// <summary>A hold and its picture come in one request and are taken together or not at all, on both databases.</summary>
public abstract class HoldPhotoTests(ShopHost shop)
{
    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Hold_and_photo_are_taken_together_once_and_the_hold_shows_the_photo()
    {
        var car = await CarStory.BeginAsync(shop, "Hold Whole");
        using var tablet = await TabletAsync();
        var key = Guid.CreateVersion7().ToString();
        await (await HoldAsync(tablet, car, "10", IntakeStory.Jpeg, key)).JsonAsync(200);
        await (await HoldAsync(tablet, car, "10", IntakeStory.Jpeg, key)).JsonAsync(200);

        var photo = Assert.Single(await PhotosAsync(car));
        var hold = (await OperationAsync(car, "10")).GetProperty("hold");
        Assert.Equal(photo.GetProperty("id").GetString(), hold.GetProperty("photoId").GetString());
        Assert.Equal("which seat", hold.GetProperty("note").GetString());
    }

    [Fact]
    public async Task A_hold_that_is_refused_leaves_no_photo_and_no_word_in_the_history()
    {
        var car = await CarStory.BeginAsync(shop, "Hold Refused");
        await car.Fabricator.PostAsync($"{car.JobPath}/operations/10/start", new { }, 200);
        await car.Fabricator.PostAsync($"{car.JobPath}/operations/10/finish", new { }, 200);
        using var tablet = await TabletAsync();

        var refused = await (await HoldAsync(tablet, car, "10", IntakeStory.Jpeg)).JsonAsync(409);

        Assert.Equal("alreadyFinished", refused.GetProperty("reasons")[0].GetProperty("code").GetString());
        Assert.Empty(await PhotosAsync(car));
        var history = (await car.Owner.GetJsonAsync("/api/v1/events?after=0")).GetProperty("items").EnumerateArray();
        Assert.DoesNotContain(
            history,
            e => e.GetProperty("type").GetString() == "photo.added" && e.GetProperty("jobId").GetString() == car.JobId
        );
    }

    [Fact]
    public async Task A_file_that_is_no_picture_holds_nothing()
    {
        var car = await CarStory.BeginAsync(shop, "Hold Text");
        using var tablet = await TabletAsync();

        await (await HoldAsync(tablet, car, "10", Encoding.UTF8.GetBytes("not a picture at all"))).JsonAsync(415);

        Assert.Equal(JsonValueKind.Null, (await OperationAsync(car, "10")).GetProperty("hold").ValueKind);
        Assert.Empty(await PhotosAsync(car));
    }

    private async Task<HttpClient> TabletAsync()
    {
        var client = await shop.SignedInAsync(Role.Fabricator);
        using var asked = await client.GetAsync(new Uri("/floor/session", UriKind.Relative), Ct);
        foreach (var cookie in asked.Headers.TryGetValues("Set-Cookie", out var set) ? set : [])
        {
            client.DefaultRequestHeaders.Add("Cookie", cookie.Split(';')[0]);
        }

        client.DefaultRequestHeaders.Add("X-CSRF-TOKEN", (await asked.JsonAsync(200)).GetProperty("token").GetString());
        return client;
    }

    private static async Task<HttpResponseMessage> HoldAsync(
        HttpClient tablet,
        CarStory car,
        string code,
        byte[] picture,
        string? key = null
    )
    {
        using var form = new MultipartFormDataContent
        {
            { new StringContent("operation"), "kind" },
            { new StringContent(code), "operation" },
            { new StringContent("questionToCustomer"), "reason" },
            { new StringContent("which seat"), "note" },
        };
        using var file = new ByteArrayContent(picture);
        file.Headers.ContentType = new MediaTypeHeaderValue("image/jpeg");
        form.Add(file, "file", "hold.jpg");
        using var request = new HttpRequestMessage(
            HttpMethod.Post,
            $"/floor/jobs/{car.JobId}/operations/{code}/hold-with-photo"
        )
        {
            Content = form,
        };
        if (key is not null)
        {
            request.Headers.Add("Idempotency-Key", key);
        }

        return await tablet.SendAsync(request, Ct);
    }

    private static async Task<JsonElement> OperationAsync(CarStory car, string code) =>
        (await car.JobAsync())
            .GetProperty("operations")
            .EnumerateArray()
            .Single(o => o.GetProperty("code").GetString() == code);

    private static async Task<List<JsonElement>> PhotosAsync(CarStory car) =>
        [.. (await car.Desk.GetJsonAsync($"{car.JobPath}/photos")).GetProperty("items").EnumerateArray()];
}

public sealed class HoldPhotoOnSqlite(SqliteShop shop) : HoldPhotoTests(shop), IClassFixture<SqliteShop>;

public sealed class HoldPhotoOnPostgres(PostgresShop shop) : HoldPhotoTests(shop), IClassFixture<PostgresShop>;
