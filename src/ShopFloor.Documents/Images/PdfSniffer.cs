namespace ShopFloor.Documents.Images;

/// <summary>Tells a PDF by its content, whatever its name says.</summary>
/// <remarks>ISO 32000-1, 7.5.2 and 7.5.5 (from memory): the file begins with <c>%PDF-</c> and its last line is <c>%%EOF</c>; readers look for it within the last 1,024 bytes.</remarks>
public static class PdfSniffer
{
    public const string ContentType = "application/pdf";

    private const int Tail = 1024;

    public static bool BeginsLikePdf(ReadOnlySpan<byte> content) => content.StartsWith("%PDF-"u8);

    /// <summary>Begins and ends like one.</summary>
    public static bool IsPdf(ReadOnlySpan<byte> content) =>
        BeginsLikePdf(content) && content[Math.Max(0, content.Length - Tail)..].IndexOf("%%EOF"u8) >= 0;
}
