using ShopFloor.Application.Common;
using ShopFloor.Application.Papers;
using ShopFloor.Application.Quoting;
using ShopFloor.Documents.Papers;
using ShopFloor.Documents.Papers.Models;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;

namespace ShopFloor.Application.Accounts;

/// <summary>An invoice or credit note as a PDF: its frozen content and names, and how the account stood when it was issued.</summary>
public sealed class PrintInvoice(QueryRunner runner, PaperHeads heads, IPapers papers, TimeProvider clock) : IUseCase
{
    public Task<Outcome<PrintedPaper>> RunAsync(InvoiceId id, PaperSize? size, Actor actor, CancellationToken ct) =>
        runner.RunAsync<PrintedPaper>(
            Permission.SeeMoney,
            actor,
            async db =>
            {
                if (await db.FindAsync<Invoice>([id], ct) is not { } invoice)
                {
                    return Failure.Missing("invoice");
                }

                var money = (await MoneyPaper.ReadAsync(db, heads, invoice.JobId, ct))!;
                var settings = PaperHeads.SettingsOf(money.Shop, size, clock.GetUtcNow());
                return new PrintedPaper(
                    papers.Invoice(Paper(invoice, money, settings), settings),
                    invoice.Number + ".pdf"
                );
            },
            ct
        );

    private static InvoicePaper Paper(Invoice invoice, MoneyPaper money, PaperSettings settings)
    {
        var standing = PaperStanding.Of(money.Account, money.Papers, invoice);
        var isBarter = money.Account.TradeCreditMinor > 0;
        return new InvoicePaper(
            Seller(invoice, money),
            Buyer(invoice, money),
            money.Car,
            invoice.Number,
            invoice.IssuedOn,
            invoice.SuppliedOn,
            null,
            money.JobNumber,
            invoice.QuoteReference,
            money.Lines(invoice.Content, settings.Culture),
            money.Totals(invoice.Content),
            [
                .. standing.Moved.Select(e => new PaperPayment(
                    e.On,
                    e.Kind == EntryKind.TradeCredit
                        ? $"work or goods in exchange: {e.Description}"
                        : MoneyWords.Of(e.Kind).ToLowerInvariant() + MoneyWords.In(e.Method),
                    e.Reference,
                    money.Money(-e.CustomerMinor)
                )),
            ],
            money.Money(standing.BalanceMinor),
            money.Quote.Terms.IsTaxExempt
                ? $"No tax is charged: {invoice.Parties?.TaxExemption ?? money.Customer.TaxExemption ?? "exempt"}."
                : null,
            [],
            invoice.Kind switch
            {
                InvoiceKind.Part => PaperInvoiceKind.PartInvoice,
                InvoiceKind.Final => PaperInvoiceKind.FinalInvoice,
                InvoiceKind.Credit => PaperInvoiceKind.CreditNote,
                _ => PaperInvoiceKind.Invoice,
            },
            invoice.CreditsNumber,
            invoice.Reason,
            [
                .. standing.EarlierPapers.Select(p => new PaperAmount(
                    $"{MoneyWords.Of(p.Kind)} {p.Number}",
                    money.Money(p.Sign * p.TotalMinor)
                )),
            ],
            invoice.ContentHash,
            isBarter ? [MoneyCautions.TradeCredit] : [],
            standing.LeftToInvoiceMinor > 0
        );
    }

    private static PaperShop Seller(Invoice invoice, MoneyPaper money) =>
        invoice.Parties?.Seller is { } seller
            ? money.Letterhead with
            {
                LegalName = seller.Name,
                AddressLines = seller.AddressLines,
                TaxNumber = seller.TaxNumber,
            }
            : money.Letterhead;

    private static PaperParty Buyer(Invoice invoice, MoneyPaper money) =>
        invoice.Parties?.Buyer is { } buyer
            ? new PaperParty(buyer.Name, buyer.AddressLines, buyer.TaxNumber)
            : PaperHeads.Of(money.Customer);
}

/// <summary>The receipt of a deposit, payment, refund or trade credit as a PDF.</summary>
public sealed class PrintReceipt(QueryRunner runner, PaperHeads heads, IPapers papers, TimeProvider clock) : IUseCase
{
    public Task<Outcome<PrintedPaper>> RunAsync(LedgerEntryId id, PaperSize? size, Actor actor, CancellationToken ct) =>
        runner.RunAsync<PrintedPaper>(
            Permission.SeeMoney,
            actor,
            async db =>
            {
                if (await db.FindAsync<LedgerEntry>([id], ct) is not { Receipt: { } number } entry)
                {
                    return Failure.Missing("receipt");
                }

                var money = (await MoneyPaper.ReadAsync(db, heads, entry.JobId, ct))!;
                var person = entry.RecordedBy is { } by
                    ? (await db.Users.FindAsync([by.Value], ct))?.DisplayName
                    : null;
                var paper = Paper(entry, number, money, person ?? money.Shop.Name);
                return new PrintedPaper(
                    papers.Receipt(paper, PaperHeads.SettingsOf(money.Shop, size, clock.GetUtcNow())),
                    number + ".pdf"
                );
            },
            ct
        );

    private static ReceiptPaper Paper(LedgerEntry entry, string number, MoneyPaper money, string bookedBy)
    {
        var after = money.Account.Entries.Where(e => e.Sequence <= entry.Sequence).Sum(e => e.CustomerMinor);
        var job = money.JobNumber is null ? "" : $"Job {money.JobNumber}, ";
        return new ReceiptPaper(
            money.Letterhead,
            PaperHeads.Of(money.Customer),
            money.Car,
            number,
            MoneyWords.Receipt(entry.Kind),
            TimeZoneInfo.ConvertTime(entry.RecordedAt, money.Shop.Zone),
            money.Money(entry.AmountMinor),
            entry.Method is { } method ? MoneyWords.Of(method) : entry.Description,
            entry.Reference,
            $"{job}quote {money.Quote.Number}, revision {money.Quote.Revision}",
            money.Money(after),
            entry.TakenBy ?? bookedBy,
            entry.GivenBy,
            entry.Kind == EntryKind.TradeCredit ? [MoneyCautions.TradeCredit] : []
        );
    }
}
