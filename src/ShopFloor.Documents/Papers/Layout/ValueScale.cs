using System.Globalization;
using PdfSharp.Drawing;
using ShopFloor.Documents.Papers.Models;

namespace ShopFloor.Documents.Papers.Layout;

/// <summary>A measured value on a scale: the allowed range as an outlined bar, its limits as figures below, the value as a mark whose shape says how it stands.</summary>
internal sealed class ValueScale(
    double? lower,
    double? nominal,
    double? upper,
    double? value,
    PaperResult result,
    CultureInfo culture
)
{
    /// <summary>Points.</summary>
    public const double Height = 26;

    private static readonly XPen Axis = new(XColor.FromArgb(0x60, 0x60, 0x60), 0.6);
    private static readonly XPen Outline = new(XColors.Black, 0.8);
    private static readonly XPen Cross = new(XColors.Black, 1.6);
    private static readonly XBrush Allowed = new XSolidBrush(XColor.FromArgb(0xDD, 0xDD, 0xDD));
    private static readonly XBrush Black = new XSolidBrush(XColors.Black);

    /// <summary>Whether there is anything to draw.</summary>
    public static bool Makes(double? lower, double? upper) => lower is not null || upper is not null;

    public void Draw(Sheet sheet, XRect place)
    {
        var g = sheet.Graphics;
        var (from, to) = Range();
        double X(double v) => place.X + 6 + ((place.Width - 12) * (v - from) / (to - from));

        var y = place.Y + 9;
        g.DrawLine(Axis, place.X, y, place.Right, y);
        var (barFrom, barTo) = (lower is { } l ? X(l) : place.X, upper is { } u ? X(u) : place.Right);
        g.DrawRectangle(Allowed, barFrom, y - 3.5, barTo - barFrom, 7);
        // An open side has no closing edge: there is no limit there.
        g.DrawLine(Outline, barFrom, y - 3.5, barTo, y - 3.5);
        g.DrawLine(Outline, barFrom, y + 3.5, barTo, y + 3.5);
        foreach (var limit in (double?[])[lower, upper])
        {
            if (limit is { } at)
            {
                g.DrawLine(Outline, X(at), y - 6, X(at), y + 6);
                Label(sheet, at, X(at), place);
            }
        }

        if (nominal is { } middle && middle > from && middle < to)
        {
            g.DrawLine(Axis, X(middle), y - 3.5, X(middle), y + 3.5);
        }

        if (value is { } read)
        {
            Mark(g, X(read), y);
        }
    }

    /// <summary>From the least to the greatest of limits, nominal and value, with a margin of a quarter on both sides.</summary>
    private (double From, double To) Range()
    {
        var points = ((double?[])[lower, nominal, upper, value]).OfType<double>().ToList();
        var (low, high) = (points.Min(), points.Max());
        var span = high - low;
        if (span <= 0)
        {
            span = Math.Max(Math.Abs(high), 1) * 0.4;
        }

        return (low - (span * 0.25), high + (span * 0.25));
    }

    private void Label(Sheet sheet, double limit, double x, XRect place)
    {
        var text = limit.ToString("0.###", culture);
        var width = sheet.Graphics.MeasureString(text, TextStyle.Small.Font).Width;
        var start = Math.Clamp(x - (width / 2), place.X, Math.Max(place.X, place.Right - width));
        sheet.DrawLine(text, TextStyle.Small, start, place.Y + 15.5, width, Align.Left);
    }

    private void Mark(XGraphics g, double x, double y)
    {
        if (result is PaperResult.Failed or PaperResult.Accepted)
        {
            g.DrawLine(Cross, x - 4, y - 4, x + 4, y + 4);
            g.DrawLine(Cross, x - 4, y + 4, x + 4, y - 4);
            return;
        }

        XPoint[] diamond = [new(x, y - 5), new(x + 4, y), new(x, y + 5), new(x - 4, y)];
        g.DrawPolygon(Black, diamond, XFillMode.Winding);
    }
}
