using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Accounts;

/// <summary>An entry as shown.</summary>
/// <param name="AmountMinor">What it adds to the balance: below zero where it lowers it, 0 for invoices and credit notes.</param>
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
    long AmountMinor,
    string? GivenBy = null,
    string? TakenBy = null
)
{
    internal static EntryView Of(JobAccount account, LedgerEntry e, string? recordedBy) =>
        new(
            e.Id,
            e.Sequence,
            e.Kind,
            e.On,
            e.RecordedAt,
            recordedBy,
            e.Description,
            e.Method,
            e.Reference,
            e.Receipt,
            e.Reverses,
            account.IsReversed(e),
            e.CustomerMinor,
            e.GivenBy,
            e.TakenBy
        );
}

/// <summary>A line of an invoice as chosen for a credit note.</summary>
/// <param name="LeftMinor">Not credited yet, before tax where prices are without.</param>
public sealed record InvoiceLineView(string Key, string Description, long AmountMinor, long LeftMinor);

/// <summary>An invoice or credit note of the job.</summary>
/// <param name="Credits">The invoice that a credit note takes back.</param>
/// <param name="LeftMinor">Of an invoice: what was not credited; 0 for credit notes.</param>
public sealed record InvoiceRow(
    InvoiceId Id,
    string Number,
    InvoiceKind Kind,
    InvoiceId? Credits,
    string? CreditsNumber,
    string? Reason,
    DateOnly IssuedOn,
    DateOnly SuppliedOn,
    long TotalMinor,
    long LeftMinor,
    string ContentHash,
    IReadOnlyList<InvoiceLineView> Lines
)
{
    /// <summary>The row of one paper.</summary>
    /// <param name="papers">All of the job.</param>
    internal static InvoiceRow Of(Invoice paper, IReadOnlyList<Invoice> papers)
    {
        var notes = papers.Where(p => p.Credits == paper.Id).ToList();
        return new InvoiceRow(
            paper.Id,
            paper.Number,
            paper.Kind,
            paper.Credits,
            paper.CreditsNumber,
            paper.Reason,
            paper.IssuedOn,
            paper.SuppliedOn,
            paper.TotalMinor,
            paper.IsCredit ? 0 : paper.TotalMinor - notes.Sum(n => n.TotalMinor),
            paper.ContentHash,
            [
                .. paper.Content.Lines.Select(l => new InvoiceLineView(
                    l.Key,
                    l.Description,
                    l.AmountMinor,
                    l.AmountMinor
                        - notes.SelectMany(n => n.Content.Lines).Where(c => c.Key == l.Key).Sum(c => c.AmountMinor)
                )),
            ]
        );
    }
}

/// <summary>An agreed line with what is invoiced of it.</summary>
public sealed record AgreedLineView(string Key, string Description, long AmountMinor, long LeftMinor);

/// <summary>The accepted quote or an approved change as charged.</summary>
public sealed record ChargeView(int Number, string Reference, long TotalMinor);

/// <summary>A decision of the owner's.</summary>
public sealed record DecisionView(DecisionKind Kind, long OpenMinor, string Reason, DateTimeOffset At, string? By);

/// <summary>A job's account; all sums are derived from the entries.</summary>
/// <param name="DepositMinor">Asked for by the quote.</param>
/// <param name="DepositFirst">Work waits for the deposit.</param>
/// <param name="WaitsForDeposit">Work does not start for want of the deposit.</param>
/// <param name="InvoiceLacks">What an invoice written now would not say and a tax invoice must, in sentences.</param>
/// <param name="RateChanges">Taxes of what is agreed whose rates in the price book are others today.</param>
/// <param name="MayGo">Nothing is owed, or the owner has decided that the car may go.</param>
public sealed record AccountView(
    JobId JobId,
    string JobNumber,
    string CustomerName,
    long Version,
    string Currency,
    long ChargedMinor,
    long InvoicedMinor,
    long NotInvoicedMinor,
    long PaidMinor,
    long TradeCreditMinor,
    long BalanceMinor,
    long DepositMinor,
    long DepositMissingMinor,
    bool DepositFirst,
    bool WaitsForDeposit,
    bool MayGo,
    IReadOnlyList<EntryView> Entries,
    IReadOnlyList<InvoiceRow> Invoices,
    IReadOnlyList<ChargeView> Charges,
    IReadOnlyList<AgreedLineView> Lines,
    IReadOnlyList<DecisionView> Decisions,
    IReadOnlyList<string> InvoiceLacks,
    IReadOnlyList<RateChange> RateChanges
)
{
    internal static async Task<AccountView> OfAsync(
        ShopDbContext db,
        JobAccount account,
        DateTimeOffset now,
        CancellationToken ct
    )
    {
        var today = (await db.Shops.AsNoTracking().SingleAsync(ct)).LocalDay(now);
        var names = await NamesAsync(db, account, ct);
        var papers = await InvoicePapers.OfJobAsync(db, account.Id, ct);
        var number = await db.Set<Job>().Where(j => j.Id == account.Id).Select(j => j.Number).SingleAsync(ct);
        var customer = await db.Set<Customer>()
            .Where(c => c.Id == account.CustomerId)
            .Select(c => c.Name)
            .SingleAsync(ct);
        return new AccountView(
            account.Id,
            number,
            customer,
            account.Version,
            account.Currency.Code,
            account.ChargedMinor,
            account.InvoicedMinor,
            account.NotInvoicedMinor,
            account.PaidMinor,
            account.TradeCreditMinor,
            account.BalanceMinor,
            account.DepositMinor,
            account.DepositMissingMinor,
            account.DepositFirst,
            account.WaitsForDeposit,
            account.MayGo,
            [.. account.Entries.OrderBy(e => e.Sequence).Select(e => EntryView.Of(account, e, Name(e.RecordedBy)))],
            [.. papers.Select(p => InvoiceRow.Of(p, papers))],
            [
                .. account
                    .Charges.OrderBy(c => c.Number)
                    .Select(c => new ChargeView(c.Number, c.Reference, c.Counted.TotalMinor)),
            ],
            [
                .. Billing
                    .Of(account, papers)
                    .Lines.Select(l => new AgreedLineView(
                        l.Line.Key,
                        l.Line.Description,
                        l.Line.AmountMinor,
                        l.LeftMinor
                    )),
            ],
            [.. account.Decisions.Select(d => new DecisionView(d.Kind, d.OpenMinor, d.Reason, d.At, Name(d.By)))],
            await InvoicePapers.LacksAsync(db, account, ct),
            await InvoicePapers.RateChangesAsync(db, account, today, ct)
        );

        string? Name(PersonId? person) => person is { } p ? names.GetValueOrDefault(p.Value) : null;
    }

    private static Task<Dictionary<Guid, string>> NamesAsync(ShopDbContext db, JobAccount account, CancellationToken ct)
    {
        var people = account
            .Entries.Select(e => e.RecordedBy)
            .Concat(account.Decisions.Select(d => d.By))
            .OfType<PersonId>()
            .Select(p => p.Value)
            .Distinct()
            .ToList();
        return db
            .Users.Where(u => people.Contains(u.Id))
            .Select(u => new { u.Id, u.DisplayName })
            .ToDictionaryAsync(u => u.Id, u => u.DisplayName, ct);
    }
}
