using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.History;
using ShopFloor.Data;
using ShopFloor.Data.Files;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Fixtures;
using ShopFloor.Web.Tests.Quotes;
using SkiaSharp;

namespace ShopFloor.Web.Tests.Intake;

/// <summary>Pictures lie in a folder or in the database; in both, what was changed behind the program's back is told.</summary>
public abstract class StoredPicturesTests(ShopHost shop)
{
    [Fact]
    public async Task A_picture_that_was_changed_or_lost_is_told_by_verify()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var (job, _, _) = await IntakeStory.OpenJobAsync(desk);
        var first = await desk.UploadAsync($"/api/v1/jobs/{job}/photos", IntakeStory.Jpeg);
        Assert.Empty(await VerifyAsync());

        var hash = await HashOfAsync(first.Text("id"));
        await shop.FlipBitAsync(hash);

        Assert.Contains(await VerifyAsync(), d => d.Contains(hash, StringComparison.Ordinal));
    }

    [Fact]
    public async Task The_same_picture_is_stored_once_and_stays_while_one_photo_shows_it()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var (job, _, _) = await IntakeStory.OpenJobAsync(desk);
        var file = Documents.Tests.Images.TestPictures.Encoded(320, 200, SKEncodedImageFormat.Jpeg);
        var first = (await desk.UploadAsync($"/api/v1/jobs/{job}/photos", file)).Text("id");
        var second = (await desk.UploadAsync($"/api/v1/jobs/{job}/photos", file)).Text("id");
        Assert.Equal(await HashOfAsync(first), await HashOfAsync(second));

        await desk.RemoveAsync($"/api/v1/photos/{first}");

        using var kept = await desk.GetAsync(
            new Uri($"/api/v1/photos/{second}/picture", UriKind.Relative),
            TestContext.Current.CancellationToken
        );
        Assert.True(kept.IsSuccessStatusCode);
    }

    [Fact]
    public async Task A_picture_larger_than_a_chunk_comes_back_whole()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var (job, _, _) = await IntakeStory.OpenJobAsync(desk);
        var photo = (await desk.UploadAsync($"/api/v1/jobs/{job}/photos", Noise(1600, 1200))).Text("id");

        using var picture = await desk.GetAsync(
            new Uri($"/api/v1/photos/{photo}/picture", UriKind.Relative),
            TestContext.Current.CancellationToken
        );

        var bytes = await picture.Content.ReadAsByteArrayAsync(TestContext.Current.CancellationToken);
        Assert.True(bytes.Length > 2 * FileChunkRow.Size, $"{bytes.Length}");
        using var decoded = SKBitmap.Decode(bytes);
        Assert.Equal((1600, 1200), (decoded.Width, decoded.Height));
    }

    /// <summary>A picture that does not compress, from a fixed seed.</summary>
    private static byte[] Noise(int width, int height)
    {
        var random = new Random(1);
        using var bitmap = new SKBitmap(width, height, SKColorType.Rgba8888, SKAlphaType.Opaque);
        random.NextBytes(bitmap.GetPixelSpan());
        using var image = SKImage.FromBitmap(bitmap);
        using var data = image.Encode(SKEncodedImageFormat.Jpeg, 90);
        return data.ToArray();
    }

    private Task<IReadOnlyList<string>> VerifyAsync() =>
        shop.WithAsync<VerifyHistory, IReadOnlyList<string>>(v => v.RunAsync(CancellationToken.None));

    private Task<string> HashOfAsync(string photo) =>
        shop.WithAsync<IDbContextFactory<ShopDbContext>, string>(async contexts =>
        {
            await using var db = await contexts.CreateDbContextAsync();
            var id = new PhotoId(Guid.Parse(photo));
            return (await db.Set<Domain.Intake.Photo>().SingleAsync(p => p.Id == id)).StoredHash;
        });
}

public sealed class StoredPicturesOnSqlite(SqliteShop shop) : StoredPicturesTests(shop), IClassFixture<SqliteShop>;

public sealed class StoredPicturesOnPostgres(PostgresShop shop)
    : StoredPicturesTests(shop),
        IClassFixture<PostgresShop>;
