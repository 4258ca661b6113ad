using ShopFloor.Documents.Papers.Layout;
using ShopFloor.Documents.Papers.Models;

namespace ShopFloor.Documents.Papers.Writers;

/// <summary>Material and welds on the inspection pack.</summary>
internal static class TraceBlock
{
    public static void Write(Sheet sheet, PaperTrace trace)
    {
        sheet.Heading("Materials");
        if (trace.Materials.Count == 0)
        {
            sheet.Paragraph("None written down.", TextStyle.Body);
        }
        else
        {
            Materials(sheet, trace.Materials);
        }

        sheet.Heading("Welds");
        if (trace.Welds.Count == 0)
        {
            sheet.Paragraph("None written down.", TextStyle.Body);
        }
        else
        {
            Welds(sheet, trace.Welds);
        }

        if (trace.Accepted.Count > 0)
        {
            sheet.Paragraph("Not written down, and accepted by the owner:", TextStyle.Strong);
            foreach (var accepted in trace.Accepted)
            {
                sheet.Item("!", accepted, TextStyle.Body);
            }
        }
    }

    private static void Materials(Sheet sheet, IReadOnlyList<PaperMaterial> materials)
    {
        var table = new Table(
            new TableColumn("No.", 7),
            new TableColumn("Piece", 45),
            new TableColumn("Size", 22),
            new TableColumn("Heat or lot", 26)
        );
        table.Write(
            sheet,
            [
                .. materials.Select(m => new TableRow(
                    m.Number.ToString(sheet.Culture),
                    new TableCell(m.Piece, Note: string.Join("\n", m.Notes)),
                    m.Size,
                    new TableCell(m.Mark ?? "not written down", TextStyle.Strong)
                )),
            ]
        );
    }

    private static void Welds(Sheet sheet, IReadOnlyList<PaperWeld> welds)
    {
        var table = new Table(
            new TableColumn("Op.", 7),
            new TableColumn("Joint", 27),
            new TableColumn("Welded by", 26),
            new TableColumn("Qualification, procedure, filler, gas", 40)
        );
        table.Write(
            sheet,
            [
                .. welds.Select(w => new TableRow(
                    w.Operation,
                    new TableCell(w.Joint, Note: string.Join("\n", w.Notes)),
                    new TableCell(w.By ?? "not written down", Note: w.On is { } on ? Sheet.Day(on) : null),
                    w.How
                )),
            ]
        );
    }
}
