using PdfSharp.Drawing;
using ShopFloor.Documents.Papers.Layout;
using ShopFloor.Documents.Papers.Models;
using ShopFloor.Domain.Common;

namespace ShopFloor.Documents.Workbench;

internal static class HingeCardWriter
{
    private static readonly XPen Ink = new(XColors.Black, 0.8);
    private static readonly XPen CutPen = new(XColors.Black, 1.6);
    private static readonly XBrush Body = new XSolidBrush(XColor.FromArgb(0xC8, 0xC8, 0xC8));

    public static byte[] Write(HingeCard card, PaperSettings settings)
    {
        using var sheet = new Sheet(settings, new SheetTitle(card.Head.ShopName, "Hinge cut card", card.Head.Tube));
        CardHead.Write(sheet, card.Head, "Hinge cuts");
        sheet.Paragraph(
            $"Length that comes out: {Figures.Length(sheet, card.Head, card.RemovedMm)}. Measure each end from its own joint towards the bend.",
            TextStyle.Strong
        );
        foreach (var end in card.Ends)
        {
            End(sheet, card.Head, end);
        }

        sheet.Heading("When the hinges go in");
        foreach (
            var step in (string[])
                [
                    "Cut nothing before the bar is tacked in its place and the door panel has been held against it.",
                    "Push the inserts home without meeting a notch or the bend. Bolt and pin stay in while you tack and weld.",
                    "Both hinge axes must read the same angle; so must the bar before and past its bend. Read, then weld.",
                ]
        )
        {
            sheet.Item("☐", step, TextStyle.Body);
        }

        sheet.Paragraph(
            "Usual hinges take about 63.5 mm (2 1/2 in) out of each end: common practice, no source. The hinge's own figure rules.",
            TextStyle.Small
        );
        sheet.Space(1);
        sheet.Paragraph(Cautions.WhoDecides, TextStyle.Small);
        return sheet.Finish();
    }

    private static void End(Sheet sheet, WorkbenchHead head, HingeCardEnd end)
    {
        sheet.Heading(end.Name);
        if (end is { FirstCutMm: { } first, SecondCutMm: { } second })
        {
            sheet.Paragraph($"First cut at {Figures.Length(sheet, head, first)}", TextStyle.Large);
            sheet.Paragraph($"Second cut at {Figures.Length(sheet, head, second)}", TextStyle.Large);
            Picture(sheet, end, first, second);
        }
        else
        {
            sheet.Paragraph("✗ The hinge does not fit here. Do not cut.", TextStyle.Large);
            foreach (var reason in end.Reasons)
            {
                sheet.Item("•", reason, TextStyle.Body);
            }
        }

        Blocks.Facts(
            sheet,
            [
                new("Joint root", Figures.Length(sheet, head, end.JointRootMm)),
                new("Bend begins", Figures.Length(sheet, head, end.BendTangentMm)),
                new("Insert", Figures.Length(sheet, head, end.InsertLengthMm)),
                new("Hinge body", Figures.Length(sheet, head, end.BodyLengthMm)),
                new("Clearance", Figures.Length(sheet, head, end.ClearanceMm)),
                new("First cut may lie at", Range(sheet, end)),
            ]
        );
    }

    private static string Range(Sheet sheet, HingeCardEnd end) =>
        end.FirstCutMm is null
            ? "nowhere"
            : $"{end.EarliestCutMm.ToString("0.0", sheet.Culture)} to {end.LatestCutMm.ToString("0.0", sheet.Culture)} mm";

    /// <summary>From the joint to the bend, to the width of the sheet.</summary>
    private static void Picture(Sheet sheet, HingeCardEnd end, double first, double second)
    {
        sheet.Space(2);
        sheet.Ensure(Sheet.Mm(22));
        var span = end.BendTangentMm - end.JointRootMm;
        double X(double mm) => sheet.Left + (sheet.Width * (mm - end.JointRootMm) / span);
        var (top, height) = (sheet.Y + Sheet.Mm(5), Sheet.Mm(6));
        sheet.Graphics.DrawRectangle(Body, X(first), top, X(second) - X(first), height);
        sheet.Graphics.DrawRectangle(Ink, sheet.Left, top, sheet.Width, height);
        foreach (var insert in (double[])[first - end.InsertLengthMm, second + end.InsertLengthMm])
        {
            sheet.Graphics.DrawLine(Ink, X(insert), top, X(insert), top + height);
        }

        foreach (var cut in (double[])[first, second])
        {
            sheet.Graphics.DrawLine(CutPen, X(cut), top - 6, X(cut), top + height + 6);
        }

        var words = top + height + 7;
        sheet.DrawLine("joint root", TextStyle.Small, sheet.Left, words, sheet.Width, Align.Left);
        sheet.DrawLine("bend begins", TextStyle.Small, sheet.Left, words, sheet.Width, Align.Right);
        var middle = (X(first) + X(second)) / 2;
        sheet.DrawLine("comes out", TextStyle.Small, middle - 40, top - 12, 80, Align.Centre);
        sheet.Y = words + Sheet.Mm(5);
    }
}
