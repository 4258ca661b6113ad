using System.Globalization;
using System.Security;
using System.Text;

namespace ShopFloor.Documents.Workbench;

/// <summary>The wrap's outline for a cutter: the cut, the straight sides and the upper edge as one closed line, and the line at 0° by itself.</summary>
internal static class WrapVectors
{
    private const string CutLayer = "CUT";
    private const string MarkLayer = "MARK";

    public static string Svg(WrapTemplate template)
    {
        var outline = new WrapOutline(template);
        var (width, height) = (outline.WidthMm, outline.HeightMm);
        var path = string.Join(
            ' ',
            Closed(outline).Select((p, i) => (i == 0 ? "M" : "L") + N(p.X) + " " + N(height - p.Y))
        );
        var svg = new StringBuilder();
        svg.Append(
            CultureInfo.InvariantCulture,
            $"<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{N(width)}mm\" height=\"{N(height)}mm\" viewBox=\"0 0 {N(width)} {N(height)}\">\n"
        );
        svg.Append(CultureInfo.InvariantCulture, $"<title>{Escaped(Name(template))}</title>\n");
        svg.Append(
            CultureInfo.InvariantCulture,
            $"<path id=\"cut\" d=\"{path} Z\" fill=\"none\" stroke=\"#000\" stroke-width=\"0.2\"/>\n"
        );
        foreach (var (id, degrees) in Marks(template))
        {
            var x = outline.X(degrees);
            svg.Append(
                CultureInfo.InvariantCulture,
                $"<line id=\"{id}\" x1=\"{N(x)}\" y1=\"{N(height - outline.CurveAt(x))}\" x2=\"{N(x)}\" y2=\"0\" stroke=\"#00f\" stroke-width=\"0.2\"/>\n"
            );
        }

        return svg.Append("</svg>\n").ToString();
    }

    /// <remarks>R12 knows no units; a comment says millimetres.</remarks>
    public static string Dxf(WrapTemplate template)
    {
        var outline = new WrapOutline(template);
        var dxf = new StringBuilder();
        Pair(999, "Units are millimetres. " + Ascii(Name(template)));
        Pair(0, "SECTION");
        Pair(2, "HEADER");
        Pair(9, "$ACADVER");
        Pair(1, "AC1009");
        Pair(0, "ENDSEC");
        Pair(0, "SECTION");
        Pair(2, "ENTITIES");
        Pair(0, "POLYLINE");
        Pair(8, CutLayer);
        Pair(66, "1");
        Place(10, 0, 0);
        Pair(70, "1");
        foreach (var point in Closed(outline))
        {
            Pair(0, "VERTEX");
            Pair(8, CutLayer);
            Place(10, point.X, point.Y);
        }

        Pair(0, "SEQEND");
        Pair(8, CutLayer);
        foreach (var (_, degrees) in Marks(template))
        {
            var x = outline.X(degrees);
            Pair(0, "LINE");
            Pair(8, MarkLayer);
            Place(10, x, outline.CurveAt(x));
            Place(11, x, outline.HeightMm);
        }

        Pair(0, "ENDSEC");
        Pair(0, "EOF");
        return dxf.ToString();

        void Pair(int code, string value) => dxf.Append(CultureInfo.InvariantCulture, $"{code, 3}\r\n{value}\r\n");

        void Place(int code, double x, double y)
        {
            Pair(code, N(x));
            Pair(code + 10, N(y));
            Pair(code + 20, "0.0");
        }
    }

    /// <summary>Along the cut, up the right seam, back along the upper edge; the last side closes by itself.</summary>
    private static IEnumerable<PaperPoint> Closed(WrapOutline outline) =>
        [.. outline.Curve, new(outline.WidthMm, outline.HeightMm), new(0, outline.HeightMm)];

    private static IEnumerable<(string Id, double Degrees)> Marks(WrapTemplate template) =>
        template.BendPlaneDegrees is { } bend
            ? [("zero", 0), (template.MarkName == WrapTemplate.InsideOfBend ? "inside-of-bend" : "other-end", bend)]
            : [("zero", 0)];

    private static string Name(WrapTemplate template) =>
        $"{template.Head.Tube}, {template.EndName}: this face outward, joint below";

    private static string N(double value) => value.ToString("0.0####", CultureInfo.InvariantCulture);

    private static string Escaped(string text) => SecurityElement.Escape(text);

    /// <summary>R12 files are plain ASCII, and a comment is one line.</summary>
    private static string Ascii(string text) =>
        string.Concat(text.Select(c => char.IsAscii(c) && !char.IsControl(c) ? c : '?'));
}
