using System.Globalization;
using PdfSharp.Drawing;
using ShopFloor.Documents.Papers.Layout;
using ShopFloor.Documents.Papers.Models;

namespace ShopFloor.Documents.Papers.Writers;

/// <summary>Two labels beside each other, 86 × 36 mm, with lines to cut along.</summary>
internal static class PartLabelsWriter
{
    private const int Columns = 2;
    private static readonly double Height = Sheet.Mm(36);
    private static readonly double Code = Sheet.Mm(27);
    private static readonly XPen Cut = new(XColors.Gray, 0.4);

    public static byte[] Write(PartLabelsPaper paper, PaperSettings settings)
    {
        using var sheet = new Sheet(settings, new SheetTitle(paper.Shop.Name, "Part labels", paper.JobNumber));
        sheet.PrintAtFullSize();
        if (paper.Labels.Count == 0)
        {
            sheet.Paragraph("Nothing is out of this car.", TextStyle.Body);
        }

        var width = sheet.Width / Columns;
        foreach (var row in paper.Labels.Chunk(Columns))
        {
            sheet.Ensure(Height);
            for (var i = 0; i < row.Length; i++)
            {
                Draw(sheet, paper, row[i], sheet.Left + (i * width), width);
            }

            sheet.Y += Height;
        }

        return sheet.Finish();
    }

    private static void Draw(Sheet sheet, PartLabelsPaper paper, PartLabel label, double x, double width)
    {
        var (top, inset) = (sheet.Y, Sheet.Mm(2));
        sheet.Graphics.DrawRectangle(Cut, new XRect(x, top, width, Height));
        Blocks.Qr(sheet, label.Url, x + inset, top + inset, Code);
        var (left, room) = (x + Code + (2 * inset), width - Code - (3 * inset));
        var y = top + inset;
        y += sheet.DrawText(label.Code, TextStyle.Strong, left, y, room);
        y += sheet.DrawText(Short(label.What), TextStyle.Strong, left, y, room);
        y += sheet.DrawText("from " + Short(label.TakenFrom), TextStyle.Small, left, y, room);
        y += sheet.DrawText(
            string.Create(CultureInfo.InvariantCulture, $"Fasteners: {label.Fasteners}"),
            TextStyle.Small,
            left,
            y,
            room
        );
        y += sheet.DrawText("In: " + Short(label.Place), TextStyle.Small, left, y, room);
        sheet.DrawText(Short(paper.Car), TextStyle.Small, left, y, room);
    }

    /// <summary>What fits on a label in two lines.</summary>
    private static string Short(string text) => text.Length <= 44 ? text : text[..43] + "…";
}
