using ShopFloor.Domain.Common;

namespace ShopFloor.Documents.Images;

/// <summary>Turns an uploaded photo into a safe one: decoded and written anew, upright, without any metadata.</summary>
public interface IImageProcessor
{
    /// <summary>Reads a JPEG, PNG or WebP file and gives back a picture and a thumbnail, both JPEG.</summary>
    /// <param name="original">The uploaded bytes, at most <see cref="ImageLimits.MaxBytes"/>.</param>
    /// <param name="path">JSON path of the field that a sentence about the content belongs to.</param>
    /// <param name="ct">Stops before the next step of work.</param>
    /// <returns>
    /// <see cref="Failure.TooLarge"/> over the size limit, <see cref="Failure.WrongType"/> when the content is no such picture whatever its
    /// name says, <see cref="Failure.Invalid"/> when its dimensions are out of range or it is damaged.
    /// </returns>
    Task<Outcome<ProcessedImage>> ProcessAsync(
        ReadOnlyMemory<byte> original,
        string path = "file",
        CancellationToken ct = default
    );
}

/// <summary>What an upload may be, and how large the results are.</summary>
public static class ImageLimits
{
    /// <summary>15 MB.</summary>
    public const int MaxBytes = 15 * 1024 * 1024;

    /// <summary>Longest side in pixels that is decoded.</summary>
    public const int MaxSide = 16_000;

    /// <summary>Most pixels that are decoded: 50 million, which is 200 MB while one picture is open.</summary>
    public const long MaxPixels = 50_000_000;

    /// <summary>Longest side of the kept picture; larger ones are scaled down.</summary>
    public const int PictureSide = 3_200;

    /// <summary>Longest side of the thumbnail.</summary>
    public const int ThumbnailSide = 480;
}

/// <summary>The kinds of picture that are taken, told apart by content.</summary>
public enum ImageKind
{
    Jpeg,
    Png,
    WebP,
}

/// <summary>A photo as it is kept.</summary>
/// <param name="Picture">JPEG, upright, sRGB, without metadata.</param>
/// <param name="Width">Pixels of <paramref name="Picture"/>.</param>
/// <param name="Height">Pixels of <paramref name="Picture"/>.</param>
/// <param name="Thumbnail">JPEG, longest side at most <see cref="ImageLimits.ThumbnailSide"/>.</param>
/// <param name="ThumbnailWidth">Pixels of <paramref name="Thumbnail"/>.</param>
/// <param name="ThumbnailHeight">Pixels of <paramref name="Thumbnail"/>.</param>
/// <param name="OriginalKind">What was uploaded.</param>
/// <param name="OriginalSha256">SHA-256 of the uploaded bytes, 64 lower-case hexadecimal digits.</param>
/// <param name="CapturedAt">When the camera says it was taken; null when it does not say.</param>
public sealed record ProcessedImage(
    ReadOnlyMemory<byte> Picture,
    int Width,
    int Height,
    ReadOnlyMemory<byte> Thumbnail,
    int ThumbnailWidth,
    int ThumbnailHeight,
    ImageKind OriginalKind,
    string OriginalSha256,
    CaptureTime? CapturedAt
)
{
    /// <summary>Content type of picture and thumbnail.</summary>
    public const string ContentType = "image/jpeg";
}

/// <summary>The camera's clock when it took the photo; many cameras do not say in which zone.</summary>
/// <param name="Local">Date and time as the camera shows it, to the second.</param>
/// <param name="Offset">From UTC; null when the camera does not say.</param>
public sealed record CaptureTime(DateTime Local, TimeSpan? Offset)
{
    /// <summary>The instant, in UTC; a time without offset is read in <paramref name="zone"/>, usually the shop's.</summary>
    public DateTimeOffset ToInstant(TimeZoneInfo zone)
    {
        ArgumentNullException.ThrowIfNull(zone);
        // A time that the zone skips in spring counts with the offset before the change.
        var offset = Offset ?? zone.GetUtcOffset(Local);
        return new DateTimeOffset(Local, offset).ToUniversalTime();
    }
}
