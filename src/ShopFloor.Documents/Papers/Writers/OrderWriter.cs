using ShopFloor.Documents.Papers.Layout;
using ShopFloor.Documents.Papers.Models;

namespace ShopFloor.Documents.Papers.Writers;

internal static class OrderWriter
{
    public static byte[] Write(OrderPaper paper, PaperSettings settings)
    {
        using var sheet = new Sheet(settings, new SheetTitle(paper.Shop.Name, "Order confirmation", paper.JobNumber));
        List<PaperFact> head = [new("Job", paper.JobNumber), new("Date", Sheet.Day(paper.Date))];
        if (paper.PromiseDate is { } promise)
        {
            head.Add(new("Promised for", Sheet.Day(promise)));
        }

        Blocks.Letterhead(sheet, paper.Shop, "Order confirmation", head);
        Blocks.PartyAndCar(sheet, "For", paper.Customer, paper.Car);
        sheet.Paragraph(
            paper.Accepted is { } accepted
                ? $"We confirm the order that {accepted.Name} gave on {Sheet.Time(accepted.At)}."
                : "We confirm your order.",
            TextStyle.Strong
        );
        sheet.Heading($"What was agreed, in {paper.Totals.Total.Currency.Code}");
        Prices.Lines(sheet, paper.Lines, paper.Totals.PricesIncludeTax);
        Prices.Totals(sheet, paper.Totals, [("To be paid", paper.Totals.AmountDue, true)]);
        if (paper.Charges.Count > 1)
        {
            var parts = paper.Charges.Select(c => $"{c.Label} ({c.Amount.ToString(sheet.Culture)})");
            sheet.Paragraph("The total is made of " + string.Join(", ", parts) + ".", TextStyle.Body);
            sheet.Space(1);
        }

        foreach (var term in paper.Terms)
        {
            sheet.Paragraph(term, TextStyle.Body);
            sheet.Space(1);
        }

        foreach (var (label, value) in paper.Frozen)
        {
            sheet.Space(1);
            sheet.Paragraph(label, TextStyle.Small);
            sheet.Paragraph(value, TextStyle.Code);
        }

        return sheet.Finish();
    }
}
