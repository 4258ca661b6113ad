using System.Globalization;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Papers;
using ShopFloor.Data;
using ShopFloor.Documents.Papers;
using ShopFloor.Documents.Papers.Models;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Application.Accounts;

/// <summary>An invoice as a PDF: its frozen content, with what was paid until today.</summary>
public sealed class PrintInvoice(QueryRunner runner, IPapers papers, TimeProvider clock) : IUseCase
{
    public Task<Outcome<PrintedPaper>> RunAsync(InvoiceId id, PaperSize? size, Actor actor, CancellationToken ct) =>
        runner.RunAsync<PrintedPaper>(
            Permission.SeeMoney,
            actor,
            async db =>
            {
                if (await db.Set<Invoice>().SingleOrDefaultAsync(i => i.Id == id, ct) is not { } invoice)
                {
                    return Failure.Missing("invoice");
                }

                var account = await db.Set<JobAccount>().SingleAsync(a => a.Id == invoice.JobId, ct);
                var quote = await db.Set<Quote>().SingleAsync(q => q.Id == account.QuoteId, ct);
                var (shop, customer, car) = await PaperHeads.ReadAsync(db, quote.CustomerId, quote.CarId, ct);
                var job = await MoneyWords.JobNumberAsync(db, invoice.JobId, ct);
                return new PrintedPaper(
                    papers.Invoice(
                        Paper(invoice, account, quote, shop, customer, car, job),
                        PaperHeads.SettingsOf(shop, size, clock.GetUtcNow())
                    ),
                    invoice.Number + ".pdf"
                );
            },
            ct
        );

    private static InvoicePaper Paper(
        Invoice invoice,
        JobAccount account,
        Quote quote,
        Shop shop,
        Customer customer,
        Car? car,
        string? job
    )
    {
        var currency = account.Currency;
        var content = invoice.Content;
        return new InvoicePaper(
            PaperHeads.Of(shop),
            PaperHeads.Of(customer),
            PaperHeads.Of(car, quote.Scope.Kind.Title()),
            invoice.Number,
            invoice.IssuedOn,
            invoice.SuppliedOn,
            null,
            job,
            invoice.QuoteReference,
            [
                .. content.Lines.Select(l => new PaperLine(
                    l.Description,
                    l.Quantity,
                    l.Unit == "piece" ? null : l.Unit,
                    new Money(l.UnitPriceMinor, currency),
                    new Money(l.NetMinor, currency),
                    null,
                    l.TaxCodes
                )),
            ],
            new PaperTotals(
                new Money(content.SubtotalMinor, currency),
                new Money(content.DiscountMinor, currency),
                [
                    .. content.Taxes.Select(t => new PaperTax(
                        t.Code,
                        t.Title,
                        t.RatePercent,
                        new Money(t.TaxableMinor, currency),
                        new Money(t.TaxMinor, currency)
                    )),
                ],
                new Money(content.TotalMinor, currency),
                new Money(account.TradeCreditMinor, currency),
                new Money(content.TotalMinor - account.TradeCreditMinor, currency),
                content.PricesIncludeTax
            ),
            [
                .. account
                    .Entries.Where(e =>
                        e.Kind is EntryKind.Deposit or EntryKind.Payment or EntryKind.Refund && !account.IsReversed(e)
                    )
                    .OrderBy(e => e.Sequence)
                    .Select(e => new PaperPayment(
                        e.On,
                        MoneyWords.Of(e.Kind) + MoneyWords.In(e.Method),
                        e.Reference,
                        new Money(-e.CustomerMinor, currency)
                    )),
            ],
            new Money(account.BalanceMinor, currency),
            quote.Terms.IsTaxExempt ? $"No tax is charged: {customer.TaxExemption ?? "exempt"}." : null,
            []
        );
    }
}

/// <summary>The receipt of a deposit, payment, refund or trade credit as a PDF.</summary>
public sealed class PrintReceipt(QueryRunner runner, IPapers papers, TimeProvider clock) : IUseCase
{
    public Task<Outcome<PrintedPaper>> RunAsync(LedgerEntryId id, PaperSize? size, Actor actor, CancellationToken ct) =>
        runner.RunAsync<PrintedPaper>(
            Permission.SeeMoney,
            actor,
            async db =>
            {
                var entry = await db.Set<LedgerEntry>().SingleOrDefaultAsync(e => e.Id == id && e.Receipt != null, ct);
                if (entry is null)
                {
                    return Failure.Missing("receipt");
                }

                var account = await db.Set<JobAccount>().SingleAsync(a => a.Id == entry.JobId, ct);
                var quote = await db.Set<Quote>().SingleAsync(q => q.Id == account.QuoteId, ct);
                var (shop, customer, car) = await PaperHeads.ReadAsync(db, quote.CustomerId, quote.CarId, ct);
                var person = entry.RecordedBy?.Value;
                var takenBy = await db
                    .Users.Where(u => u.Id == person)
                    .Select(u => u.DisplayName)
                    .SingleOrDefaultAsync(ct);
                var job = await MoneyWords.JobNumberAsync(db, entry.JobId, ct);
                var after = account.Entries.Where(e => e.Sequence <= entry.Sequence).Sum(e => e.CustomerMinor);
                var paper = new ReceiptPaper(
                    PaperHeads.Of(shop),
                    PaperHeads.Of(customer),
                    PaperHeads.Of(car, quote.Scope.Kind.Title()),
                    entry.Receipt!,
                    MoneyWords.Receipt(entry.Kind),
                    TimeZoneInfo.ConvertTime(entry.RecordedAt, shop.Zone),
                    new Money(entry.AmountMinor, account.Currency),
                    entry.Method is { } method ? MoneyWords.Of(method) : entry.Description,
                    entry.Reference,
                    $"{(job is null ? "" : $"Job {job}, ")}quote {quote.Number}, revision {quote.Revision}",
                    new Money(after, account.Currency),
                    takenBy ?? shop.Name
                );
                return new PrintedPaper(
                    papers.Receipt(paper, PaperHeads.SettingsOf(shop, size, clock.GetUtcNow())),
                    entry.Receipt + ".pdf"
                );
            },
            ct
        );
}

/// <summary>How money is worded on screens and papers.</summary>
public static class MoneyWords
{
    public static string Of(EntryKind kind) =>
        kind switch
        {
            EntryKind.Charge => "Charge",
            EntryKind.Deposit => "Deposit",
            EntryKind.Payment => "Payment",
            EntryKind.Refund => "Refund",
            EntryKind.TradeCredit => "Work or goods in exchange",
            EntryKind.Reversal => "Taken back",
            _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "Unknown kind."),
        };

    public static string Of(PaymentMethod method) =>
        method switch
        {
            PaymentMethod.Cash => "Cash",
            PaymentMethod.Card => "Card",
            PaymentMethod.BankTransfer => "Bank transfer",
            PaymentMethod.Cheque => "Cheque",
            _ => throw new ArgumentOutOfRangeException(nameof(method), method, "Unknown method."),
        };

    internal static string In(PaymentMethod? method) =>
        method is { } known ? ", " + Of(known).ToLower(CultureInfo.InvariantCulture) : "";

    internal static ReceiptKind Receipt(EntryKind kind) =>
        kind switch
        {
            EntryKind.Deposit => ReceiptKind.Deposit,
            EntryKind.Payment => ReceiptKind.Payment,
            EntryKind.Refund => ReceiptKind.Refund,
            EntryKind.TradeCredit => ReceiptKind.TradeCredit,
            _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "No receipt is written for this."),
        };

    internal static Task<string?> JobNumberAsync(ShopDbContext db, JobId id, CancellationToken ct) =>
        db.Set<Domain.Routing.Job>().Where(j => j.Id == id).Select(j => j.Number).SingleOrDefaultAsync(ct);
}
