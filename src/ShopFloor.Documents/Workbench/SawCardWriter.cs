using System.Globalization;
using PdfSharp.Drawing;
using ShopFloor.Documents.Papers.Layout;
using ShopFloor.Documents.Papers.Models;
using ShopFloor.Domain.Common;

namespace ShopFloor.Documents.Workbench;

/// <summary>Numbered cuts by bar, the bar to scale beneath them, and a line for what is left.</summary>
internal static class SawCardWriter
{
    private static readonly XPen Ink = new(XColors.Black, 0.8);
    private static readonly XPen Kerf = new(XColors.Black, 1.2);
    private static readonly XBrush Left = new XSolidBrush(XColor.FromArgb(0xD8, 0xD8, 0xD8));
    private static readonly XBrush Trim = new XSolidBrush(XColor.FromArgb(0x80, 0x80, 0x80));

    public static byte[] Write(SawCard card, PaperSettings settings)
    {
        using var sheet = new Sheet(settings, new SheetTitle(card.Head.ShopName, "Saw card", card.Head.Tube));
        CardHead.Write(sheet, card.Head, "Saw card");
        Blocks.Facts(sheet, card.Facts);
        sheet.Paragraph(card.HowGood, TextStyle.Strong);
        foreach (var caution in card.Cautions)
        {
            sheet.Paragraph("⚠ " + caution, TextStyle.Body);
        }

        var (number, longest) = (0, card.Bars.Max(b => b.StockMm));
        for (var i = 0; i < card.Bars.Count; i++)
        {
            Bar(sheet, card, i, number, longest);
            number += card.Bars[i].Cuts.Count;
        }

        sheet.Space(2);
        sheet.Paragraph(
            "Measure each piece from the fresh end, not from the marks of the whole bar: small errors then do not add up. The picture shows where the blade goes.",
            TextStyle.Small
        );
        sheet.Paragraph(Cautions.WhoDecides, TextStyle.Small);
        return sheet.Finish();
    }

    private static void Bar(Sheet sheet, SawCard card, int index, int number, double longest)
    {
        var bar = card.Bars[index];
        sheet.Space(2);
        sheet.Ensure(Sheet.Mm(48));
        sheet.Heading($"Bar {index + 1} of {card.Bars.Count}: {Figures.Length(sheet, card.Head, bar.StockMm)}");
        if (bar.Label is { } label)
        {
            sheet.Paragraph("Take " + label, TextStyle.Strong);
        }

        new Table(
            new TableColumn("Cut", 7),
            new TableColumn("Label", 34),
            new TableColumn("Length", 24, Align.Right),
            new TableColumn("Blade at, from the first end", 28, Align.Right),
            new TableColumn("Done", 7)
        ).Write(sheet, [.. Rows(sheet, card, bar, number)]);
        Picture(sheet, card, bar, number, longest);
        sheet.Paragraph(
            bar.RemnantMm > 0
                ? $"Left over: {Figures.Length(sheet, card.Head, bar.RemnantMm)}. Offcut label: ______________________  Kept at: ______________"
                : "Left over: nothing; the last cut takes what there is, or the bar ends with the last piece.",
            TextStyle.Body
        );
    }

    private static IEnumerable<TableRow> Rows(Sheet sheet, SawCard card, SawBar bar, int number)
    {
        var at = card.EndTrimMm;
        foreach (var cut in bar.Cuts)
        {
            at += cut.LengthMm;
            yield return new TableRow(
                new TableCell((++number).ToString(CultureInfo.InvariantCulture), TextStyle.Strong),
                cut.Label,
                new TableCell(
                    cut.LengthMm.ToString("0.0", sheet.Culture) + " mm",
                    TextStyle.Strong,
                    FractionalInches.Nearest(cut.LengthMm, card.Head.Divisions).ToString()
                ),
                at.ToString("0.0", sheet.Culture) + " mm",
                "☐"
            );
            at += card.KerfMm;
        }
    }

    /// <summary>The bar on the scale of the longest one of the card, so that bars can be compared.</summary>
    private static void Picture(Sheet sheet, SawCard card, SawBar bar, int number, double longest)
    {
        sheet.Space(2);
        sheet.Ensure(Sheet.Mm(18));
        double X(double mm) => sheet.Left + (sheet.Width * mm / longest);
        var (top, height, at) = (sheet.Y + Sheet.Mm(1), Sheet.Mm(6), card.EndTrimMm);
        if (card.EndTrimMm > 0)
        {
            sheet.Graphics.DrawRectangle(Trim, X(0), top, X(card.EndTrimMm) - X(0), height);
        }

        foreach (var cut in bar.Cuts)
        {
            var (from, to) = (X(at), X(at + cut.LengthMm));
            if (to - from > 12)
            {
                var text = (++number).ToString(CultureInfo.InvariantCulture);
                sheet.DrawLine(text, TextStyle.Small, from, top + 4, to - from, Align.Centre);
            }
            else
            {
                number++;
            }

            at += cut.LengthMm;
            if (at < bar.StockMm)
            {
                sheet.Graphics.DrawLine(Kerf, X(at), top - 3, X(at), top + height + 3);
            }

            at += card.KerfMm;
        }

        if (bar.RemnantMm > 0)
        {
            var from = bar.StockMm - bar.RemnantMm;
            sheet.Graphics.DrawRectangle(Left, X(from), top, X(bar.StockMm) - X(from), height);
        }

        sheet.Graphics.DrawRectangle(Ink, X(0), top, X(bar.StockMm) - X(0), height);
        sheet.DrawLine("first end", TextStyle.Small, sheet.Left, top + height + 4, 60, Align.Left);
        sheet.DrawLine(
            bar.RemnantMm > 0 ? "grey: left over" : "",
            TextStyle.Small,
            sheet.Left,
            top + height + 4,
            X(bar.StockMm) - sheet.Left,
            Align.Right
        );
        sheet.Y = top + height + Sheet.Mm(6);
    }
}
