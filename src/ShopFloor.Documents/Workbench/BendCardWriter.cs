using System.Globalization;
using PdfSharp.Drawing;
using ShopFloor.Documents.Papers.Layout;
using ShopFloor.Documents.Papers.Models;
using ShopFloor.Domain.Common;

namespace ShopFloor.Documents.Workbench;

internal static class BendCardWriter
{
    private static readonly XPen Ink = new(XColors.Black, 0.8);
    private static readonly XBrush BendFill = new XSolidBrush(XColor.FromArgb(0xD0, 0xD0, 0xD0));

    public static byte[] Write(BendCard card, PaperSettings settings)
    {
        using var sheet = new Sheet(settings, new SheetTitle(card.Head.ShopName, "Bend card", card.Head.Tube));
        CardHead.Write(sheet, card.Head, "Bend card");
        Blocks.Facts(
            sheet,
            [new("Cut the tube to", Figures.Length(sheet, card.Head, card.CutLengthMm)), .. card.Facts]
        );
        foreach (var warning in card.Warnings)
        {
            sheet.Paragraph("⚠ " + warning, TextStyle.Strong);
        }

        Straight(sheet, card);
        sheet.Space(2);
        var table = new Table(
            new TableColumn("Bend", 7),
            new TableColumn("Turn tube", 15, Align.Right),
            new TableColumn("Mark at bender", 22, Align.Right),
            new TableColumn("Bend to", 11, Align.Right),
            new TableColumn("for", 10, Align.Right),
            new TableColumn("Bend from – to", 30, Align.Right),
            new TableColumn("Straight before", 22, Align.Right),
            new TableColumn("Done", 7)
        );
        table.Write(sheet, [.. card.Bends.Select((b, i) => Row(sheet, card.Head, b, i + 1))]);
        sheet.Space(1);
        sheet.Paragraph(
            $"Straight after the last bend: {Figures.Length(sheet, card.Head, card.LastStraightMm)}. All marks are measured along the straight tube from its first end. "
                + "A turn is right-handed about the tube, looking from the first end along it: clockwise for a turn above zero.",
            TextStyle.Body
        );
        sheet.Space(2);
        sheet.Paragraph(Cautions.WhoDecides, TextStyle.Small);
        return sheet.Finish();
    }

    private static TableRow Row(Sheet sheet, WorkbenchHead head, BendCardBend bend, int number) =>
        new(
            new TableCell(number.ToString(CultureInfo.InvariantCulture), TextStyle.Strong),
            number == 1 ? "–" : Figures.Degrees(sheet, bend.RotationDegrees),
            Lengths(sheet, head, bend.BenderMarkMm, TextStyle.Strong),
            new TableCell(Figures.Degrees(sheet, bend.BendToDegrees), TextStyle.Strong),
            new TableCell(
                Figures.Degrees(sheet, bend.AngleDegrees),
                Note: bend.OwnRadiusMm is { } radius ? $"radius {radius.ToString("0.#", sheet.Culture)} mm" : null
            ),
            $"{bend.StartMarkMm.ToString("0.0", sheet.Culture)} – {bend.EndMarkMm.ToString("0.0", sheet.Culture)} mm",
            Lengths(sheet, head, bend.StraightBeforeMm, TextStyle.Body),
            "☐"
        );

    private static TableCell Lengths(Sheet sheet, WorkbenchHead head, double millimetres, TextStyle style) =>
        new(
            millimetres.ToString("0.0", sheet.Culture) + " mm",
            style,
            FractionalInches.Nearest(millimetres, head.Divisions).ToString()
        );

    /// <summary>The straight tube with its bends, to the width of the sheet.</summary>
    private static void Straight(Sheet sheet, BendCard card)
    {
        sheet.Space(3);
        sheet.Ensure(Sheet.Mm(20));
        double X(double mm) => sheet.Left + (sheet.Width * mm / card.CutLengthMm);
        var (top, height) = (sheet.Y + Sheet.Mm(5), Sheet.Mm(5));
        for (var i = 0; i < card.Bends.Count; i++)
        {
            var bend = card.Bends[i];
            var (from, to) = (X(bend.StartMarkMm), X(bend.EndMarkMm));
            sheet.Graphics.DrawRectangle(BendFill, from, top, to - from, height);
            sheet.Graphics.DrawLine(Ink, from, top - 3, from, top + height + 3);
            if (card.Bends.Count <= 30)
            {
                var number = (i + 1).ToString(CultureInfo.InvariantCulture);
                sheet.DrawLine(number, TextStyle.Small, from, top - 11, 20, Align.Left);
            }
        }

        sheet.Graphics.DrawRectangle(Ink, sheet.Left, top, sheet.Width, height);
        sheet.DrawLine("first end", TextStyle.Small, sheet.Left, top + height + 3, 60, Align.Left);
        sheet.DrawLine("grey: bent", TextStyle.Small, sheet.Left, top + height + 3, sheet.Width, Align.Right);
        sheet.Y = top + height + Sheet.Mm(5);
    }
}

/// <summary>The head of a card.</summary>
internal static class CardHead
{
    public static void Write(Sheet sheet, WorkbenchHead head, string kind)
    {
        sheet.Y += sheet.DrawText($"{kind}: {head.Tube}", TextStyle.Name, sheet.Left, sheet.Y, sheet.Width);
        sheet.Paragraph(
            head.Reference is { } reference ? $"{head.ShopName} · {reference}" : head.ShopName,
            TextStyle.Small
        );
        sheet.Space(1);
    }
}
