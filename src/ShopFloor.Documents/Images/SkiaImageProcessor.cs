using System.Globalization;
using System.Security.Cryptography;
using ShopFloor.Domain.Common;
using SkiaSharp;

namespace ShopFloor.Documents.Images;

/// <summary><see cref="IImageProcessor"/> on SkiaSharp. One instance serves the whole process, so that its gate bounds the memory in use.</summary>
public sealed class SkiaImageProcessor : IImageProcessor, IDisposable
{
    private const int PictureQuality = 88;
    private const int ThumbnailQuality = 80;

    // Two open pictures are at most 400 MB of pixels; the next ones wait.
    private readonly SemaphoreSlim gate = new(2);

    public async Task<Outcome<ProcessedImage>> ProcessAsync(
        ReadOnlyMemory<byte> original,
        string path = "file",
        CancellationToken ct = default
    )
    {
        if (original.Length > ImageLimits.MaxBytes)
        {
            return new Failure.TooLarge(
                "The photo is larger than 15 MB. Send it smaller: a phone's normal photo setting is enough."
            );
        }

        if (original.IsEmpty)
        {
            return Failure.Field(path, "The photo is empty. Choose the file again.");
        }

        if (ImageSniffer.Sniff(original.Span) is not { } kind)
        {
            return new Failure.WrongType(
                "This file is not a JPEG, PNG or WebP picture, whatever its name says. Take or choose a photo of one of these kinds."
            );
        }

        await gate.WaitAsync(ct);
        try
        {
            return await Task.Run(() => Process(original, kind, path, ct), ct);
        }
        finally
        {
            gate.Release();
        }
    }

    public void Dispose() => gate.Dispose();

    private static Outcome<ProcessedImage> Process(
        ReadOnlyMemory<byte> original,
        ImageKind kind,
        string path,
        CancellationToken ct
    )
    {
        using var data = SKData.CreateCopy(original.Span);
        using var codec = SKCodec.Create(data);
        if (codec is null || codec.EncodedFormat != Encoded(kind))
        {
            return Damaged(path);
        }

        // Only the header has been read so far: nothing of this size has been allocated.
        var (width, height) = (codec.Info.Width, codec.Info.Height);
        if (
            width < 1
            || height < 1
            || Math.Max(width, height) > ImageLimits.MaxSide
            || (long)width * height > ImageLimits.MaxPixels
        )
        {
            var size = string.Create(CultureInfo.InvariantCulture, $"{width} x {height}");
            return Failure.Field(
                path,
                $"The picture has {size} pixels; at most {ImageLimits.MaxSide} on a side and 50 million in all are taken. Send a smaller one."
            );
        }

        var facts = ExifFacts.Read(ExifBlock.Find(original.Span, kind));
        using var decoded = Decode(codec);
        if (decoded is null)
        {
            return Damaged(path);
        }

        ct.ThrowIfCancellationRequested();
        using var picture = Upright(decoded, (width, height), facts.Orientation, ImageLimits.PictureSide);
        ct.ThrowIfCancellationRequested();
        using var thumbnail = Upright(picture, (picture.Width, picture.Height), 1, ImageLimits.ThumbnailSide);
        return new ProcessedImage(
            Jpeg(picture, PictureQuality),
            picture.Width,
            picture.Height,
            Jpeg(thumbnail, ThumbnailQuality),
            thumbnail.Width,
            thumbnail.Height,
            kind,
            Convert.ToHexStringLower(SHA256.HashData(original.Span)),
            facts.CapturedAt
        );
    }

    /// <summary>Decodes into 8-bit sRGB; JPEG and WebP are scaled down while decoding where that still leaves enough pixels. Null when damaged.</summary>
    private static SKBitmap? Decode(SKCodec codec)
    {
        var longest = Math.Max(codec.Info.Width, codec.Info.Height);
        var size = codec.Info.Size;
        if (longest > ImageLimits.PictureSide)
        {
            var scaled = codec.GetScaledDimensions((float)ImageLimits.PictureSide / longest);
            // The codec may offer less than was asked for; then the full size is taken and scaled afterwards.
            size = Math.Max(scaled.Width, scaled.Height) >= ImageLimits.PictureSide ? scaled : size;
        }

        using var srgb = SKColorSpace.CreateSrgb();
        var info = new SKImageInfo(size.Width, size.Height, SKColorType.Rgba8888, SKAlphaType.Premul, srgb);
        var bitmap = new SKBitmap(info);
        if (codec.GetPixels(info, bitmap.GetPixels()) == SKCodecResult.Success)
        {
            return bitmap;
        }

        bitmap.Dispose();
        return null;
    }

    /// <summary>Draws the picture turned upright, on white, with its longest side at most <paramref name="longest"/>.</summary>
    private static SKBitmap Upright(SKBitmap source, (int Width, int Height) full, int orientation, int longest)
    {
        var isTurned = orientation >= 5;
        var (fullWidth, fullHeight) = isTurned ? (full.Height, full.Width) : full;
        var scale = Math.Min(1.0, (double)longest / Math.Max(fullWidth, fullHeight));
        var width = Math.Max(1, (int)Math.Round(fullWidth * scale));
        var height = Math.Max(1, (int)Math.Round(fullHeight * scale));
        // Without a colour space the encoder writes no profile: the pixels are sRGB, which is what a picture without profile means.
        var target = new SKBitmap(new SKImageInfo(width, height, SKColorType.Rgba8888, SKAlphaType.Opaque));
        using var canvas = new SKCanvas(target);
        canvas.Clear(SKColors.White);
        canvas.Concat(Orient(orientation, width, height));
        var (drawnWidth, drawnHeight) = isTurned ? (height, width) : (width, height);
        // Marked as unchanging, the pixels are shared instead of copied.
        source.SetImmutable();
        using var image = SKImage.FromBitmap(source);
        canvas.DrawImage(
            image,
            SKRect.Create(drawnWidth, drawnHeight),
            new SKSamplingOptions(SKFilterMode.Linear, SKMipmapMode.Linear)
        );
        canvas.Flush();
        return target;
    }

    /// <summary>Maps the stored picture onto the upright one of the given size; the eight cases of the Exif orientation tag.</summary>
    private static SKMatrix Orient(int orientation, int width, int height) =>
        orientation switch
        {
            2 => new SKMatrix(-1, 0, width, 0, 1, 0, 0, 0, 1),
            3 => new SKMatrix(-1, 0, width, 0, -1, height, 0, 0, 1),
            4 => new SKMatrix(1, 0, 0, 0, -1, height, 0, 0, 1),
            5 => new SKMatrix(0, 1, 0, 1, 0, 0, 0, 0, 1),
            6 => new SKMatrix(0, -1, width, 1, 0, 0, 0, 0, 1),
            7 => new SKMatrix(0, -1, width, -1, 0, height, 0, 0, 1),
            8 => new SKMatrix(0, 1, 0, -1, 0, height, 0, 0, 1),
            _ => SKMatrix.Identity,
        };

    private static byte[] Jpeg(SKBitmap bitmap, int quality)
    {
        using var image = SKImage.FromBitmap(bitmap);
        using var data = image.Encode(SKEncodedImageFormat.Jpeg, quality);
        return data.ToArray();
    }

    private static SKEncodedImageFormat Encoded(ImageKind kind) =>
        kind switch
        {
            ImageKind.Jpeg => SKEncodedImageFormat.Jpeg,
            ImageKind.Png => SKEncodedImageFormat.Png,
            _ => SKEncodedImageFormat.Webp,
        };

    private static Failure Damaged(string path) =>
        Failure.Field(path, "The picture is damaged or incomplete. Take it again, or send it once more.");
}
