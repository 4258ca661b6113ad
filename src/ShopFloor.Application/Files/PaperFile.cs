using ShopFloor.Documents.Images;
using ShopFloor.Domain.Common;

namespace ShopFloor.Application.Files;

/// <summary>A bill or certificate as somebody sends it: a PDF is kept as it is, a picture is written anew.</summary>
internal static class PaperFile
{
    /// <summary>10 MB.</summary>
    public const int MostBytes = 10 * 1024 * 1024;

    /// <param name="images">Writes pictures anew.</param>
    /// <param name="file">As it was sent.</param>
    /// <param name="what">As the sentences name it, e.g. <c>bill</c>.</param>
    /// <param name="ct">Gives up.</param>
    public static async Task<Outcome<(ReadOnlyMemory<byte> Content, string Type)>> ReadAsync(
        IImageProcessor images,
        ReadOnlyMemory<byte> file,
        string what,
        CancellationToken ct
    )
    {
        if (file.Length > MostBytes)
        {
            return new Failure.TooLarge($"A {what} has at most {MostBytes / 1024 / 1024} MB. Send a smaller one.");
        }

        if (PdfSniffer.IsPdf(file.Span))
        {
            return (file, PdfSniffer.ContentType);
        }

        if (PdfSniffer.BeginsLikePdf(file.Span))
        {
            return Failure.Field("file", "This PDF is cut off or damaged. Save it again and send it once more.");
        }

        var image = await images.ProcessAsync(file, "file", ct);
        return image.Failure is Failure.WrongType
            ? new Failure.WrongType($"Send the {what} as a PDF or as a JPEG, PNG or WebP picture.")
            : image.Then<(ReadOnlyMemory<byte>, string)>(i => (i.Picture, ProcessedImage.ContentType));
    }
}
