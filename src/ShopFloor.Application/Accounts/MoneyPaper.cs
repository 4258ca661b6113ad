using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Papers;
using ShopFloor.Data;
using ShopFloor.Documents.Papers.Models;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Application.Accounts;

/// <summary>What every paper about a job's money is made from.</summary>
internal sealed record MoneyPaper(
    JobAccount Account,
    IReadOnlyList<Invoice> Papers,
    Quote Quote,
    string? JobNumber,
    Shop Shop,
    PaperShop Letterhead,
    Customer Customer,
    PaperCar Car
)
{
    public static async Task<MoneyPaper?> ReadAsync(ShopDbContext db, PaperHeads heads, JobId id, CancellationToken ct)
    {
        if (await JobAccounts.FindAsync(db, id, ct) is not { } account)
        {
            return null;
        }

        var quote = await db.Set<Quote>().SingleAsync(q => q.Id == account.QuoteId, ct);
        var (shop, customer, car) = await PaperHeads.ReadAsync(db, quote.CustomerId, quote.CarId, ct);
        return new MoneyPaper(
            account,
            await InvoicePapers.OfJobAsync(db, id, ct),
            quote,
            await MoneyWords.JobNumberAsync(db, id, ct),
            shop,
            await heads.LetterheadAsync(shop, ct),
            customer,
            PaperHeads.Of(car, quote.Scope.Kind.Title())
        );
    }

    public Money Money(long minor) => new(minor, Account.Currency);

    /// <summary>Lines as a paper shows them; a part of a line says what it is a part of.</summary>
    public IReadOnlyList<PaperLine> Lines(InvoiceContent content, System.Globalization.CultureInfo culture) =>
        [
            .. content.Lines.Select(l => new PaperLine(
                l.Description,
                l.Quantity,
                l.Unit is "piece" or "part" ? null : l.Unit,
                Money(l.UnitPriceMinor),
                Money(l.NetMinor),
                l.PartOf is { } part
                    ? $"Part of {part.Quantity.ToString("0.######", culture)} {part.Unit}, which comes to {Money(part.WholeMinor).ToString(culture)} in all"
                    : null,
                l.TaxCodes
            )),
        ];

    /// <summary>Totals; work or goods in exchange stand with the payments.</summary>
    public PaperTotals Totals(InvoiceContent content) =>
        new(
            Money(content.SubtotalMinor),
            Money(content.DiscountMinor),
            [
                .. content.Taxes.Select(t => new PaperTax(
                    t.Code,
                    t.Title,
                    t.RatePercent,
                    Money(t.TaxableMinor),
                    Money(t.TaxMinor)
                )),
            ],
            Money(content.TotalMinor),
            Money(0),
            Money(content.TotalMinor),
            content.PricesIncludeTax
        );
}
