namespace ShopFloor.Documents.Images;

/// <summary>Tells a picture's kind by its first bytes; names and content types that a browser sends are not believed.</summary>
internal static class ImageSniffer
{
    /// <summary>Null when it is none of the kinds taken.</summary>
    public static ImageKind? Sniff(ReadOnlySpan<byte> data)
    {
        // JPEG: start-of-image marker and the next marker's first byte (ITU-T T.81). PNG: its signature (W3C PNG, section 5.2).
        // WebP: RIFF container of form WEBP (RFC 9649).
        if (data.StartsWith((ReadOnlySpan<byte>)[0xFF, 0xD8, 0xFF]))
        {
            return ImageKind.Jpeg;
        }

        if (data.StartsWith(PngSignature))
        {
            return ImageKind.Png;
        }

        return data.Length >= 12 && data[..4].SequenceEqual("RIFF"u8) && data[8..12].SequenceEqual("WEBP"u8)
            ? ImageKind.WebP
            : null;
    }

    private static ReadOnlySpan<byte> PngSignature => [0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A];
}
