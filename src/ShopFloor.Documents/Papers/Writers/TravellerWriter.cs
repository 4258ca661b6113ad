using PdfSharp.Pdf;
using PdfSharp.Pdf.IO;
using ShopFloor.Documents.Papers.Layout;
using ShopFloor.Documents.Papers.Models;
using ShopFloor.Domain.Common;

namespace ShopFloor.Documents.Papers.Writers;

internal static class TravellerWriter
{
    public static byte[] Write(TravellerPaper paper, PaperSettings settings)
    {
        using var sheet = new Sheet(settings, new SheetTitle(paper.Shop.Name, "Traveller", paper.JobNumber));
        sheet.PrintAtFullSize();
        Head(sheet, paper);
        if (paper.Warnings.Count > 0)
        {
            Blocks.CautionBox(sheet, "This car", paper.Warnings, false);
        }

        if (paper.Now.Count > 0)
        {
            sheet.Paragraph("When this was printed:", TextStyle.Strong);
            foreach (var sentence in paper.Now)
            {
                sheet.Item("–", sentence, TextStyle.Body);
            }

            sheet.Space(2);
        }

        if (paper.Facts.Count > 0)
        {
            Blocks.Facts(sheet, paper.Facts);
            sheet.Space(2);
        }

        foreach (var figure in paper.Figures)
        {
            sheet.Ensure(TextStyle.Strong.LineHeight * 2);
            sheet.Paragraph(figure.Title, TextStyle.Strong);
            foreach (var line in Lines(figure))
            {
                sheet.Item("•", line, TextStyle.Body);
            }

            sheet.Space(2);
        }

        Operations(sheet, paper.Operations);
        sheet.Space(3);
        sheet.Paragraph(Cautions.WhoDecides, TextStyle.SmallStrong);
        Blocks.CheckLine(sheet);
        if (paper.PaperLines > 0)
        {
            Times(sheet, paper);
        }

        return sheet.Finish();
    }

    /// <summary>One after the other; each was laid out by itself, so that its pages count from 1.</summary>
    public static byte[] WriteAll(IReadOnlyList<TravellerPaper> papers, PaperSettings settings)
    {
        using var all = new PdfDocument();
        all.ViewerPreferences.Elements.SetName("/PrintScaling", "/None");
        all.ViewerPreferences.DisplayDocTitle = true;
        all.Info.Title = Printable.Text($"Travellers · {papers[0].Shop.Name} · {Sheet.Time(settings.MadeAt)}");
        all.Language = "en-GB";
        foreach (var paper in papers)
        {
            using var stream = new MemoryStream(Write(paper, settings));
            using var one = PdfReader.Open(stream, PdfDocumentOpenMode.Import);
            for (var page = 0; page < one.PageCount; page++)
            {
                all.AddPage(one.Pages[page]);
            }
        }

        using var whole = new MemoryStream();
        all.Save(whole, false);
        return whole.ToArray();
    }

    /// <summary>Lines for the pen, in the order in which the page that types them in asks.</summary>
    private static void Times(Sheet sheet, TravellerPaper paper)
    {
        sheet.NewPage();
        sheet.Heading($"{paper.JobNumber} {paper.Car.Title}: times by pen");
        sheet.Paragraph(
            "Only while the tablets cannot reach the server. One line for each person and step; the office types them in afterwards. No hot work without an open permit, and no hold point is passed on paper.",
            TextStyle.Body
        );
        sheet.Space(2);
        var table = new Table(
            new TableColumn("No.", 10),
            new TableColumn("Who", 30),
            new TableColumn("Day", 16),
            new TableColumn("Began", 14),
            new TableColumn("Ended", 14),
            new TableColumn("Done", 8, Align.Centre),
            new TableColumn("Note", 30)
        );
        table.Write(
            sheet,
            [
                .. Enumerable
                    .Range(0, paper.PaperLines)
                    .Select(_ => new TableRow("", "", "", "", "", new TableCell("☐", TextStyle.Title), "")),
            ]
        );
    }

    private static void Head(Sheet sheet, TravellerPaper paper)
    {
        var side = Sheet.Mm(38);
        var x = sheet.Right - side;
        Blocks.Qr(sheet, paper.CarUrl, x, sheet.Y - Sheet.Mm(4), side);
        sheet.DrawText("Scan to open this job", TextStyle.Small, x, sheet.Y + side - Sheet.Mm(5.5), side, Align.Centre);
        var width = sheet.Width - side - Sheet.Mm(4);
        var top = sheet.Y;
        sheet.Y += sheet.DrawText(paper.JobNumber, TextStyle.Title, sheet.Left, sheet.Y, width);
        sheet.Y += sheet.DrawText(paper.Car.Title, TextStyle.Large, sheet.Left, sheet.Y, width);
        string?[] lines =
        [
            string.Join(" · ", Blocks.CarFacts(paper.Car).Select(f => $"{f.Label} {f.Value}")),
            $"{paper.CustomerName} · {paper.KitName}",
        ];
        foreach (var line in lines.OfType<string>())
        {
            sheet.Y += sheet.DrawText(line, TextStyle.Body, sheet.Left, sheet.Y, width);
        }

        if (paper.PromiseDate is { } promise)
        {
            sheet.Space(1);
            sheet.Y += sheet.DrawText("Promised " + Sheet.Day(promise), TextStyle.Large, sheet.Left, sheet.Y, width);
        }

        sheet.Y = Math.Max(sheet.Y, top + side) + Sheet.Mm(1);
        sheet.Line();
    }

    private static void Operations(Sheet sheet, IReadOnlyList<TravellerOperation> operations)
    {
        var table = new Table(
            new TableColumn("Done", 7, Align.Centre),
            new TableColumn("No.", 8),
            new TableColumn("Operation", 56),
            new TableColumn("Who", 14),
            new TableColumn("When", 15)
        );
        var rows = new List<TableRow>();
        var phase = "";
        foreach (var operation in operations)
        {
            if (operation.Phase != phase)
            {
                phase = operation.Phase;
                rows.Add(new TableRow(new TableCell(phase)));
            }

            rows.Add(Row(operation));
        }

        table.Write(sheet, rows);
    }

    private static TableRow Row(TravellerOperation operation)
    {
        string[] notes =
        [
            .. operation.IsInspection ? ["Inspection by a second person"] : Array.Empty<string>(),
            .. operation.WaitsFor.Select(w => "Waits for: " + w),
            .. operation.Cautions.Select(c => "⚠ " + c),
            .. operation.Figures.SelectMany(f => Lines(f).Prepend(f.Title + ":")),
        ];
        return new TableRow(
            new TableCell(operation.IsDone ? "☑" : "☐", TextStyle.Large),
            new TableCell(operation.Code, TextStyle.Strong),
            new TableCell(operation.Title, Note: string.Join("\n", notes)),
            "",
            ""
        );
    }

    private static IEnumerable<string> Lines(TravellerFigure figure) =>
        figure.Lines.Select(l => $"{l.Label}: {l.Value}").Concat(figure.Warnings.Select(w => "⚠ " + w));
}
