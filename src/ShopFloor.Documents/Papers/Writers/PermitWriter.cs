using System.Globalization;
using ShopFloor.Documents.Papers.Layout;
using ShopFloor.Documents.Papers.Models;

namespace ShopFloor.Documents.Papers.Writers;

/// <summary>The card of one hot-work permit: one page where the checklist's notes are short.</summary>
internal static class PermitWriter
{
    private const string Title = "Hot-work permit";

    /// <summary>Lines for the rounds of the watch.</summary>
    private const int Rounds = 4;

    public static byte[] Write(PermitPaper paper, PaperSettings settings)
    {
        using var sheet = new Sheet(settings, new SheetTitle(paper.Shop.Name, Title, paper.Number));
        Blocks.Letterhead(sheet, paper.Shop, Title, [new("Number", paper.Number), new("Place", paper.Place)]);
        var side = Sheet.Mm(24);
        var top = sheet.Y;
        Blocks.Qr(sheet, paper.Url, sheet.Right - side, top, side);
        var y = top;
        var width = sheet.Width - side - Sheet.Mm(6);
        y += sheet.DrawText(
            paper.Car is { } car ? $"In {paper.Place}: {car}" : $"In {paper.Place}; no car stands there",
            TextStyle.Large,
            sheet.Left,
            y,
            width
        );
        y += sheet.DrawText(paper.State, TextStyle.Strong, sheet.Left, y, width);
        sheet.Y = Math.Max(y, top + side) + Sheet.Mm(2);
        Blocks.Facts(sheet, paper.Facts);
        sheet.Heading("Looked at before the first spark");
        foreach (var point in paper.Points)
        {
            sheet.Item(point.Sign, point.Title + (point.Note is { } note ? $" ({note})" : ""), TextStyle.Body);
        }

        sheet.Heading("Hot work");
        if (paper.Spells.Count == 0)
        {
            sheet.Paragraph("None so far.", TextStyle.Body);
        }

        foreach (var spell in paper.Spells)
        {
            sheet.Item("•", $"Operation {spell.Operation}: {spell.From} to {spell.Until}", TextStyle.Body);
        }

        Watch(sheet, paper);
        Blocks.CautionBox(sheet, "Sparks, fuel and vapour", paper.Cautions, false);
        sheet.Paragraph(paper.WhoDecides, TextStyle.Strong);
        return sheet.Finish();
    }

    private static void Watch(Sheet sheet, PermitPaper paper)
    {
        sheet.Ensure(Sheet.Mm(45));
        sheet.Heading("Fire watch");
        sheet.Paragraph(
            string.Create(
                CultureInfo.InvariantCulture,
                $"After every stop of hot work, breaks included, the watcher stays and looks for {paper.WatchMinutes} minutes, at the far sides too. The server's clock counts; this card does not close the permit."
            ),
            TextStyle.Body
        );
        if (paper.WatchUntil is { } until)
        {
            sheet.Paragraph("Watch until " + until + ".", TextStyle.Strong);
        }

        if (paper.Closed is { } closed)
        {
            sheet.Paragraph(closed, TextStyle.Strong);
            return;
        }

        sheet.Space(1);
        for (var round = 0; round < Rounds; round++)
        {
            sheet.Item("☐", "____ : ____   nothing glows or smokes", TextStyle.Body);
        }

        Blocks.Signature(sheet, "fire watcher", null);
    }
}
