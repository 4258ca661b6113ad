using ShopFloor.Documents.Papers.Layout;
using ShopFloor.Documents.Papers.Models;

namespace ShopFloor.Documents.Papers.Writers;

internal static class WeekWriter
{
    public static byte[] Write(WeekPaper paper, PaperSettings settings)
    {
        using var sheet = new Sheet(settings, new SheetTitle(paper.Shop.Name, "The week", paper.Days));
        Blocks.Letterhead(
            sheet,
            paper.Shop,
            "The week",
            [new("Days", paper.Days), new("Counted up to", paper.CountedUpTo)]
        );
        sheet.Paragraph(paper.InWords, TextStyle.Body);
        sheet.Space(1);
        Figures(sheet, paper.Groups);
        foreach (var table in paper.Tables)
        {
            sheet.Space(2);
            sheet.Heading(table.Title);
            Rows(sheet, table);
        }

        sheet.Space(2);
        sheet.Heading("Does it add up?");
        foreach (var tie in paper.Ties)
        {
            sheet.Paragraph(tie, TextStyle.Small);
        }

        return sheet.Finish();
    }

    private static void Figures(Sheet sheet, IReadOnlyList<WeekPaperGroup> groups)
    {
        var table = new Table(
            new TableColumn("Figure", 30),
            new TableColumn("Value", 18, Align.Right),
            new TableColumn("", 52)
        );
        table.Write(
            sheet,
            [
                .. groups.SelectMany(g =>
                    g.Figures.Select(f => new TableRow(
                            new TableCell(f.Name, TextStyle.Small),
                            new TableCell(f.Value, TextStyle.SmallStrong),
                            new TableCell(f.Note ?? "", TextStyle.Small)
                        ))
                        .Prepend(new TableRow(new TableCell(g.Title)))
                ),
            ]
        );
    }

    private static void Rows(Sheet sheet, WeekPaperTable table)
    {
        var columns = table.Columns.Select(
            (c, i) => i == 0 ? new TableColumn(c, 40) : new TableColumn(c, 20, Align.Right)
        );
        new Table([.. columns]).Write(
            sheet,
            [.. table.Rows.Select(r => new TableRow([.. r.Select(c => new TableCell(c, TextStyle.Small))]))]
        );
        if (table.Note is { } note)
        {
            sheet.Paragraph(note, TextStyle.Small);
        }
    }
}
