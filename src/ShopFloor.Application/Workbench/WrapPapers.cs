using ShopFloor.Documents.Papers.Models;
using ShopFloor.Documents.Workbench;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Fabrication;

namespace ShopFloor.Application.Workbench;

/// <summary>The papers of a cut round a tube: to print at 1:1, and its outline for a cutter.</summary>
internal static class WrapPapers
{
    /// <summary>Points of the printed curve: a chord every quarter of a degree.</summary>
    public const int Points = 1440;

    /// <param name="file">First part of the files' names.</param>
    /// <param name="which">After the labels, where one answer has several wraps.</param>
    public static IReadOnlyList<BenchPaperName> Names(string file = "wrap", string which = "") =>
        [
            new($"{file}.pdf", $"Wrap to print, 1:1{which}"),
            new($"{file}.svg", $"Outline as SVG{which}"),
            new($"{file}.dxf", $"Outline as DXF (R12, mm){which}"),
        ];

    public static IReadOnlyList<BenchPaper> Of(
        Func<WorkbenchHead, WrapTemplate> template,
        string file = "wrap",
        string which = ""
    )
    {
        var names = Names(file, which);
        return
        [
            new(
                names[0].File,
                names[0].Label,
                "application/pdf",
                (papers, head, settings) =>
                {
                    var wrap = template(head);
                    var sheets = papers.SheetsOfWrap(wrap, settings.Size);
                    return sheets <= WrapLimits.MostSheets
                        ? papers.Wrap(wrap, settings)
                        : Failure.Because(
                            "tooManySheets",
                            $"This wrap would take {sheets} sheets, more than can be joined true ({WrapLimits.MostSheets}). Take the SVG or DXF outline to a cutter or plotter."
                        );
                }
            ),
            new(
                names[1].File,
                names[1].Label,
                "image/svg+xml",
                (papers, head, _) => Utf8(papers.WrapSvg(template(head)))
            ),
            new(
                names[2].File,
                names[2].Label,
                "image/vnd.dxf",
                (papers, head, _) => Utf8(papers.WrapDxf(template(head)))
            ),
        ];
    }

    /// <summary>A curve's points for paper and picture.</summary>
    public static IReadOnlyList<WrapPoint> Edge(Func<double, double> axialMm) =>
        [
            .. Enumerable
                .Range(0, Points)
                .Select(i => new WrapPoint(360.0 * i / Points, axialMm(2 * Math.PI * i / Points))),
        ];

    /// <summary>Heights above the tube's square end every 15 degrees, for a shop without a printer.</summary>
    public static BenchTable Heights(
        BenchReader read,
        IReadOnlyList<WrapPoint> edge,
        double circumferenceMm,
        double lowestMm,
        string caption
    ) =>
        new(
            caption,
            ["Round the tube", "Along the outside", "Height"],
            [
                .. Enumerable
                    .Range(0, 24)
                    .Select(i => edge[i * edge.Count / 24])
                    .Select(p =>
                        (IReadOnlyList<string>)
                            [
                                BenchLengths.Degrees(p.AroundDegrees),
                                read.Brief(circumferenceMm * p.AroundDegrees / 360),
                                read.Brief(p.AxialMm - lowestMm),
                            ]
                    ),
            ]
        );

    private static byte[] Utf8(string text) => System.Text.Encoding.UTF8.GetBytes(text);
}
