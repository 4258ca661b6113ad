using System.Globalization;
using PdfSharp.Drawing;
using ShopFloor.Documents.Papers.Layout;
using ShopFloor.Documents.Papers.Models;
using ShopFloor.Domain.Common;

namespace ShopFloor.Documents.Workbench;

internal static class SkipWeldCardWriter
{
    /// <summary>More numbers than this cannot be read on the drawing; the list below has them all.</summary>
    private const int MostNumbers = 80;

    private static readonly XPen Ink = new(XColors.Black, 0.8);
    private static readonly XPen Tick = new(XColors.Black, 0.5);

    public static byte[] Write(SkipWeldCard card, PaperSettings settings)
    {
        using var sheet = new Sheet(settings, new SheetTitle(card.Head.ShopName, "Skip-weld card", card.Head.Tube));
        CardHead.Write(sheet, card.Head, "Short welds");
        Blocks.Facts(sheet, card.Facts);
        sheet.Space(1);
        sheet.Paragraph(
            "Weld the numbers in their order. After each run lift, look and wait until the metal is touch-warm; fire watch stands by.",
            TextStyle.Strong
        );
        Plate(sheet, card);
        Blocks.CautionBox(sheet, "Before the first spark", card.Cautions, withWhoDecides: true);
        Rows(sheet, card);
        return sheet.Finish();
    }

    private static void Plate(Sheet sheet, SkipWeldCard card)
    {
        var (left, right) = (card.Outline.Min(p => p.XMm), card.Outline.Max(p => p.XMm));
        var (low, high) = (card.Outline.Min(p => p.YMm), card.Outline.Max(p => p.YMm));
        var (width, height) = (Math.Max(right - left, 1e-6), Math.Max(high - low, 1e-6));
        var room = Sheet.Mm(10);
        var scale = Math.Min((sheet.Width - (2 * room)) / width, Sheet.Mm(90) / height);
        sheet.Ensure((height * scale) + (2 * room));
        var top = sheet.Y + room;
        var start = sheet.Left + ((sheet.Width - (width * scale)) / 2);
        XPoint At(double x, double y) => new(start + ((x - left) * scale), top + ((high - y) * scale));

        sheet.Graphics.DrawPolygon(Ink, [.. card.Outline.Select(p => At(p.XMm, p.YMm))]);
        var seam = new Seam(card.Outline);
        for (var i = 0; i < card.Runs.Count; i++)
        {
            var run = card.Runs[i];
            Across(run.FromMm);
            Across(run.ToMm);
            if (card.Runs.Count <= MostNumbers)
            {
                var (x, y, nx, ny) = seam.At((run.FromMm + run.ToMm) / 2);
                var at = At(x, y);
                var number = (i + 1).ToString(CultureInfo.InvariantCulture);
                sheet.DrawLine(number, TextStyle.Small, at.X + (nx * 9) - 15, at.Y - (ny * 9) - 5, 30, Align.Centre);
            }
        }

        sheet.Y = top + (height * scale) + room;

        void Across(double along)
        {
            var (x, y, nx, ny) = seam.At(along);
            var at = At(x, y);
            sheet.Graphics.DrawLine(Tick, at.X - (nx * 3), at.Y + (ny * 3), at.X + (nx * 3), at.Y - (ny * 3));
        }
    }

    /// <summary>The order as a list with boxes, four to a row.</summary>
    private static void Rows(Sheet sheet, SkipWeldCard card)
    {
        sheet.Heading("The order, from the seam's start");
        const int across = 4;
        var columns = Enumerable.Range(0, across).Select(_ => new TableColumn("", 1)).ToArray();
        var rows = card
            .Runs.Select(
                (run, i) =>
                    new TableCell(string.Create(sheet.Culture, $"☐ {i + 1}:  {run.FromMm:0.0} – {run.ToMm:0.0} mm"))
            )
            .Chunk(across)
            .Select(cells => new TableRow([.. cells, .. Enumerable.Repeat(new TableCell(""), across - cells.Length)]))
            .ToList();
        new Table(columns).Write(sheet, rows);
    }

    /// <summary>Places along a plate's edge.</summary>
    private sealed class Seam(IReadOnlyList<PlateCorner> outline)
    {
        private readonly double turn = Math.Sign(Area(outline));

        /// <summary>The place, and the direction out of the plate there.</summary>
        public (double X, double Y, double OutX, double OutY) At(double along)
        {
            for (var i = 0; ; i++)
            {
                var (a, b) = (outline[i], outline[(i + 1) % outline.Count]);
                var length = Math.Sqrt(Math.Pow(b.XMm - a.XMm, 2) + Math.Pow(b.YMm - a.YMm, 2));
                if (along <= length || i == outline.Count - 1)
                {
                    var (dx, dy) = length > 0 ? ((b.XMm - a.XMm) / length, (b.YMm - a.YMm) / length) : (1, 0);
                    var at = Math.Min(along, length);
                    return (a.XMm + (dx * at), a.YMm + (dy * at), dy * turn, -dx * turn);
                }

                along -= length;
            }
        }

        private static double Area(IReadOnlyList<PlateCorner> corners) =>
            corners
                .Select((a, i) => (A: a, B: corners[(i + 1) % corners.Count]))
                .Sum(e => (e.A.XMm * e.B.YMm) - (e.B.XMm * e.A.YMm));
    }
}
