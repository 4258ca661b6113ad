using PdfSharp.Drawing;
using ShopFloor.Documents.Papers.Layout;

namespace ShopFloor.Documents.Workbench;

/// <summary>Control rulers of exactly 100 mm and 4 in, lying and upright: a printer may stretch one direction alone.</summary>
internal static class Rulers
{
    public const double LongMm = 100;
    public const double InchesMm = 4 * 25.4;
    private static readonly XPen Pen = new(XColors.Black, 0.5);

    /// <summary>Two lines one above the other, from their left end; points.</summary>
    public static void Lying(Sheet sheet, double x, double y)
    {
        var (upper, lower) = (y + Sheet.Mm(3), y + Sheet.Mm(5.5));
        sheet.Graphics.DrawLine(Pen, x, upper, x + Sheet.Mm(LongMm), upper);
        sheet.Graphics.DrawLine(Pen, x, lower, x + Sheet.Mm(InchesMm), lower);
        Ticks(10, 10, at => sheet.Graphics.DrawLine(Pen, x + at, upper, x + at, upper - Sheet.Mm(2)));
        Ticks(25.4, 4, at => sheet.Graphics.DrawLine(Pen, x + at, lower, x + at, lower + Sheet.Mm(2)));
        sheet.DrawText("100 mm", TextStyle.Small, x + Sheet.Mm(LongMm + 3), upper - 8, Sheet.Mm(20));
        sheet.DrawText("4 in", TextStyle.Small, x + Sheet.Mm(InchesMm + 1.4), lower - 1, Sheet.Mm(20));
    }

    /// <summary>Two lines side by side, from their upper end; points.</summary>
    public static void Upright(Sheet sheet, double x, double y)
    {
        var (left, right) = (x + Sheet.Mm(3), x + Sheet.Mm(5.5));
        sheet.Graphics.DrawLine(Pen, left, y, left, y + Sheet.Mm(LongMm));
        sheet.Graphics.DrawLine(Pen, right, y, right, y + Sheet.Mm(InchesMm));
        Ticks(10, 10, at => sheet.Graphics.DrawLine(Pen, left, y + at, left - Sheet.Mm(2), y + at));
        Ticks(25.4, 4, at => sheet.Graphics.DrawLine(Pen, right, y + at, right + Sheet.Mm(2), y + at));
        var below = y + Sheet.Mm(InchesMm) + 1;
        sheet.DrawText("100 mm", TextStyle.Small, x - Sheet.Mm(2), below, Sheet.Mm(16));
        sheet.DrawText("and 4 in", TextStyle.Small, x - Sheet.Mm(2), below + 9, Sheet.Mm(16));
    }

    private static void Ticks(double stepMm, int count, Action<double> draw)
    {
        for (var i = 0; i <= count; i++)
        {
            draw(Sheet.Mm(i * stepMm));
        }
    }
}
