using System.Globalization;
using ShopFloor.Documents.Papers.Models;
using ShopFloor.Domain.Common;

namespace ShopFloor.Documents.Papers.Layout;

/// <summary>Price rows and totals, the same on quote and invoice.</summary>
internal static class Prices
{
    public static void Lines(Sheet sheet, IReadOnlyList<PaperLine> lines, bool pricesIncludeTax)
    {
        var table = new Table(
            new TableColumn("Description", 47),
            new TableColumn("Quantity", 12, Align.Right),
            new TableColumn("Unit price", 16, Align.Right),
            new TableColumn("Tax", 8),
            new TableColumn(pricesIncludeTax ? "Amount, tax included" : "Amount before tax", 17, Align.Right)
        );
        table.Write(
            sheet,
            [
                .. lines.Select(line => new TableRow(
                    new TableCell(line.Description, Note: line.Note),
                    Quantity(line, sheet.Culture),
                    Amount(line.UnitPrice, sheet.Culture),
                    new TableCell(string.Join(" ", line.TaxCodes ?? []), TextStyle.Small),
                    Amount(line.Net, sheet.Culture)
                )),
            ]
        );
    }

    /// <summary>Totals and whatever follows them (payments, balance), kept together on one page.</summary>
    public static void Totals(
        Sheet sheet,
        PaperTotals totals,
        IEnumerable<(string Label, Money Amount, bool Strong)> more
    )
    {
        var rows = new List<(string Label, Money Amount, bool Strong)> { ("Subtotal", totals.Subtotal, false) };
        if (totals.Discount.Minor != 0)
        {
            rows.Add(("Discount", -totals.Discount, false));
        }

        var ofWhich = totals.PricesIncludeTax ? "of which " : "";
        foreach (var tax in totals.Taxes)
        {
            var rate = tax.RatePercent.ToString("0.####", sheet.Culture);
            rows.Add(($"{ofWhich}{tax.Name} {rate} % on {Amount(tax.Taxable, sheet.Culture)}", tax.Tax, false));
        }

        rows.Add(("Total", totals.Total, true));
        if (totals.TradeCredit.Minor != 0)
        {
            rows.Add(("Work or goods in exchange", -totals.TradeCredit, false));
        }

        rows.AddRange(more);
        sheet.Space(2);
        sheet.Ensure((rows.Count + 1) * (TextStyle.Body.LineHeight + 4));
        var x = sheet.Left + (sheet.Width * 0.38);
        var amountWidth = sheet.Width * 0.22;
        foreach (var (label, amount, strong) in rows)
        {
            var style = strong ? TextStyle.Strong : TextStyle.Body;
            var labelWidth = sheet.Right - x - amountWidth;
            var height = sheet.DrawText(label, style, x, sheet.Y, labelWidth);
            sheet.DrawText(
                amount.ToString(sheet.Culture),
                style,
                sheet.Right - amountWidth - 3,
                sheet.Y,
                amountWidth,
                Align.Right
            );
            sheet.Y += height + (strong ? 5 : 2.5);
        }

        sheet.Space(1);
    }

    /// <summary>The amount without its currency: the column's head or the totals name it.</summary>
    public static string Amount(Money money, CultureInfo culture)
    {
        var text = money.ToString(culture);
        return text[..^(money.Currency.Code.Length + 1)];
    }

    private static string Quantity(PaperLine line, CultureInfo culture)
    {
        var number = line.Quantity.ToString("#,##0.######", culture);
        return line.Unit is { Length: > 0 } unit ? number + " " + unit : number;
    }
}
