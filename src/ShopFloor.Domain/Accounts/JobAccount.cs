using System.Globalization;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Domain.Accounts;

/// <summary>Money taken or given back.</summary>
/// <param name="Minor">Over 0.</param>
/// <param name="Receipt">Number of the receipt written for it.</param>
public sealed record MoneyMoved(long Minor, PaymentMethod Method, string? Reference, string Receipt);

/// <summary>A job's account: an append-only double-entry ledger from which every balance is derived. Mistakes are reversed, never edited.</summary>
public sealed class JobAccount : IVersioned
{
    private readonly List<LedgerEntry> entries = [];

    private JobAccount() { }

    public JobId Id { get; private set; }

    public CustomerId CustomerId { get; private set; }

    public QuoteId QuoteId { get; private set; }

    public Currency Currency { get; private set; }

    /// <summary>Number of entries: changes with each one, so that two people cannot append at the same time unseen.</summary>
    public int EntryCount { get; private set; }

    public IReadOnlyList<LedgerEntry> Entries => entries;

    /// <summary>What was charged instead of the quote because the job was cancelled; null while it was not.</summary>
    public InvoiceContent? CancelledWork { get; private set; }

    public long Version { get; private set; }

    /// <summary>What the customer owes; below zero the shop owes it.</summary>
    public long BalanceMinor => entries.Sum(e => e.CustomerMinor);

    public long ChargedMinor => NetOf(EntryKind.Charge);

    /// <summary>Deposits and payments less refunds, without those reversed.</summary>
    public long PaidMinor => -(NetOf(EntryKind.Deposit) + NetOf(EntryKind.Payment) + NetOf(EntryKind.Refund));

    public long TradeCreditMinor => -NetOf(EntryKind.TradeCredit);

    /// <summary>Opens the account of a job: charges the accepted quote and books the trade credit agreed in it.</summary>
    /// <exception cref="InvalidOperationException">The quote is not accepted.</exception>
    public static JobAccount Open(JobId job, Quote quote, Func<EntryStamp> stamp)
    {
        ArgumentNullException.ThrowIfNull(quote);
        ArgumentNullException.ThrowIfNull(stamp);
        if (quote.State != QuoteState.Accepted)
        {
            throw new InvalidOperationException("Only an accepted quote is charged.");
        }

        var priced = quote.Priced;
        var account = new JobAccount
        {
            Id = job,
            CustomerId = quote.CustomerId,
            QuoteId = quote.Id,
            Currency = Currency.Of(priced.CurrencyCode),
        };
        account.Charge(
            stamp(),
            $"Quote {quote.Number} revision {quote.Revision} as accepted",
            priced.TotalMinor,
            priced.TaxMinor
        );
        if (priced.TradeCreditMinor > 0)
        {
            account.TradeCredit(
                stamp(),
                quote.Terms.TradeCreditNote ?? "Work or goods in exchange, as agreed in the quote",
                priced.TradeCreditMinor
            );
        }

        return account;
    }

    public Outcome<LedgerEntry> TakeDeposit(EntryStamp stamp, MoneyMoved money) =>
        Take(stamp, EntryKind.Deposit, money);

    public Outcome<LedgerEntry> TakePayment(EntryStamp stamp, MoneyMoved money) =>
        Take(stamp, EntryKind.Payment, money);

    /// <summary>Gives money back, at most what was paid.</summary>
    public Outcome<LedgerEntry> Refund(EntryStamp stamp, MoneyMoved money, string reason)
    {
        ArgumentNullException.ThrowIfNull(money);
        if (CheckAmount(money.Minor) is { } wrong)
        {
            return wrong;
        }

        return money.Minor > PaidMinor
            ? Failure.Field(
                "amountMinor",
                $"{Text(money.Minor)} cannot be given back: {Text(PaidMinor)} has been paid on this job."
            )
            : Append(
                    stamp,
                    EntryKind.Refund,
                    reason,
                    [new(LedgerAccount.Customer, money.Minor), new(AccountOf(money.Method), -money.Minor)]
                )
                .WithMoney(money.Method, money.Reference, money.Receipt);
    }

    /// <summary>Books work or goods taken in exchange at the value both sides agreed; the tax on the job is not lowered.</summary>
    public Outcome<LedgerEntry> TakeTradeCredit(EntryStamp stamp, long minor, string description, string receipt) =>
        (CheckAmount(minor) ?? CheckNotOver(minor)) is { } wrong
            ? wrong
            : TradeCredit(stamp, description, minor).WithMoney(null, null, receipt);

    /// <summary>Takes an entry back by its opposite; both stay readable.</summary>
    public Outcome<LedgerEntry> Reverse(EntryStamp stamp, LedgerEntryId entryId, string reason)
    {
        var entry = entries.Find(e => e.Id == entryId);
        if (entry is null)
        {
            return Failure.Missing("entry on this account");
        }

        if (entry.Kind == EntryKind.Reversal || IsReversed(entry))
        {
            return Failure.Because(
                "reversed",
                "This entry was taken back already, or takes another one back. Book the right amount as a new entry."
            );
        }

        return AppendReversal(stamp, entry, reason);
    }

    /// <summary>Settles a cancelled job: takes every charge back and charges the work done. What was paid above it is owed to the customer.</summary>
    public Outcome<Done> SettleCancelled(Func<EntryStamp> stamp, InvoiceContent workDone)
    {
        ArgumentNullException.ThrowIfNull(stamp);
        ArgumentNullException.ThrowIfNull(workDone);
        if (CancelledWork is not null)
        {
            return Failure.Because("settled", "This account was settled already when the job was cancelled.");
        }

        foreach (var charge in entries.Where(e => e.Kind == EntryKind.Charge && !IsReversed(e)).ToList())
        {
            AppendReversal(stamp(), charge, "Job cancelled");
        }

        if (workDone.TotalMinor > 0)
        {
            Charge(stamp(), "Work done until the job was cancelled", workDone.TotalMinor, workDone.TaxMinor);
        }

        CancelledWork = workDone;
        return Outcome.Ok;
    }

    public bool IsReversed(LedgerEntry entry)
    {
        ArgumentNullException.ThrowIfNull(entry);
        return entries.Exists(e => e.Reverses == entry.Id);
    }

    /// <summary>What differs from a sound ledger; empty when all adds up.</summary>
    public IReadOnlyList<string> Audit() =>
        [
            .. entries
                .Where(e => e.Postings.Sum(p => p.Minor) != 0)
                .Select(e => $"Entry {e.Sequence} of job {Id} is lopsided."),
            .. entries
                .OrderBy(e => e.Sequence)
                .Where((e, i) => e.Sequence != i + 1)
                .Select(e => $"Entry {e.Sequence} of job {Id} is out of order."),
            .. EntryCount == entries.Count
                ? Array.Empty<string>()
                : [$"Job {Id} has {entries.Count} entries instead of {EntryCount}."],
        ];

    private Outcome<LedgerEntry> Take(EntryStamp stamp, EntryKind kind, MoneyMoved money)
    {
        ArgumentNullException.ThrowIfNull(money);
        if ((CheckAmount(money.Minor) ?? CheckNotOver(money.Minor)) is { } wrong)
        {
            return wrong;
        }

        return Append(
                stamp,
                kind,
                kind == EntryKind.Deposit ? "Deposit" : "Payment",
                [new(AccountOf(money.Method), money.Minor), new(LedgerAccount.Customer, -money.Minor)]
            )
            .WithMoney(money.Method, money.Reference, money.Receipt);
    }

    private void Charge(EntryStamp stamp, string description, long totalMinor, long taxMinor) =>
        Append(
            stamp,
            EntryKind.Charge,
            description,
            [
                new(LedgerAccount.Customer, totalMinor),
                new(LedgerAccount.Sales, -(totalMinor - taxMinor)),
                new(LedgerAccount.Tax, -taxMinor),
            ]
        );

    private LedgerEntry TradeCredit(EntryStamp stamp, string description, long minor) =>
        Append(
            stamp,
            EntryKind.TradeCredit,
            description,
            [new(LedgerAccount.TradeGoods, minor), new(LedgerAccount.Customer, -minor)]
        );

    private LedgerEntry AppendReversal(EntryStamp stamp, LedgerEntry entry, string reason) =>
        Append(stamp, EntryKind.Reversal, reason, [.. entry.Postings.Select(p => p with { Minor = -p.Minor })])
            .Reversing(entry);

    private LedgerEntry Append(EntryStamp stamp, EntryKind kind, string description, IReadOnlyList<Posting> postings)
    {
        var entry = LedgerEntry.Of(Id, EntryCount + 1, stamp, kind, description, postings);
        entries.Add(entry);
        EntryCount++;
        return entry;
    }

    /// <summary>Sum on the customer's side of one kind, less what was reversed of it.</summary>
    private long NetOf(EntryKind kind) =>
        entries.Where(e => e.Kind == kind && !IsReversed(e)).Sum(e => e.CustomerMinor);

    private Failure? CheckNotOver(long minor) =>
        minor > BalanceMinor
            ? Failure.Field(
                "amountMinor",
                $"{Text(minor)} is more than the balance of {Text(Math.Max(0, BalanceMinor))}; take at most the balance."
            )
            : null;

    private static Failure? CheckAmount(long minor) =>
        minor is <= 0 or > TotalsRules.LargestMinor
            ? Failure.Field("amountMinor", "The amount must be over 0; give it in whole minor units.")
            : null;

    private string Text(long minor) => new Money(minor, Currency).ToString(CultureInfo.InvariantCulture);

    private static LedgerAccount AccountOf(PaymentMethod method) =>
        method switch
        {
            PaymentMethod.Cash => LedgerAccount.Cash,
            PaymentMethod.Card => LedgerAccount.Card,
            PaymentMethod.BankTransfer => LedgerAccount.Bank,
            PaymentMethod.Cheque => LedgerAccount.Cheque,
            _ => throw new ArgumentOutOfRangeException(nameof(method), method, "Unknown method."),
        };
}
