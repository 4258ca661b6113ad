using ShopFloor.Documents.Tests.Papers;
using UglyToad.PdfPig.Content;
using UglyToad.PdfPig.Core;
using UglyToad.PdfPig.Graphics;

namespace ShopFloor.Documents.Tests.Workbench;

/// <summary>Lines of a printed wrap, in millimetres of the sheet, y upwards.</summary>
internal static class WrapReader
{
    private const double MmPerPoint = 25.4 / 72;

    /// <summary>Pieces of the cut on a page: the only line of many points.</summary>
    public static List<List<(double X, double Y)>> Cuts(Page page) => [.. Lines(page).Where(l => l.Count > 10)];

    public static List<List<(double X, double Y)>> Lines(Page page) =>
        [.. page.Paths.SelectMany(path => path).Select(Points).Where(points => points.Count > 1)];

    /// <summary>Straight strokes from end to end.</summary>
    public static List<((double X, double Y) From, (double X, double Y) To)> Strokes(Page page) =>
        [.. Lines(page).Where(l => l.Count == 2).Select(l => (l[0], l[1]))];

    /// <summary>Middles of the crosses at which sheets are joined: two strokes of 6 mm that halve each other.</summary>
    public static List<(double X, double Y)> Crosses(Page page)
    {
        var strokes = Strokes(page);
        var lying = strokes.Where(s => Near(Math.Abs(s.To.X - s.From.X), 6) && Near(s.To.Y, s.From.Y)).Select(Middle);
        var upright = strokes.Where(s => Near(Math.Abs(s.To.Y - s.From.Y), 6) && Near(s.To.X, s.From.X)).Select(Middle);
        return [.. lying.Where(m => upright.Any(u => Near(u.X, m.X) && Near(u.Y, m.Y)))];
    }

    public static double HeightAt(IReadOnlyList<(double X, double Y)> line, double x)
    {
        for (var i = 1; i < line.Count; i++)
        {
            if (x <= line[i].X + 1e-3)
            {
                var (a, b) = (line[i - 1], line[i]);
                return b.X == a.X ? b.Y : a.Y + ((b.Y - a.Y) * (x - a.X) / (b.X - a.X));
            }
        }

        throw new ArgumentOutOfRangeException(nameof(x), x, "Beyond the line.");
    }

    public static IEnumerable<Page> PagesWithCut(ReadBack paper) => paper.Pages.Where(p => Cuts(p).Count > 0);

    public static bool Near(double a, double b) => Math.Abs(a - b) < 0.002;

    private static (double X, double Y) Middle(((double X, double Y) From, (double X, double Y) To) s) =>
        ((s.From.X + s.To.X) / 2, (s.From.Y + s.To.Y) / 2);

    private static List<(double X, double Y)> Points(PdfSubpath subpath)
    {
        var points = new List<(double X, double Y)>();
        foreach (var command in subpath.Commands)
        {
            if (command is PdfSubpath.Move move)
            {
                points.Add((move.Location.X * MmPerPoint, move.Location.Y * MmPerPoint));
            }
            else if (command is PdfSubpath.Line line)
            {
                points.Add((line.To.X * MmPerPoint, line.To.Y * MmPerPoint));
            }
        }

        return points;
    }
}
