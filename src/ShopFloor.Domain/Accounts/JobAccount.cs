using System.Globalization;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Domain.Accounts;

/// <summary>A job's account: an append-only double-entry ledger from which every balance is derived. Mistakes are reversed, never edited.</summary>
/// <remarks>Agreed work is owed by the customer against <see cref="LedgerAccount.Agreed"/>; an invoice moves its part to sales and taxes, a credit note moves it back.</remarks>
public sealed partial class JobAccount : IVersioned
{
    private readonly List<LedgerEntry> entries = [];
    private readonly List<AgreedCharge> charges = [];

    private JobAccount() { }

    public JobId Id { get; private set; }

    public CustomerId CustomerId { get; private set; }

    public QuoteId QuoteId { get; private set; }

    public Currency Currency { get; private set; }

    /// <summary>Number of entries: changes with each one, so that two people cannot append at the same time unseen.</summary>
    public int EntryCount { get; private set; }

    public IReadOnlyList<LedgerEntry> Entries => entries;

    /// <summary>The accepted quote and the approved changes.</summary>
    public IReadOnlyList<AgreedCharge> Charges => charges;

    public long Version { get; private set; }

    /// <summary>What the customer owes; below zero the shop owes it.</summary>
    public long BalanceMinor => entries.Sum(e => e.CustomerMinor);

    public long ChargedMinor => NetOf(EntryKind.Charge);

    /// <summary>Deposits and payments less refunds, without those reversed.</summary>
    public long PaidMinor => -(NetOf(EntryKind.Deposit) + NetOf(EntryKind.Payment) + NetOf(EntryKind.Refund));

    public long TradeCreditMinor => -NetOf(EntryKind.TradeCredit);

    /// <summary>Agreed and not invoiced yet; below zero only while an invoice waits for its credit note.</summary>
    public long NotInvoicedMinor => -entries.Sum(e => e.Sum(LedgerAccount.Agreed));

    public long InvoicedMinor => ChargedMinor - NotInvoicedMinor;

    /// <summary>True once the job was cancelled and only the work done is charged.</summary>
    public bool IsSettled => charges.Exists(c => c.Settled is not null);

    /// <summary>Opens the account of a job: charges the accepted quote and books the trade credit agreed in it.</summary>
    /// <param name="depositFirst">Work waits for the deposit.</param>
    /// <exception cref="InvalidOperationException">The quote is not accepted.</exception>
    public static JobAccount Open(JobId job, Quote quote, Func<EntryStamp> stamp, bool depositFirst = false)
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
            DepositMinor = priced.DepositMinor,
            DepositFirst = depositFirst,
        };
        _ = account.Charge(stamp, $"{quote.Number} revision {quote.Revision}", InvoiceContent.Of(priced)).Value;
        if (priced.TradeCreditMinor > 0)
        {
            account
                .TradeCredit(
                    stamp(),
                    quote.Terms.TradeCreditNote ?? "Work or goods in exchange, as agreed in the quote",
                    priced.TradeCreditMinor
                )
                .Between(quote.AcceptedBy, null);
        }

        return account;
    }

    /// <summary>Charges work the customer agreed to: the accepted quote, an approved change.</summary>
    /// <param name="reference">Number of the quote or change with its revision.</param>
    public Outcome<AgreedCharge> Charge(Func<EntryStamp> stamp, string reference, InvoiceContent content)
    {
        ArgumentNullException.ThrowIfNull(stamp);
        ArgumentNullException.ThrowIfNull(content);
        if (IsSettled)
        {
            return Failure.Because("settled", "This job was cancelled; nothing more is charged on it.");
        }

        if (
            content.CurrencyCode != Currency.Code
            || charges.Exists(c => c.Content.PricesIncludeTax != content.PricesIncludeTax)
        )
        {
            return Failure.Because(
                "otherPrices",
                "The job's quote is in another currency, or one of the two has the tax in its prices and the other has not. Price the change with a price book like the quote's."
            );
        }

        var at = stamp();
        var number = charges.Count + 1;
        var charge = AgreedCharge.Of(
            AgreedChargeId.From(at.Id.Value),
            Id,
            number,
            reference,
            content.WithRatesApart([.. charges.SelectMany(c => c.Content.Taxes)]).Keyed(number)
        );
        charges.Add(charge);
        Charge(at, charge, $"Agreed: {reference}", content.TotalMinor);
        return charge;
    }

    /// <summary>Takes an entry back by its opposite; both stay readable. Only money and goods that changed hands: agreed work is taken back by cancelling, an invoice by a credit note.</summary>
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

        if (!entry.IsMoney)
        {
            return Failure.Because(
                "notMoney",
                entry.Kind == EntryKind.Charge
                    ? "Agreed work is not taken back by hand: a change is agreed with the customer, or the job is cancelled."
                    : "An invoice or credit note is not taken back by hand: write a credit note, or a new invoice."
            );
        }

        var paidAfter = PaidMinor + (entry.Kind == EntryKind.TradeCredit ? 0 : entry.CustomerMinor);
        return paidAfter < 0
            ? Failure.Because(
                "refunded",
                "Some of this money was given back already. Take the refund back first, then this entry."
            )
            : AppendReversal(stamp, entry, reason);
    }

    /// <summary>Settles a cancelled job: takes every charge back and charges the work done. What was paid above it is owed to the customer.</summary>
    /// <param name="workDone">By number of the charge; charges left out count for nothing. Its lines' keys are their numbers within the charge.</param>
    public Outcome<Done> SettleCancelled(Func<EntryStamp> stamp, IReadOnlyDictionary<int, InvoiceContent> workDone)
    {
        ArgumentNullException.ThrowIfNull(stamp);
        ArgumentNullException.ThrowIfNull(workDone);
        if (IsSettled)
        {
            return Failure.Because("settled", "This account was settled already when the job was cancelled.");
        }

        foreach (var entry in entries.Where(e => e.Kind == EntryKind.Charge && !IsReversed(e)).ToList())
        {
            AppendReversal(stamp(), entry, "Job cancelled");
        }

        foreach (var charge in charges)
        {
            var done = workDone.GetValueOrDefault(charge.Number) is { } content
                ? AsCharged(charge, content)
                : InvoiceContent.Nothing(Currency.Code, charge.Content.PricesIncludeTax);
            charge.Settle(done);
            if (done.TotalMinor != 0)
            {
                Charge(stamp(), charge, $"Work done until the job was cancelled: {charge.Reference}", done.TotalMinor);
            }
        }

        return Outcome.Ok;
    }

    public bool IsReversed(LedgerEntry entry)
    {
        ArgumentNullException.ThrowIfNull(entry);
        return entries.Exists(e => e.Reverses == entry.Id);
    }

    /// <summary>Lines and taxes of work done under the names they have in the charge.</summary>
    private InvoiceContent AsCharged(AgreedCharge charge, InvoiceContent content) =>
        content.WithRatesApart([.. charges.Where(c => c.Number < charge.Number).SelectMany(c => c.Content.Taxes)]) with
        {
            Lines = [.. content.Lines.Select(l => l with { Key = $"{charge.Number}.{l.Key}" })],
        };

    private void Charge(EntryStamp stamp, AgreedCharge charge, string description, long totalMinor) =>
        Append(
                stamp,
                EntryKind.Charge,
                description,
                [new(LedgerAccount.Customer, totalMinor), new(LedgerAccount.Agreed, -totalMinor)]
            )
            .Booking(charge);

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

    private string Text(long minor) => new Money(minor, Currency).ToString(CultureInfo.InvariantCulture);
}
