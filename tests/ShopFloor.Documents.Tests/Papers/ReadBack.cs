using PdfSharpReader = UglyToad.PdfPig.PdfDocument;

namespace ShopFloor.Documents.Tests.Papers;

/// <summary>A paper as an independent reader sees it.</summary>
internal sealed class ReadBack : IDisposable
{
    private readonly PdfSharpReader document;

    public ReadBack(byte[] pdf)
    {
        document = PdfSharpReader.Open(pdf);
        Raw = System.Text.Encoding.Latin1.GetString(pdf);
    }

    /// <summary>The file's bytes as text: names in the catalogue are found in it.</summary>
    public string Raw { get; }

    public int PageCount => document.NumberOfPages;

    public string Title => document.Information.Title ?? "";

    /// <summary>All words of all pages in reading order, one space between.</summary>
    public string Text => string.Join(' ', Pages.SelectMany(p => p.GetWords()).Select(w => w.Text));

    public IEnumerable<UglyToad.PdfPig.Content.Page> Pages => document.GetPages();

    public string PageText(int number) => string.Join(' ', document.GetPage(number).GetWords().Select(w => w.Text));

    public bool HasMissingGlyph => Pages.Any(p => p.Text.Contains('\0', StringComparison.Ordinal));

    public void Dispose() => document.Dispose();
}
