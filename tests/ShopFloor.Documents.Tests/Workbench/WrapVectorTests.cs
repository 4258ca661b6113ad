using System.Globalization;
using System.Xml.Linq;
using ShopFloor.Documents.Workbench;

namespace ShopFloor.Documents.Tests.Workbench;

public sealed class WrapVectorTests
{
    private static readonly WorkbenchPapers Papers = new();

    [Fact]
    public void Svg_is_a_closed_outline_in_millimetres()
    {
        var saddle = WrapSamples.Skew;
        var svg = XDocument.Parse(Papers.WrapSvg(saddle.Template(bendPlane: 130))).Root!;
        var path = svg.Elements().Single(e => (string?)e.Attribute("id") == "cut").Attribute("d")!.Value;
        Assert.EndsWith("Z", path, StringComparison.Ordinal);
        var points = path[..^1]
            .Split(['M', 'L'], StringSplitOptions.RemoveEmptyEntries)
            .Select(p => p.Trim().Split(' '))
            .Select(p => (X: Number(p[0]), Y: Number(p[1])))
            .ToList();
        var height = Number(svg.Attribute("height")!.Value.Replace("mm", "", StringComparison.Ordinal));

        Assert.EndsWith("mm", svg.Attribute("width")!.Value, StringComparison.Ordinal);
        AssertCut(saddle, [.. points.SkipLast(2).Select(p => (p.X, height - p.Y))]);
        Assert.All(points.TakeLast(2), p => Assert.Equal(0, p.Y));
        Assert.Equal(2, svg.Elements().Count(e => e.Name.LocalName == "line"));
    }

    /// <summary>DXF R12 (AC1009): POLYLINE with VERTEX and SEQEND, no subclass markers (group 100), which came with later releases.</summary>
    [Fact]
    public void Dxf_is_a_closed_polyline_of_release_12()
    {
        var saddle = WrapSamples.Skew;
        var lines = Papers.WrapDxf(saddle.Template()).Split("\r\n", StringSplitOptions.None);
        var pairs = lines
            .SkipLast(1)
            .Chunk(2)
            .Select(p => (Code: int.Parse(p[0], CultureInfo.InvariantCulture), Value: p[1]))
            .ToList();

        Assert.Contains((1, "AC1009"), pairs);
        Assert.Equal((0, "EOF"), pairs[^1]);
        Assert.DoesNotContain(pairs, p => p.Code == 100);
        Assert.All(pairs, p => Assert.All(p.Value, c => Assert.True(char.IsAscii(c))));
        var polyline = pairs.FindIndex(p => p == (0, "POLYLINE"));
        Assert.Contains((70, "1"), pairs.Skip(polyline).TakeWhile(p => p != (0, "VERTEX")));
        var vertices = Entities(pairs, "VERTEX").ToList();
        AssertCut(saddle, [.. vertices.SkipLast(2)]);
        Assert.Single(pairs, p => p == (0, "SEQEND"));
        Assert.Single(Entities(pairs, "LINE"));
    }

    [Fact]
    public void Names_of_tubes_cannot_break_the_files()
    {
        var template = WrapSamples.Skew.Template() with
        {
            Head = new WorkbenchHead("Shop", "Bar <&\"\r\n0\r\nEOF", null),
        };

        Assert.Contains("Bar <&\"", XDocument.Parse(Papers.WrapSvg(template)).Root!.Value, StringComparison.Ordinal);
        Assert.Equal(1, Papers.WrapDxf(template).Split("\r\n").Count(l => l == "EOF"));
    }

    private static IEnumerable<(double X, double Y)> Entities(List<(int Code, string Value)> pairs, string kind)
    {
        for (var i = 0; i < pairs.Count; i++)
        {
            if (pairs[i] == (0, kind))
            {
                var body = pairs.Skip(i + 1).TakeWhile(p => p.Code != 0).ToList();
                yield return (Number(body.First(p => p.Code == 10).Value), Number(body.First(p => p.Code == 20).Value));
            }
        }
    }

    private static void AssertCut(Saddle saddle, IReadOnlyList<(double X, double Y)> curve)
    {
        Assert.True(curve.Count > 1_400);
        Assert.Equal(Math.PI * saddle.DiameterMm, curve[^1].X, 1e-4);
        var lowest = saddle.Lowest;
        Assert.All(
            curve,
            p =>
            {
                var around = 180 + (p.X / (saddle.DiameterMm / 2) * 180 / Math.PI);
                Assert.Equal(saddle.At(around) - lowest, p.Y, 1e-3);
            }
        );
    }

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
}
