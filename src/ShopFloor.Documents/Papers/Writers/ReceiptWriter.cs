using ShopFloor.Documents.Papers.Layout;
using ShopFloor.Documents.Papers.Models;

namespace ShopFloor.Documents.Papers.Writers;

internal static class ReceiptWriter
{
    public static byte[] Write(ReceiptPaper paper, PaperSettings settings)
    {
        var (title, sentence) = paper.Kind switch
        {
            ReceiptKind.Deposit => ("Deposit receipt", "Received as a deposit"),
            ReceiptKind.Payment => ("Receipt", "Received"),
            ReceiptKind.Refund => ("Refund receipt", "Paid back"),
            ReceiptKind.TradeCredit => ("Receipt", "Taken in exchange, as work or goods"),
            _ => throw new ArgumentOutOfRangeException(nameof(paper), paper.Kind, "Unknown kind of receipt."),
        };
        using var sheet = new Sheet(settings, new SheetTitle(paper.Shop.Name, title, paper.Number));
        Blocks.Letterhead(
            sheet,
            paper.Shop,
            title,
            [new("Number", paper.Number), new("Date and time", Sheet.Time(paper.At))]
        );
        Blocks.PartyAndCar(
            sheet,
            paper.Kind == ReceiptKind.Refund ? "Paid to" : "Received from",
            paper.Customer,
            paper.Car
        );
        sheet.Space(2);
        sheet.Line();
        sheet.Space(2);
        sheet.Paragraph(sentence, TextStyle.Body);
        sheet.Paragraph(paper.Amount.ToString(sheet.Culture), TextStyle.Title);
        sheet.Space(2);
        List<PaperFact> facts = [new("For", paper.About), new("By", paper.Method)];
        if (paper.Reference is { } reference)
        {
            facts.Add(new("Reference", reference));
        }

        if (paper.GivenBy is { } giver)
        {
            facts.Add(new("Given by", giver));
        }

        facts.Add(new(paper.Kind == ReceiptKind.Refund ? "Paid by" : "Taken by", paper.TakenBy));
        if (paper.BalanceAfter is { } balance)
        {
            var owing = balance.Minor < 0 ? "In your favour" : "Still open";
            var shown = balance.Minor < 0 ? -balance : balance;
            facts.Add(new(owing, shown.ToString(sheet.Culture)));
        }

        Blocks.Facts(sheet, facts);
        foreach (var note in paper.Notes ?? [])
        {
            sheet.Space(2);
            sheet.Paragraph(note, TextStyle.Body);
        }

        sheet.Space(4);
        sheet.Paragraph("This receipt is not a tax invoice.", TextStyle.Small);
        return sheet.Finish();
    }
}
