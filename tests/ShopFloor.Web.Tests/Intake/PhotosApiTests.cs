using System.Security.Cryptography;
using System.Text;
using ShopFloor.Documents.Tests.Images;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Fixtures;
using ShopFloor.Web.Tests.Quotes;

namespace ShopFloor.Web.Tests.Intake;

public abstract class PhotosApiTests(ShopHost shop)
{
    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_photo_keeps_hash_and_capture_time_of_the_original_and_loses_everything_else()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var (job, _, _) = await IntakeStory.OpenJobAsync(desk);
        var exif = TestPictures.Exif(1, "2026:05:06 09:30:00", null);
        var original = TestPictures.JpegWithExif(IntakeStory.Jpeg, exif);

        var photo = await desk.UploadAsync(
            $"/api/v1/jobs/{job}/photos",
            original,
            fields: [("x", "0.25"), ("y", "0.75"), ("caption", "Left sill")]
        );

        Assert.Equal(Convert.ToHexStringLower(SHA256.HashData(original)), photo.Text("originalSha256"));
        // The shop is in Berlin: 09:30 in May is 07:30 UTC.
        Assert.Equal(
            new DateTimeOffset(2026, 5, 6, 7, 30, 0, TimeSpan.Zero),
            photo.GetProperty("takenAt").GetDateTimeOffset()
        );
        Assert.Equal(0.75, photo.GetProperty("place").GetProperty("y").GetDouble());

        using var picture = await desk.GetAsync(
            new Uri($"/api/v1/photos/{photo.Text("id")}/picture", UriKind.Relative),
            Ct
        );
        Assert.Equal("image/jpeg", picture.Content.Headers.ContentType?.MediaType);
        Assert.Equal("nosniff", picture.Headers.GetValues("X-Content-Type-Options").Single());
        var stored = await picture.Content.ReadAsByteArrayAsync(Ct);
        Assert.DoesNotContain("Exif", Encoding.Latin1.GetString(stored), StringComparison.Ordinal);
        using var thumbnail = await desk.GetAsync(
            new Uri($"/api/v1/photos/{photo.Text("id")}/thumbnail", UriKind.Relative),
            Ct
        );
        Assert.True(thumbnail.IsSuccessStatusCode);
    }

    [Fact]
    public async Task A_text_file_named_jpg_is_refused_as_the_wrong_kind()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var (job, _, _) = await IntakeStory.OpenJobAsync(desk);

        await desk.UploadAsync($"/api/v1/jobs/{job}/photos", "not a picture at all"u8.ToArray(), 415, "car.jpg");

        Assert.Equal(0, (await desk.GetJsonAsync($"/api/v1/jobs/{job}/photos")).GetProperty("items").GetArrayLength());
    }

    [Fact]
    public async Task A_picture_of_sixty_thousand_pixels_a_side_is_refused_before_it_is_decoded()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var (job, _, _) = await IntakeStory.OpenJobAsync(desk);

        var problem = await desk.UploadAsync(
            $"/api/v1/jobs/{job}/photos",
            TestPictures.PngHead(60_000, 60_000),
            400,
            "huge.png"
        );

        Assert.Equal("file", problem.ErrorPath());
        Assert.Equal(0, (await desk.GetJsonAsync($"/api/v1/jobs/{job}/photos")).GetProperty("items").GetArrayLength());
    }

    [Fact]
    public async Task More_than_fifteen_megabytes_are_refused()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var (job, _, _) = await IntakeStory.OpenJobAsync(desk);

        await desk.UploadAsync($"/api/v1/jobs/{job}/photos", new byte[15 * 1024 * 1024 + 1], 413);
    }

    [Theory]
    [InlineData("kind", "selfie", "kind")]
    [InlineData("x", "left", "x")]
    [InlineData("x", "0.5", "y")]
    [InlineData("operation", "999", "operation")]
    [InlineData("colour", "red", "colour")]
    public async Task Wrong_fields_of_the_form_are_named(string field, string value, string path)
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var (job, _, _) = await IntakeStory.OpenJobAsync(desk);

        var problem = await desk.UploadAsync(
            $"/api/v1/jobs/{job}/photos",
            IntakeStory.Jpeg,
            400,
            fields: [(field, value)]
        );

        Assert.Equal(path, problem.ErrorPath());
    }

    [Fact]
    public async Task A_repeat_with_the_same_key_adds_no_second_photo()
    {
        using var bench = await shop.ApiAsync(Role.Fabricator);
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var (job, _, _) = await IntakeStory.OpenJobAsync(desk);
        var path = $"/api/v1/jobs/{job}/photos";

        (string, string)[] fields = [("kind", "operation"), ("operation", "10")];
        var first = await bench.UploadAsync(path, IntakeStory.Jpeg, key: "photo-1", fields: fields);
        var second = await bench.UploadAsync(path, IntakeStory.Jpeg, key: "photo-1", fields: fields);

        Assert.Equal(first.Text("id"), second.Text("id"));
        Assert.Equal(
            1,
            (await desk.GetJsonAsync($"{path}?kind=operation&operation=10")).GetProperty("items").GetArrayLength()
        );
    }

    [Fact]
    public async Task A_photo_is_placed_later_and_deleted_for_good()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var (job, _, _) = await IntakeStory.OpenJobAsync(desk);
        var original = TestPictures.Encoded(300, 200, SkiaSharp.SKEncodedImageFormat.Png);
        var photo = await desk.UploadAsync($"/api/v1/jobs/{job}/photos", original, name: "a.png");
        var path = $"/api/v1/photos/{photo.Text("id")}";

        var placed = await desk.PutAsync(
            path,
            new
            {
                x = 0.1,
                y = 0.5,
                caption = "Left door",
            }
        );
        Assert.Equal("Left door", placed.Text("caption"));
        Assert.Equal("y", (await desk.PutAsync(path, new { x = 0.1 }, 400)).ErrorPath());

        var removed = await desk.RemoveAsync(path);
        Assert.True(removed.GetProperty("isRemoved").GetBoolean());
        Assert.Equal(photo.Text("originalSha256"), removed.Text("originalSha256"));
        await desk.GetJsonAsync($"{path}/picture", 404);
    }

    [Fact]
    public async Task A_phone_adds_photos_by_link_and_sees_nothing_else()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var (job, _, _) = await IntakeStory.OpenJobAsync(desk);
        var link = await desk.PostAsync($"/api/v1/jobs/{job}/upload-links", new { });
        Assert.StartsWith("https://shop.example/u/", link.Text("url"), StringComparison.Ordinal);
        var path = new Uri(link.Text("url")).AbsolutePath;

        using var phone = shop.CreateClient();
        using var page = await phone.GetAsync(new Uri(path, UriKind.Relative), Ct);
        Assert.Contains("Add the photo", await page.Content.ReadAsStringAsync(Ct), StringComparison.Ordinal);
        Assert.Equal("no-store", page.Headers.CacheControl?.ToString());

        using var form = IntakeStory.Form(IntakeStory.Jpeg, "phone.jpg");
        using var sent = await phone.PostAsync(new Uri(path, UriKind.Relative), form, Ct);
        Assert.Contains("The photo was added", await sent.Content.ReadAsStringAsync(Ct), StringComparison.Ordinal);
        Assert.Equal(1, (await desk.GetJsonAsync($"/api/v1/jobs/{job}/photos")).GetProperty("items").GetArrayLength());

        using var text = IntakeStory.Form("no picture"u8.ToArray(), "phone.jpg");
        using var refused = await phone.PostAsync(new Uri(path, UriKind.Relative), text, Ct);
        Assert.Equal(400, (int)refused.StatusCode);

        await desk.RemoveAsync($"/api/v1/upload-links/{link.Text("id")}", 204);
        Assert.Equal(await GoneAsync(phone, "/u/nothing"), await GoneAsync(phone, path));
    }

    [Fact]
    public async Task A_link_expires_after_four_hours()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var (job, _, _) = await IntakeStory.OpenJobAsync(desk);
        var link = await desk.PostAsync($"/api/v1/jobs/{job}/upload-links", new { kind = "handOver" });
        var path = new Uri(link.Text("url")).AbsolutePath;
        using var phone = shop.CreateClient();
        using var open = await phone.GetAsync(new Uri(path, UriKind.Relative), Ct);
        Assert.True(open.IsSuccessStatusCode);

        shop.Clock.Advance(TimeSpan.FromHours(4));

        await GoneAsync(phone, path);
        using var form = IntakeStory.Form(IntakeStory.Jpeg, "phone.jpg");
        using var late = await phone.PostAsync(new Uri(path, UriKind.Relative), form, Ct);
        Assert.Equal(404, (int)late.StatusCode);
    }

    private static async Task<string> GoneAsync(HttpClient phone, string path)
    {
        using var response = await phone.GetAsync(new Uri(path, UriKind.Relative), Ct);
        Assert.Equal(404, (int)response.StatusCode);
        return await response.Content.ReadAsStringAsync(Ct);
    }
}

public sealed class PhotosApiOnSqlite(SqliteShop shop) : PhotosApiTests(shop), IClassFixture<SqliteShop>;

public sealed class PhotosApiOnPostgres(PostgresShop shop) : PhotosApiTests(shop), IClassFixture<PostgresShop>;
