using System.Globalization;
using ShopFloor.Documents.Papers.Layout;
using ShopFloor.Documents.Papers.Models;

namespace ShopFloor.Documents.Papers.Writers;

/// <summary>Labels of what came out of a car.</summary>
internal static class PartLabelsWriter
{
    public static byte[] Write(PartLabelsPaper paper, PaperSettings settings) =>
        LabelSheet.Write(
            new SheetTitle(paper.Shop.Name, "Part labels", paper.JobNumber),
            "Nothing is out of this car.",
            paper.Labels.Select(l => new LabelText(
                l.Url,
                [l.Code, l.What],
                [
                    "from " + l.TakenFrom,
                    string.Create(CultureInfo.InvariantCulture, $"Fasteners: {l.Fasteners}"),
                    "In: " + l.Place,
                    paper.Car,
                ]
            )),
            settings
        );
}
