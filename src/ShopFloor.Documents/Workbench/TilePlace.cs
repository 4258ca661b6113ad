using PdfSharp.Drawing;
using ShopFloor.Documents.Papers.Layout;

namespace ShopFloor.Documents.Workbench;

/// <summary>Where a part of the wrap lies on its sheet.</summary>
/// <param name="Left">Of the tile, points.</param>
/// <param name="Bottom">Of the tile, points.</param>
internal sealed record TilePlace(WrapTile Tile, double Left, double Bottom)
{
    private static readonly XPen Mark = new(XColors.Black, 0.5);

    public double X(double x) => Left + Sheet.Mm(x - Tile.X);

    public double Y(double y) => Bottom - Sheet.Mm(y - Tile.Y);

    /// <summary>Draws what of a line lies on this sheet, with a strip of its neighbours.</summary>
    public void Draw(Sheet sheet, XPen pen, IReadOnlyList<PaperPoint> line)
    {
        var more = WrapTiles.OverlapMm;
        var pieces = WrapTiles.Clip(line, Tile.X - 0.001, Tile.Y - 0.001, Tile.Right + more, Tile.Top + more);
        foreach (var piece in pieces)
        {
            sheet.Graphics.DrawLines(pen, [.. piece.Select(p => new XPoint(X(p.X), Y(p.Y)))]);
        }
    }

    public void Cross(Sheet sheet, double x, double y)
    {
        var (px, py, arm) = (X(x), Y(y), Sheet.Mm(3));
        sheet.Graphics.DrawLine(Mark, px - arm, py, px + arm, py);
        sheet.Graphics.DrawLine(Mark, px, py - arm, px, py + arm);
    }

    /// <summary>One line of small type, where it begins on this sheet; cut to its width.</summary>
    public void Text(Sheet sheet, string text, double x, double y, double widthMm)
    {
        if (x < Tile.X - 0.001 || x >= Tile.Right || y < Tile.Y - 2 || y > Tile.Top)
        {
            return;
        }

        var width = Sheet.Mm(Math.Max(4, widthMm));
        var line = TextFlow.Wrap(sheet.Graphics, text, TextStyle.Small.Font, width)[0];
        sheet.DrawLine(line, TextStyle.Small, X(x), Y(y), width, Align.Left);
    }
}
