using ShopFloor.Documents.Papers.Layout;
using ShopFloor.Documents.Papers.Models;

namespace ShopFloor.Documents.Workbench;

/// <summary>A part of the wrap on one sheet, in millimetres of the unrolled paper.</summary>
internal sealed record WrapTile(int Column, int Row, double X, double Y, double Width, double Height)
{
    public double Right => X + Width;

    public double Top => Y + Height;
}

/// <summary>How a wrap is shared out over sheets: one if it fits, else columns round the tube and rows along it.</summary>
internal sealed record WrapTiles(int Columns, int Rows, IReadOnlyList<WrapTile> Tiles)
{
    /// <summary>Strip that a sheet shows of its neighbour, to lie under it.</summary>
    public const double OverlapMm = 6;

    /// <summary>Beside the wrap, for the upright rulers.</summary>
    public const double RulerColumnMm = 12;

    /// <summary>Above the wrap on every sheet: what it is, and the rulers.</summary>
    public const double BandMm = 26;

    public int Count => Tiles.Count;

    public static WrapTiles Of(WrapTemplate template, PaperSize size)
    {
        var outline = new WrapOutline(template);
        var (width, height) = size == PaperSize.A4 ? (210.0, 297.0) : (215.9, 279.4);
        // Within the margins of a sheet.
        var (freeWidth, freeHeight) = (width - 32 - RulerColumnMm, height - 34 - BandMm);
        var whole = outline.WidthMm + WrapOutline.FlapMm;
        var columns = Parts(whole, freeWidth);
        var rows = Parts(outline.HeightMm, freeHeight);
        var tiles = new List<WrapTile>();
        // A wrap of thousands of sheets is refused by its count; the parts are not needed for that.
        var counted = Math.Min((long)columns * rows, 10_000);
        var (stepX, stepY) = (whole / columns, outline.HeightMm / rows);
        for (var i = 0; i < counted; i++)
        {
            var (column, row) = (i % columns, i / columns);
            tiles.Add(new WrapTile(column, row, column * stepX, row * stepY, stepX, stepY));
        }

        return new(columns, rows, tiles);
    }

    private static int Parts(double wanted, double free) =>
        wanted <= free ? 1 : (int)Math.Min(100_000, Math.Ceiling(wanted / (free - OverlapMm)));

    /// <summary>What of a line lies within a rectangle, as pieces.</summary>
    public static List<List<PaperPoint>> Clip(
        IReadOnlyList<PaperPoint> line,
        double left,
        double bottom,
        double right,
        double top
    )
    {
        var pieces = new List<List<PaperPoint>>();
        for (var i = 1; i < line.Count; i++)
        {
            if (ClipSegment(line[i - 1], line[i], left, bottom, right, top) is not var (from, to))
            {
                continue;
            }

            if (pieces.Count > 0 && pieces[^1][^1] == from)
            {
                pieces[^1].Add(to);
            }
            else
            {
                pieces.Add([from, to]);
            }
        }

        return pieces;
    }

    private static (PaperPoint From, PaperPoint To)? ClipSegment(
        PaperPoint a,
        PaperPoint b,
        double left,
        double bottom,
        double right,
        double top
    )
    {
        var (dx, dy) = (b.X - a.X, b.Y - a.Y);
        var (enter, leave) = (0.0, 1.0);
        foreach (
            var (step, room) in ((double, double)[])
                [(-dx, a.X - left), (dx, right - a.X), (-dy, a.Y - bottom), (dy, top - a.Y)]
        )
        {
            if (step == 0 && room < 0)
            {
                return null;
            }

            if (step < 0)
            {
                enter = Math.Max(enter, room / step);
            }
            else if (step > 0)
            {
                leave = Math.Min(leave, room / step);
            }
        }

        if (enter > leave)
        {
            return null;
        }

        return (
            enter == 0 ? a : new PaperPoint(a.X + (enter * dx), a.Y + (enter * dy)),
            leave == 1 ? b : new PaperPoint(a.X + (leave * dx), a.Y + (leave * dy))
        );
    }
}
