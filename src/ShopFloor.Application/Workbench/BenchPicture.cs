using System.Globalization;
using System.Net;
using System.Text;

namespace ShopFloor.Application.Workbench;

/// <summary>A place on a picture, in the picture's unit (millimetres as a rule), y upwards.</summary>
public readonly record struct BenchPoint(double X, double Y);

/// <summary>A drawing to scale with figures on it. Colours are left to the page: shapes name what they are.</summary>
public sealed class BenchPicture(string description, double left, double bottom, double right, double top)
{
    private readonly StringBuilder shapes = new();

    private double Width => Math.Max(right - left, 1e-6);

    private double Height => Math.Max(top - bottom, 1e-6);

    /// <summary>Height of letters: readable whatever the scale.</summary>
    private double Letter => Math.Max(Width, Height * 1.6) / 42;

    /// <summary>A line through points.</summary>
    /// <param name="kind">A class of the style sheet: <c>cut</c>, <c>edge</c>, <c>guide</c>, <c>fill</c>, <c>tube</c>.</param>
    public BenchPicture Line(string kind, IEnumerable<BenchPoint> points, bool isClosed = false)
    {
        var list = string.Join(' ', points.Select(p => $"{N(p.X)},{N(-p.Y)}"));
        shapes.Append(
            CultureInfo.InvariantCulture,
            $"<{(isClosed ? "polygon" : "polyline")} class=\"b-{kind}\" points=\"{list}\"/>"
        );
        return this;
    }

    public BenchPicture Line(string kind, double x1, double y1, double x2, double y2) =>
        Line(kind, [new(x1, y1), new(x2, y2)]);

    public BenchPicture Box(string kind, double x1, double y1, double x2, double y2) =>
        Line(kind, [new(x1, y1), new(x2, y1), new(x2, y2), new(x1, y2)], isClosed: true);

    public BenchPicture Words(double x, double y, string words, string anchor = "start")
    {
        shapes.Append(
            CultureInfo.InvariantCulture,
            $"<text class=\"b-words\" x=\"{N(x)}\" y=\"{N(-y)}\" text-anchor=\"{anchor}\">{WebUtility.HtmlEncode(words)}</text>"
        );
        return this;
    }

    /// <summary>A level dimension with end marks and its figure above.</summary>
    public BenchPicture Across(double x1, double x2, double y, string words)
    {
        var end = Letter * 0.4;
        Line("dim", x1, y, x2, y).Line("dim", x1, y - end, x1, y + end).Line("dim", x2, y - end, x2, y + end);
        return Words((x1 + x2) / 2, y + (Letter * 0.35), words, "middle");
    }

    /// <summary>An upright dimension with its figure to the right.</summary>
    public BenchPicture Up(double x, double y1, double y2, string words)
    {
        var end = Letter * 0.4;
        Line("dim", x, y1, x, y2).Line("dim", x - end, y1, x + end, y1).Line("dim", x - end, y2, x + end, y2);
        return Words(x + (Letter * 0.5), ((y1 + y2) / 2) - (Letter * 0.3), words);
    }

    public string ToSvg() =>
        string.Create(
            CultureInfo.InvariantCulture,
            $"<svg class=\"bench-picture\" style=\"--letter:{N(Letter)}px\" role=\"img\" aria-label=\"{WebUtility.HtmlEncode(description)}\" viewBox=\"{N(left)} {N(-top)} {N(Width)} {N(Height)}\" preserveAspectRatio=\"xMidYMid meet\" xmlns=\"http://www.w3.org/2000/svg\">{shapes}</svg>"
        );

    private static string N(double value) => value.ToString("0.###", CultureInfo.InvariantCulture);
}
