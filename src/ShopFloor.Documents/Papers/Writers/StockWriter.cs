using ShopFloor.Documents.Papers.Layout;
using ShopFloor.Documents.Papers.Models;

namespace ShopFloor.Documents.Papers.Writers;

/// <summary>Papers of the store.</summary>
internal static class StockWriter
{
    public static byte[] Labels(StockLabelsPaper paper, PaperSettings settings) =>
        LabelSheet.Write(
            new SheetTitle(paper.Shop.Name, "Store labels", ""),
            "There is nothing to label.",
            paper.Labels.Select(l => new LabelText(l.Url, [l.Number, l.What], l.Lines)),
            settings
        );

    /// <summary>By place, a box for what is counted beside what lies there. What the book says is left out: who counts should count, not agree.</summary>
    public static byte[] Counting(CountingPaper paper, PaperSettings settings)
    {
        const string kind = "Counting sheet";
        using var sheet = new Sheet(settings, new SheetTitle(paper.Shop.Name, kind, ""));
        Blocks.Letterhead(sheet, paper.Shop, kind, [new("Made", Sheet.Time(settings.MadeAt))]);
        sheet.Paragraph(
            "Count what lies there and write it down, also where it is nothing. What has no line here goes on the lines at the end.",
            TextStyle.Body
        );
        foreach (var place in paper.Places)
        {
            sheet.Heading(place.Location);
            new Table(
                new TableColumn("Label", 20),
                new TableColumn("What", 44),
                new TableColumn("Counted in", 14),
                new TableColumn("Counted", 22)
            ).Write(sheet, [.. place.Rows.Select(r => new TableRow(r.Number, r.What, r.Unit, "__________"))]);
        }

        sheet.Heading("Found without a label");
        for (var i = 0; i < 6; i++)
        {
            sheet.Paragraph(
                "What: ______________________________   Where: ______________   How many: __________",
                TextStyle.Body
            );
        }

        sheet.Paragraph("Counted by: ______________________   Day: ______________", TextStyle.Body);
        return sheet.Finish();
    }
}
