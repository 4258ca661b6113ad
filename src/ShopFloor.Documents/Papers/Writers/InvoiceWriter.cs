using ShopFloor.Documents.Papers.Layout;
using ShopFloor.Documents.Papers.Models;
using ShopFloor.Domain.Common;

namespace ShopFloor.Documents.Papers.Writers;

internal static class InvoiceWriter
{
    public static byte[] Write(InvoicePaper paper, PaperSettings settings)
    {
        var isCredit = paper.Kind == PaperInvoiceKind.CreditNote;
        var title = paper.Kind switch
        {
            PaperInvoiceKind.PartInvoice => "Part invoice",
            PaperInvoiceKind.FinalInvoice => "Final invoice",
            PaperInvoiceKind.CreditNote => "Credit note",
            _ => "Invoice",
        };
        using var sheet = new Sheet(settings, new SheetTitle(paper.Shop.Name, title, paper.Number));
        List<PaperFact> head =
        [
            new("Number", paper.Number),
            new("Issued", Sheet.Day(paper.IssuedOn)),
            new("Supplied", Sheet.Day(paper.SuppliedOn)),
        ];
        Add(head, "Due", paper.DueOn is { } due ? Sheet.Day(due) : null);
        Add(head, "Job", paper.JobNumber);
        Add(head, "Quote", paper.QuoteNumber);
        Add(head, "Credits", paper.CreditsNumber is { } credits ? "Invoice " + credits : null);
        Blocks.Letterhead(sheet, paper.Shop, title, head);
        Blocks.PartyAndCar(sheet, "To", paper.Customer, paper.Car);
        if (isCredit)
        {
            sheet.Paragraph(
                $"This note takes back what is listed here of invoice {paper.CreditsNumber}.",
                TextStyle.Strong
            );
            sheet.Paragraph(paper.Reason ?? "", TextStyle.Body);
        }

        sheet.Heading($"{(isCredit ? "Amounts taken back" : "Amounts")} in {paper.Totals.Total.Currency.Code}");
        Prices.Lines(sheet, paper.Lines, paper.Totals.PricesIncludeTax);
        Prices.Totals(sheet, paper.Totals, Settled(paper));
        Taxes(sheet, paper.Totals);
        if (paper.TaxNote is { } note)
        {
            sheet.Space(1);
            sheet.Paragraph(note, TextStyle.Strong);
        }

        foreach (var remark in paper.Notes ?? [])
        {
            sheet.Space(1);
            sheet.Paragraph(remark, TextStyle.Small);
        }

        if (paper.HowToPay.Count > 0 && paper.Balance.Minor > 0 && !isCredit)
        {
            sheet.Heading("How to pay");
            foreach (var line in paper.HowToPay)
            {
                sheet.Paragraph(line, TextStyle.Body);
            }
        }

        if (paper.ContentHash is { } hash)
        {
            sheet.Space(1);
            sheet.Paragraph("Content hash (SHA-256)", TextStyle.Small);
            sheet.Paragraph(hash, TextStyle.Code);
        }

        return sheet.Finish();
    }

    private static IEnumerable<(string Label, Money Amount, bool Strong)> Settled(InvoicePaper paper)
    {
        if (paper.Kind == PaperInvoiceKind.CreditNote)
        {
            yield break;
        }

        foreach (var other in paper.Others ?? [])
        {
            yield return (other.Label, other.Amount, false);
        }

        foreach (var payment in paper.Payments)
        {
            var kind = payment.Amount.Minor < 0 ? "Paid back" : "Received";
            var reference = payment.Reference is { } r ? $", {r}" : "";
            yield return ($"{kind} {Sheet.Day(payment.On)}, {payment.Method}{reference}", -payment.Amount, false);
        }

        yield return paper.Balance.Minor switch
        {
            > 0 => ("Still to be paid", paper.Balance, true),
            < 0 when paper.IsMoreToCome => ("Covered; left of it for the work to come", -paper.Balance, true),
            < 0 => ("To be paid back to you", -paper.Balance, true),
            _ => ("Paid in full", paper.Balance, true),
        };
    }

    private static void Taxes(Sheet sheet, PaperTotals totals)
    {
        if (totals.Taxes.Count == 0)
        {
            return;
        }

        sheet.Heading("Tax by rate");
        var table = new Table(
            new TableColumn("Tax", 40),
            new TableColumn("Rate", 12, Align.Right),
            new TableColumn("Taxable amount", 24, Align.Right),
            new TableColumn("Tax amount", 24, Align.Right)
        );
        table.Write(
            sheet,
            [
                .. totals.Taxes.Select(tax => new TableRow(
                    $"{tax.Name} ({tax.Code})",
                    tax.RatePercent.ToString("0.####", sheet.Culture) + " %",
                    tax.Taxable.ToString(sheet.Culture),
                    tax.Tax.ToString(sheet.Culture)
                )),
            ]
        );
    }

    private static void Add(List<PaperFact> facts, string label, string? value)
    {
        if (value is not null)
        {
            facts.Add(new PaperFact(label, value));
        }
    }
}
