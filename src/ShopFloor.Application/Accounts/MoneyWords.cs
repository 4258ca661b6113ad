using System.Globalization;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Documents.Papers.Models;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;

namespace ShopFloor.Application.Accounts;

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
            EntryKind.Invoice => "Invoice",
            EntryKind.CreditNote => "Credit note",
            _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "Unknown kind."),
        };

    public static string Of(PaymentMethod method) => method.Title();

    public static string Of(InvoiceKind kind) =>
        kind switch
        {
            InvoiceKind.Whole => "Invoice",
            InvoiceKind.Part => "Part invoice",
            InvoiceKind.Final => "Final invoice",
            InvoiceKind.Credit => "Credit note",
            _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "Unknown kind."),
        };

    public static string Of(CostKind kind) => kind == CostKind.OutsideWork ? "Outside work" : "Supplier's bill";

    /// <summary>Reads cash, card, bankTransfer or cheque; null for anything else.</summary>
    public static PaymentMethod? Method(string? word) =>
        word switch
        {
            "cash" => PaymentMethod.Cash,
            "card" => PaymentMethod.Card,
            "bankTransfer" => PaymentMethod.BankTransfer,
            "cheque" => PaymentMethod.Cheque,
            _ => null,
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
