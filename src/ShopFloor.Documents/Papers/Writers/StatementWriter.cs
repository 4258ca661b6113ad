using ShopFloor.Documents.Papers.Layout;
using ShopFloor.Documents.Papers.Models;
using ShopFloor.Domain.Common;

namespace ShopFloor.Documents.Papers.Writers;

internal static class StatementWriter
{
    public static byte[] Write(StatementPaper paper, PaperSettings settings)
    {
        using var sheet = new Sheet(settings, new SheetTitle(paper.Shop.Name, "Statement of account", paper.JobNumber));
        Blocks.Letterhead(
            sheet,
            paper.Shop,
            "Statement of account",
            [new("Job", paper.JobNumber), new("As of", Sheet.Day(paper.Until))]
        );
        Blocks.PartyAndCar(sheet, "For", paper.Customer, paper.Car);
        sheet.Heading($"What was agreed and paid, in {paper.Balance.Currency.Code}");
        Entries(sheet, paper);
        sheet.Space(2);
        sheet.Paragraph(
            paper.Balance.Minor switch
            {
                > 0 => $"Still to be paid: {paper.Balance.ToString(sheet.Culture)}",
                < 0 => $"To be paid back to you: {(-paper.Balance).ToString(sheet.Culture)}",
                _ => "The account is settled: nothing is to be paid.",
            },
            TextStyle.Heading
        );
        if (paper.Papers.Count > 0)
        {
            sheet.Heading("Invoices and credit notes");
            new Table(new TableColumn("Paper", 70), new TableColumn("Total", 30, Align.Right)).Write(
                sheet,
                [.. paper.Papers.Select(p => new TableRow(p.Label, p.Amount.ToString(sheet.Culture)))]
            );
        }

        foreach (var note in paper.Notes)
        {
            sheet.Space(1);
            sheet.Paragraph(note, TextStyle.Small);
        }

        sheet.Space(3);
        sheet.Paragraph("This statement is not a tax invoice.", TextStyle.Small);
        return sheet.Finish();
    }

    private static void Entries(Sheet sheet, StatementPaper paper)
    {
        var table = new Table(
            new TableColumn("Day", 17),
            new TableColumn("What", 37),
            new TableColumn("Charged", 15, Align.Right),
            new TableColumn("Paid", 15, Align.Right),
            new TableColumn("Balance", 16, Align.Right)
        );
        table.Write(
            sheet,
            [
                .. paper.Rows.Select(row => new TableRow(
                    new TableCell(Sheet.Day(row.On), TextStyle.Small),
                    new TableCell(row.What, Note: row.Number),
                    Amount(row.Charge),
                    Amount(row.Paid),
                    Prices.Amount(row.Balance, sheet.Culture)
                )),
            ]
        );

        string Amount(Money money) => money.Minor == 0 ? "" : Prices.Amount(money, sheet.Culture);
    }
}
