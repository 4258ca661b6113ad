using System.Security.Cryptography;
using System.Text;
using ShopFloor.Documents.Images;
using ShopFloor.Domain.Common;
using SkiaSharp;
using Xunit;

namespace ShopFloor.Documents.Tests.Images;

public sealed class ImageProcessorTests : IDisposable
{
    private readonly SkiaImageProcessor processor = new();

    public void Dispose() => processor.Dispose();

    [Theory]
    [InlineData(SKEncodedImageFormat.Jpeg, ImageKind.Jpeg)]
    [InlineData(SKEncodedImageFormat.Png, ImageKind.Png)]
    [InlineData(SKEncodedImageFormat.Webp, ImageKind.WebP)]
    public async Task Each_kind_of_picture_becomes_a_jpeg_with_a_thumbnail(SKEncodedImageFormat format, ImageKind kind)
    {
        var original = TestPictures.Encoded(1200, 800, format);

        var photo = (await Process(original)).Value;

        Assert.Equal(kind, photo.OriginalKind);
        Assert.Equal((1200, 800), (photo.Width, photo.Height));
        Assert.Equal((480, 320), (photo.ThumbnailWidth, photo.ThumbnailHeight));
        using var picture = SKBitmap.Decode(photo.Picture.Span);
        using var thumbnail = SKBitmap.Decode(photo.Thumbnail.Span);
        Assert.Equal((1200, 800), (picture.Width, picture.Height));
        Assert.Equal((480, 320), (thumbnail.Width, thumbnail.Height));
        Assert.Equal(Convert.ToHexStringLower(SHA256.HashData(original)), photo.OriginalSha256);
        AssertColour(picture, 0.25, 0.75, SKColors.Red);
        AssertColour(picture, 0.75, 0.25, SKColors.Blue);
        AssertColour(picture, 0.25, 0.25, SKColors.Lime);
    }

    // Where the green corner (stored top left) must be seen, after the Exif 2.32 table of orientations.
    [Theory]
    [InlineData(1, 0.25, 0.25, 90, 60)]
    [InlineData(2, 0.75, 0.25, 90, 60)]
    [InlineData(3, 0.75, 0.75, 90, 60)]
    [InlineData(4, 0.25, 0.75, 90, 60)]
    [InlineData(5, 0.25, 0.25, 60, 90)]
    [InlineData(6, 0.75, 0.25, 60, 90)]
    [InlineData(7, 0.75, 0.75, 60, 90)]
    [InlineData(8, 0.25, 0.75, 60, 90)]
    public async Task A_turned_photo_is_kept_upright(int orientation, double x, double y, int width, int height)
    {
        var jpeg = TestPictures.Encoded(90, 60, SKEncodedImageFormat.Jpeg);
        var original = TestPictures.JpegWithExif(jpeg, TestPictures.Exif(orientation, null, null));

        var photo = (await Process(original)).Value;

        Assert.Equal((width, height), (photo.Width, photo.Height));
        using var picture = SKBitmap.Decode(photo.Picture.Span);
        AssertColour(picture, x, y, SKColors.Lime);
        // The quarter beside the green one, along the stored bottom edge, is red.
        var (redX, redY) = orientation switch
        {
            1 or 2 => (x, 0.75),
            3 or 4 => (x, 0.25),
            5 or 8 => (0.75, y),
            _ => (0.25, y),
        };
        AssertColour(picture, redX, redY, SKColors.Red);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task Capture_time_is_read_before_the_metadata_is_dropped(bool littleEndian)
    {
        var jpeg = TestPictures.Encoded(60, 40, SKEncodedImageFormat.Jpeg);
        var exif = TestPictures.Exif(1, "2026:09:14 08:03:59", "+02:00", littleEndian);

        var photo = (await Process(TestPictures.JpegWithExif(jpeg, exif))).Value;

        Assert.Equal(new CaptureTime(new DateTime(2026, 9, 14, 8, 3, 59), TimeSpan.FromHours(2)), photo.CapturedAt);
        Assert.DoesNotContain("2026:09:14", Encoding.Latin1.GetString(photo.Picture.Span), StringComparison.Ordinal);
        Assert.Equal(["FFE0"], ApplicationSegments(photo.Picture.Span));
        Assert.Equal(["FFE0"], ApplicationSegments(photo.Thumbnail.Span));
    }

    [Fact]
    public async Task Capture_time_without_offset_is_read_in_the_shops_zone()
    {
        var png = TestPictures.Encoded(60, 40, SKEncodedImageFormat.Png);
        var exif = TestPictures.Exif(1, "2026:01:14 08:03:59", null);

        var photo = (await Process(TestPictures.PngWithExif(png, exif))).Value;

        var zone = TimeZoneInfo.CreateCustomTimeZone("shop", TimeSpan.FromHours(-5), "shop", "shop");
        Assert.Equal(new DateTimeOffset(2026, 1, 14, 13, 3, 59, TimeSpan.Zero), photo.CapturedAt!.ToInstant(zone));
    }

    [Theory]
    [InlineData("0000:00:00 00:00:00")]
    [InlineData("1970:01:01 00:00:00")]
    [InlineData("2026-09-14 08:03:59")]
    [InlineData("yesterday")]
    public async Task A_senseless_capture_time_counts_as_not_said(string taken)
    {
        var jpeg = TestPictures.Encoded(60, 40, SKEncodedImageFormat.Jpeg);

        var photo = (await Process(TestPictures.JpegWithExif(jpeg, TestPictures.Exif(1, taken, null)))).Value;

        Assert.Null(photo.CapturedAt);
    }

    [Fact]
    public async Task A_text_file_named_as_a_picture_is_refused_by_its_content()
    {
        var failure = (await Process("I am a text, not a photo."u8.ToArray())).Failure;

        Assert.Contains(
            "not a JPEG, PNG or WebP",
            Assert.IsType<Failure.WrongType>(failure).Text,
            StringComparison.Ordinal
        );
    }

    [Theory]
    [InlineData("GIF89a\u0001\0\u0001\0")]
    [InlineData("<svg xmlns=\"http://www.w3.org/2000/svg\"/>")]
    [InlineData("%PDF-1.7")]
    [InlineData("RIFF\u0004\0\0\0WAVE")]
    public async Task Other_kinds_of_file_are_refused(string content)
    {
        Assert.IsType<Failure.WrongType>((await Process(Encoding.Latin1.GetBytes(content))).Failure);
    }

    [Theory]
    [InlineData(60_000u, 60_000u)]
    [InlineData(16_001u, 10u)]
    [InlineData(10_000u, 5_001u)]
    public async Task A_picture_of_absurd_size_is_refused_before_it_is_decoded(uint width, uint height)
    {
        var failure = (await Process(TestPictures.PngHead(width, height), "photo")).Failure;

        var error = Assert.Single(Assert.IsType<Failure.Invalid>(failure).Errors);
        Assert.Equal("photo", error.Path);
        Assert.Contains($"{width} x {height} pixels", error.Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_picture_cut_off_in_the_middle_is_refused()
    {
        var whole = TestPictures.Encoded(800, 600, SKEncodedImageFormat.Png);

        var failure = (await Process(whole[..(whole.Length / 2)])).Failure;

        Assert.Contains("damaged", Assert.IsType<Failure.Invalid>(failure).Errors[0].Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_file_over_the_size_limit_is_too_large_and_one_byte_less_is_looked_at()
    {
        var tooLong = new byte[ImageLimits.MaxBytes + 1];

        Assert.IsType<Failure.TooLarge>((await Process(tooLong)).Failure);
        Assert.IsType<Failure.WrongType>((await Process(tooLong[..ImageLimits.MaxBytes])).Failure);
    }

    [Theory]
    [InlineData(SKEncodedImageFormat.Jpeg)]
    [InlineData(SKEncodedImageFormat.Png)]
    [InlineData(SKEncodedImageFormat.Webp)]
    public async Task A_large_photo_is_scaled_down_and_keeps_its_shape(SKEncodedImageFormat format)
    {
        var photo = (await Process(TestPictures.Encoded(6400, 3000, format))).Value;

        Assert.Equal((3200, 1500), (photo.Width, photo.Height));
        using var picture = SKBitmap.Decode(photo.Picture.Span);
        AssertColour(picture, 0.75, 0.75, SKColors.Blue);
    }

    [Fact]
    public async Task A_see_through_picture_is_laid_on_white()
    {
        using var bitmap = new SKBitmap(20, 20);
        bitmap.Erase(SKColors.Transparent);
        using var image = SKImage.FromBitmap(bitmap);
        using var png = image.Encode(SKEncodedImageFormat.Png, 100);

        var photo = (await Process(png.ToArray())).Value;

        using var picture = SKBitmap.Decode(photo.Picture.Span);
        AssertColour(picture, 0.5, 0.5, SKColors.White);
    }

    [Fact]
    public async Task Damaged_exif_never_stops_a_good_photo()
    {
        var jpeg = TestPictures.Encoded(60, 40, SKEncodedImageFormat.Jpeg);
        var exif = TestPictures.Exif(6, "2026:09:14 08:03:59", "+02:00");
        var random = new Random(4711);
        for (var i = 0; i < 300; i++)
        {
            var broken = (byte[])exif.Clone();
            for (var n = 0; n < 6; n++)
            {
                broken[random.Next(broken.Length)] = (byte)random.Next(256);
            }

            var cut = broken[..random.Next(broken.Length)];
            Assert.True((await Process(TestPictures.JpegWithExif(jpeg, cut))).IsSuccess);
        }
    }

    private Task<Outcome<ProcessedImage>> Process(byte[] original, string path = "file") =>
        processor.ProcessAsync(original, path, TestContext.Current.CancellationToken);

    private static void AssertColour(SKBitmap bitmap, double x, double y, SKColor expected)
    {
        var pixel = bitmap.GetPixel((int)(bitmap.Width * x), (int)(bitmap.Height * y));
        var distance =
            Math.Abs(pixel.Red - expected.Red)
            + Math.Abs(pixel.Green - expected.Green)
            + Math.Abs(pixel.Blue - expected.Blue);
        Assert.True(distance < 30, $"{pixel} is not {expected} at {x}, {y}.");
    }

    /// <summary>Markers APP0 to APP15 before the scan: APP0 is the plain JFIF head, all others would carry metadata.</summary>
    private static List<string> ApplicationSegments(ReadOnlySpan<byte> jpeg)
    {
        var found = new List<string>();
        for (var at = 2; jpeg[at] == 0xFF && jpeg[at + 1] != 0xDA; )
        {
            if (jpeg[at + 1] is >= 0xE0 and <= 0xEF or 0xFE)
            {
                found.Add(Convert.ToHexString(jpeg.Slice(at, 2)));
            }

            at += 2 + (jpeg[at + 2] * 256) + jpeg[at + 3];
        }

        return found;
    }
}
