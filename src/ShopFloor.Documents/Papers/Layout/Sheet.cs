using System.Globalization;
using PdfSharp.Drawing;
using PdfSharp.Pdf;
using ShopFloor.Documents.Papers.Models;

namespace ShopFloor.Documents.Papers.Layout;

/// <summary>What every page of a paper says at its head and foot.</summary>
/// <param name="Kind">E.g. <c>Invoice</c>.</param>
/// <param name="Mark">A word that must not be missed on any page, e.g. <c>DRAFT</c>; null for none.</param>
internal sealed record SheetTitle(string ShopName, string Kind, string Number, string? Mark = null);

/// <summary>A PDF being written from top to bottom; lengths are points (1/72 in), y grows downwards.</summary>
internal sealed class Sheet : IDisposable
{
    private static readonly XPen Rule = new(XColor.FromArgb(0x80, 0x80, 0x80), 0.6);
    private readonly PdfDocument document = new();
    private readonly PaperSettings settings;
    private readonly SheetTitle title;
    private XGraphics? graphics;

    public Sheet(PaperSettings settings, SheetTitle title)
    {
        this.settings = settings;
        this.title = title;
        Culture = settings.Culture;
        var (width, height) = settings.Size == PaperSize.A4 ? (210.0, 297.0) : (215.9, 279.4);
        (PageWidth, PageHeight) = (Mm(width), Mm(height));
        document.Info.Title = Printable.Text($"{title.Kind} {title.Number} · {title.ShopName}");
        document.Info.Author = Printable.Text(title.ShopName);
        document.Info.CreationDate = settings.MadeAt.DateTime;
        // The words are English whatever the culture of the numbers.
        document.Language =
            Culture.TwoLetterISOLanguageName == "en" && Culture.Name.Length > 0 ? Culture.Name : "en-GB";
        document.ViewerPreferences.DisplayDocTitle = true;
        NewPage();
    }

    /// <summary>How numbers are written.</summary>
    public CultureInfo Culture { get; }

    public double PageWidth { get; }

    public double PageHeight { get; }

    public double Left { get; } = Mm(17);

    public double Right => PageWidth - Mm(15);

    public double Width => Right - Left;

    public double Top { get; } = Mm(17);

    public double Bottom => PageHeight - Mm(17);

    /// <summary>Where the next thing goes.</summary>
    public double Y { get; set; }

    public XGraphics Graphics => graphics ?? throw new InvalidOperationException("The sheet is finished.");

    public static double Mm(double millimetres) => millimetres * 72 / 25.4;

    public static string Day(DateOnly day) => day.ToString("d MMMM yyyy", CultureInfo.InvariantCulture);

    public static string Time(DateTimeOffset at) => at.ToString("d MMM yyyy, HH:mm", CultureInfo.InvariantCulture);

    /// <summary>Asks viewers to print at full size: for papers that carry a true scale.</summary>
    public void PrintAtFullSize() => document.ViewerPreferences.Elements.SetName("/PrintScaling", "/None");

    public void NewPage()
    {
        graphics?.Dispose();
        var page = document.AddPage();
        page.Width = XUnit.FromPoint(PageWidth);
        page.Height = XUnit.FromPoint(PageHeight);
        graphics = XGraphics.FromPdfPage(page);
        Y = Top;
    }

    /// <summary>Starts a new page unless this much height is left on the current one.</summary>
    public void Ensure(double height)
    {
        if (Y + height > Bottom && Y > Top)
        {
            NewPage();
        }
    }

    public void Space(double millimetres) => Y += Mm(millimetres);

    public void Line()
    {
        Graphics.DrawLine(Rule, Left, Y, Right, Y);
        Y += Mm(2);
    }

    /// <summary>Keeps at least a few lines of what follows on the same page.</summary>
    public void Heading(string text)
    {
        Y += Mm(3);
        Ensure(TextStyle.Heading.LineHeight + Mm(14));
        Y += DrawText(text, TextStyle.Heading, Left, Y, Width) + Mm(1);
    }

    /// <summary>Flows over page ends.</summary>
    public void Paragraph(string text, TextStyle style, double indent = 0)
    {
        foreach (var line in TextFlow.Wrap(Graphics, text, style.Font, Width - indent))
        {
            Ensure(style.LineHeight);
            DrawLine(line, style, Left + indent, Y, Width - indent, Align.Left);
            Y += style.LineHeight;
        }
    }

    /// <summary>A paragraph behind a sign such as a dash or a tick box.</summary>
    public void Item(string sign, string text, TextStyle style)
    {
        Ensure(style.LineHeight * 2);
        DrawLine(sign, style, Left, Y, Mm(6), Align.Left);
        Paragraph(text, style, Mm(5));
        Y += Mm(0.6);
    }

    /// <summary>Draws wrapped text at a place, without page breaks, and gives back its height.</summary>
    public double DrawText(string text, TextStyle style, double x, double y, double width, Align align = Align.Left)
    {
        var height = 0.0;
        foreach (var line in TextFlow.Wrap(Graphics, text, style.Font, width))
        {
            DrawLine(line, style, x, y + height, width, align);
            height += style.LineHeight;
        }

        return height;
    }

    /// <summary>Draws one line that is known to fit.</summary>
    public void DrawLine(string line, TextStyle style, double x, double y, double width, Align align) =>
        DrawLine(Graphics, line, style, x, y, width, align);

    public byte[] Finish()
    {
        Graphics.Dispose();
        graphics = null;
        for (var index = 0; index < document.PageCount; index++)
        {
            using var g = XGraphics.FromPdfPage(document.Pages[index], XGraphicsPdfPageOptions.Append);
            HeadAndFoot(g, index);
        }

        using var stream = new MemoryStream();
        document.Save(stream, false);
        return stream.ToArray();
    }

    public void Dispose()
    {
        graphics?.Dispose();
        document.Dispose();
    }

    private static void DrawLine(
        XGraphics g,
        string line,
        TextStyle style,
        double x,
        double y,
        double width,
        Align align
    )
    {
        if (line.Length == 0)
        {
            return;
        }

        var free = align == Align.Left ? 0 : width - g.MeasureString(line, style.Font).Width;
        var start = align == Align.Centre ? x + (free / 2) : x + free;
        // DejaVu's letters stand on about 0.8 of the line.
        g.DrawString(line, style.Font, style.Ink, start, y + (style.LineHeight * 0.8));
    }

    private void HeadAndFoot(XGraphics g, int index)
    {
        var small = TextStyle.Small;
        var headY = Mm(8);
        if (title.Mark is { } mark)
        {
            DrawLine(g, mark, TextStyle.Large, Left, headY - 3, Width, Align.Centre);
        }

        if (index > 0)
        {
            DrawLine(g, Printable.Text(title.ShopName), small, Left, headY, Width, Align.Left);
            DrawLine(g, Printable.Text($"{title.Kind} {title.Number}"), small, Left, headY, Width, Align.Right);
            g.DrawLine(Rule, Left, headY + Mm(4), Right, headY + Mm(4));
        }

        var footY = PageHeight - Mm(12);
        g.DrawLine(Rule, Left, footY - Mm(1), Right, footY - Mm(1));
        var made = $"{title.Number} · made {Time(settings.MadeAt)}";
        DrawLine(g, Printable.Text(made), small, Left, footY, Width, Align.Left);
        var pages = string.Create(CultureInfo.InvariantCulture, $"Page {index + 1} of {document.PageCount}");
        DrawLine(g, pages, small, Left, footY, Width, Align.Right);
    }
}
