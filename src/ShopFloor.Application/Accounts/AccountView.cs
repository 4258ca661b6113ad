using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;

namespace ShopFloor.Application.Accounts;

/// <summary>An entry as shown.</summary>
/// <param name="AmountMinor">What it adds to the balance: below zero where it lowers it.</param>
public sealed record EntryView(
    LedgerEntryId Id,
    int Sequence,
    EntryKind Kind,
    DateOnly On,
    DateTimeOffset RecordedAt,
    string? RecordedBy,
    string Description,
    PaymentMethod? Method,
    string? Reference,
    string? Receipt,
    LedgerEntryId? Reverses,
    bool IsReversed,
    long AmountMinor
);

/// <summary>An invoice of the job.</summary>
public sealed record InvoiceRow(
    InvoiceId Id,
    string Number,
    DateOnly IssuedOn,
    DateOnly SuppliedOn,
    long TotalMinor,
    string ContentHash
);

/// <summary>A job's account; all sums are derived from the entries.</summary>
/// <param name="DepositMinor">Asked for by the quote.</param>
public sealed record AccountView(
    JobId JobId,
    long Version,
    string Currency,
    long ChargedMinor,
    long PaidMinor,
    long TradeCreditMinor,
    long BalanceMinor,
    long DepositMinor,
    IReadOnlyList<EntryView> Entries,
    IReadOnlyList<InvoiceRow> Invoices
)
{
    internal static async Task<AccountView> OfAsync(ShopDbContext db, JobAccount account, CancellationToken ct)
    {
        var people = account
            .Entries.Select(e => e.RecordedBy)
            .OfType<PersonId>()
            .Select(p => p.Value)
            .Distinct()
            .ToList();
        var names = await db
            .Users.Where(u => people.Contains(u.Id))
            .Select(u => new { u.Id, u.DisplayName })
            .ToDictionaryAsync(u => u.Id, u => u.DisplayName, ct);
        var invoices = await db.Set<Invoice>()
            .Where(i => i.JobId == account.Id)
            .OrderBy(i => i.Number)
            .Select(i => new InvoiceRow(i.Id, i.Number, i.IssuedOn, i.SuppliedOn, i.TotalMinor, i.ContentHash))
            .ToListAsync(ct);
        var quote = await db.Set<Domain.Quoting.Quote>().AsNoTracking().SingleAsync(q => q.Id == account.QuoteId, ct);
        return new AccountView(
            account.Id,
            account.Version,
            account.Currency.Code,
            account.ChargedMinor,
            account.PaidMinor,
            account.TradeCreditMinor,
            account.BalanceMinor,
            quote.Priced.DepositMinor,
            [
                .. account
                    .Entries.OrderBy(e => e.Sequence)
                    .Select(e => new EntryView(
                        e.Id,
                        e.Sequence,
                        e.Kind,
                        e.On,
                        e.RecordedAt,
                        e.RecordedBy is { } person ? names.GetValueOrDefault(person.Value) : null,
                        e.Description,
                        e.Method,
                        e.Reference,
                        e.Receipt,
                        e.Reverses,
                        account.IsReversed(e),
                        e.CustomerMinor
                    )),
            ],
            invoices
        );
    }
}
