using PdfSharp.Drawing;
using ShopFloor.Documents.Papers.Layout;
using ShopFloor.Documents.Papers.Models;

namespace ShopFloor.Documents.Papers.Writers;

/// <summary>A label as it is drawn.</summary>
/// <param name="Url">Opened by its QR code.</param>
/// <param name="Strong">Lines in bold.</param>
/// <param name="Small">Lines beneath them.</param>
internal sealed record LabelText(string Url, IReadOnlyList<string> Strong, IReadOnlyList<string> Small);

/// <summary>Two labels beside each other, 86 × 36 mm, with lines to cut along.</summary>
internal static class LabelSheet
{
    private const int Columns = 2;
    private static readonly double Height = Sheet.Mm(36);
    private static readonly double Code = Sheet.Mm(27);
    private static readonly XPen Cut = new(XColors.Gray, 0.4);

    /// <param name="none">Said where there are no labels.</param>
    public static byte[] Write(SheetTitle title, string none, IEnumerable<LabelText> labels, PaperSettings settings)
    {
        using var sheet = new Sheet(settings, title);
        sheet.PrintAtFullSize();
        var (width, isEmpty) = (sheet.Width / Columns, true);
        foreach (var row in labels.Chunk(Columns))
        {
            isEmpty = false;
            sheet.Ensure(Height);
            for (var i = 0; i < row.Length; i++)
            {
                Draw(sheet, row[i], sheet.Left + (i * width), width);
            }

            sheet.Y += Height;
        }

        if (isEmpty)
        {
            sheet.Paragraph(none, TextStyle.Body);
        }

        return sheet.Finish();
    }

    private static void Draw(Sheet sheet, LabelText label, double x, double width)
    {
        var (top, inset) = (sheet.Y, Sheet.Mm(2));
        sheet.Graphics.DrawRectangle(Cut, new XRect(x, top, width, Height));
        Blocks.Qr(sheet, label.Url, x + inset, top + inset, Code);
        var (left, room) = (x + Code + (2 * inset), width - Code - (3 * inset));
        var y = top + inset;
        foreach (var line in label.Strong)
        {
            y += sheet.DrawText(Short(line), TextStyle.Strong, left, y, room);
        }

        foreach (var line in label.Small)
        {
            y += sheet.DrawText(Short(line), TextStyle.Small, left, y, room);
        }
    }

    /// <summary>What fits on a label in two lines.</summary>
    private static string Short(string text) => text.Length <= 44 ? text : text[..43] + "…";
}
