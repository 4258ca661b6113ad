using ShopFloor.Documents.Papers.Layout;
using ShopFloor.Documents.Papers.Models;

namespace ShopFloor.Documents.Papers.Writers;

internal static class ChangeWriter
{
    public static byte[] Write(ChangePaper paper, PaperSettings settings)
    {
        var mark = paper.IsDraft ? "DRAFT – not an offer" : null;
        using var sheet = new Sheet(settings, new SheetTitle(paper.Shop.Name, "Change order", paper.Number, mark));
        Blocks.Letterhead(
            sheet,
            paper.Shop,
            "Change order",
            [
                new("Number", paper.Number),
                new("Job", paper.JobNumber),
                new("State", paper.State),
                new("Date", Sheet.Day(paper.Date)),
            ]
        );
        Blocks.PartyAndCar(sheet, "For", paper.Customer, paper.Car);
        sheet.Heading("Why");
        sheet.Paragraph(paper.Reason, TextStyle.Body);
        Items(sheet, "Photos that show it", paper.Photos);
        Items(sheet, "What was found otherwise", paper.Sentences);
        Items(sheet, "What is added to the work", paper.Work);
        sheet.Heading($"Price of the change in {paper.Totals.Total.Currency.Code}");
        Prices.Lines(sheet, paper.Lines, paper.Totals.PricesIncludeTax);
        Prices.Totals(sheet, paper.Totals, paper.JobTotals);
        sheet.Heading("Time");
        foreach (var text in paper.Time)
        {
            sheet.Paragraph(text, TextStyle.Body);
        }

        Blocks.CautionBox(sheet, "Please note", paper.Cautions, withWhoDecides: true);
        sheet.Heading("Approval");
        if (paper.Approved is { } approved)
        {
            sheet.Paragraph(
                $"Approved by {approved.Name} {paper.ApprovedHow}, {Sheet.Time(approved.At)}.",
                TextStyle.Strong
            );
        }
        else
        {
            sheet.Paragraph("I agree to this change, its price and its effect on the promised day.", TextStyle.Body);
            Blocks.Signature(sheet, "customer", null);
        }

        if (paper.ContentHash is { } hash)
        {
            sheet.Space(1);
            sheet.Paragraph("Content hash (SHA-256) of this change order", TextStyle.Small);
            sheet.Paragraph(hash, TextStyle.Code);
        }

        return sheet.Finish();
    }

    private static void Items(Sheet sheet, string heading, IReadOnlyList<string> texts)
    {
        if (texts.Count == 0)
        {
            return;
        }

        sheet.Heading(heading);
        foreach (var text in texts)
        {
            sheet.Item("•", text, TextStyle.Body);
        }
    }
}
