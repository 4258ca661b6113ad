using System.Globalization;
using ShopFloor.Documents.Papers.Layout;
using ShopFloor.Documents.Papers.Models;

namespace ShopFloor.Documents.Papers.Writers;

internal static class QuoteWriter
{
    public static byte[] Write(QuotePaper paper, PaperSettings settings)
    {
        var mark = paper.IsDraft ? "DRAFT – not an offer" : null;
        using var sheet = new Sheet(settings, new SheetTitle(paper.Shop.Name, "Quote", paper.Number, mark));
        List<PaperFact> head =
        [
            new("Number", paper.Number),
            new("Revision", paper.Revision.ToString(CultureInfo.InvariantCulture)),
            new("State", paper.State),
            new("Date", Sheet.Day(paper.Date)),
        ];
        if (paper.ValidUntil is { } valid)
        {
            head.Add(new("Valid until", Sheet.Day(valid)));
        }

        Blocks.Letterhead(sheet, paper.Shop, "Quote", head);
        Blocks.PartyAndCar(sheet, "For", paper.Customer, paper.Car);
        if (paper.Choices.Count > 0)
        {
            sheet.Heading("What is offered");
            Blocks.Facts(sheet, paper.Choices);
        }

        if (paper.Assumed.Count > 0)
        {
            sheet.Heading("Condition of the car this price assumes");
            Blocks.Facts(sheet, paper.Assumed);
            sheet.Paragraph(
                "The car is looked at when it arrives. If it is found otherwise, you get the difference in price and hours before anything comes out.",
                TextStyle.Small
            );
        }

        sheet.Heading($"Price in {paper.Totals.Total.Currency.Code}");
        Prices.Lines(sheet, paper.Lines, paper.Totals.PricesIncludeTax);
        Prices.Totals(sheet, paper.Totals, [("To be paid", paper.Totals.AmountDue, true)]);
        Time(sheet, paper);
        foreach (var note in paper.Notes)
        {
            sheet.Paragraph(note, TextStyle.Body);
            sheet.Space(1);
        }

        Acceptance(sheet, paper);
        if (paper.Explained is { Count: > 0 } explained)
        {
            sheet.NewPage();
            sheet.Heading("How each line came about");
            foreach (var line in explained)
            {
                Explanation(sheet, line, 0);
                sheet.Space(2);
            }
        }

        return sheet.Finish();
    }

    /// <summary>Parts stand further in than what they explain.</summary>
    private static void Explanation(Sheet sheet, PaperExplained explained, int depth)
    {
        var indent = Sheet.Mm(5 * Math.Min(depth, 6));
        sheet.Ensure(Sheet.Mm(12));
        if (explained.Title is { } title)
        {
            sheet.Paragraph($"{title}: {explained.Result}", TextStyle.Strong, indent);
            sheet.Paragraph(explained.Rule, TextStyle.Small, indent);
        }
        else
        {
            sheet.Paragraph($"{explained.Rule} = {explained.Result}", TextStyle.Small, indent);
        }

        var inputs = string.Join("; ", explained.Inputs.Select(i => $"{i.Label}: {i.Value}"));
        sheet.Paragraph(
            inputs.Length == 0 ? explained.Source : $"{inputs}. {explained.Source}.",
            TextStyle.Small,
            indent
        );
        sheet.Space(0.8);
        foreach (var part in explained.Parts)
        {
            Explanation(sheet, part, depth + 1);
        }
    }

    private static void Time(Sheet sheet, QuotePaper paper)
    {
        if (paper.Hours is null && paper.PromiseDate is null)
        {
            return;
        }

        sheet.Heading("Time");
        if (paper.Hours is { } hours)
        {
            var (p50, p80) = (hours.P50.ToString("0.#", sheet.Culture), hours.P80.ToString("0.#", sheet.Culture));
            sheet.Paragraph(
                $"Expected work: {p50} h; four jobs in five of this kind take no more than {p80} h.",
                TextStyle.Body
            );
        }

        if (paper.PromiseDate is { } promise)
        {
            sheet.Paragraph($"Promise date if accepted now: {Sheet.Day(promise)}.", TextStyle.Body);
        }
    }

    private static void Acceptance(Sheet sheet, QuotePaper paper)
    {
        sheet.Heading("Acceptance");
        if (paper.Accepted is { } accepted)
        {
            sheet.Paragraph($"Accepted by {accepted.Name}, {Sheet.Time(accepted.At)}.", TextStyle.Strong);
        }
        else if (paper.AcceptUrl is { } url)
        {
            var side = Sheet.Mm(30);
            sheet.Ensure(side + Sheet.Mm(2));
            Blocks.Qr(sheet, url, sheet.Left, sheet.Y, side);
            var x = sheet.Left + side + Sheet.Mm(4);
            var y = sheet.Y + Sheet.Mm(4);
            y += sheet.DrawText(
                "Scan the code, or open this address, to read and accept the quote by name:",
                TextStyle.Body,
                x,
                y,
                sheet.Right - x
            );
            sheet.DrawText(url, TextStyle.Code, x, y + 2, sheet.Right - x);
            sheet.Y += side + Sheet.Mm(2);
        }
        else
        {
            Blocks.Signature(sheet, "customer", null);
        }

        if (paper.ContentHash is { } hash)
        {
            sheet.Space(1);
            sheet.Paragraph("Content hash (SHA-256) of this revision", TextStyle.Small);
            sheet.Paragraph(hash, TextStyle.Code);
        }
    }
}
