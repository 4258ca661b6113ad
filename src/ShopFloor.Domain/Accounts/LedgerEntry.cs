using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Accounts;

public enum EntryKind
{
    Charge,
    Deposit,
    Payment,
    Refund,
    TradeCredit,
    Reversal,

    /// <summary>A part of the agreed work is invoiced: sales and taxes.</summary>
    Invoice,

    /// <summary>An invoice is taken back, whole or in part.</summary>
    CreditNote,
}

/// <summary>How money changed hands.</summary>
public enum PaymentMethod
{
    Cash,
    Card,
    BankTransfer,
    Cheque,
}

/// <summary>The two sides of an entry are postings to these.</summary>
public enum LedgerAccount
{
    /// <summary>What the customer owes for this job; below zero is what the shop owes the customer.</summary>
    Customer,
    Sales,
    Tax,
    Cash,
    Card,
    Bank,
    Cheque,

    /// <summary>Work or goods received in exchange.</summary>
    TradeGoods,

    /// <summary>Agreed with the customer and not invoiced yet: neither sales nor tax.</summary>
    Agreed,
}

/// <summary>One side of an entry in minor units: debit above zero, credit below.</summary>
/// <param name="Tax">Code of the tax on postings to <see cref="LedgerAccount.Tax"/>; null elsewhere.</param>
public sealed record Posting(LedgerAccount Account, long Minor, string? Tax = null);

/// <summary>What every entry is stamped with.</summary>
/// <param name="On">The local day on which it happened; not necessarily the day of writing.</param>
public sealed record EntryStamp(LedgerEntryId Id, DateOnly On, DateTimeOffset RecordedAt, PersonId? RecordedBy);

/// <summary>One entry of a job's account: never changed, never removed; its postings add up to zero.</summary>
public sealed class LedgerEntry
{
    private LedgerEntry() { }

    public LedgerEntryId Id { get; private set; }

    public JobId JobId { get; private set; }

    /// <summary>1, 2, 3 … within the account.</summary>
    public int Sequence { get; private set; }

    public EntryKind Kind { get; private set; }

    public DateOnly On { get; private set; }

    public DateTimeOffset RecordedAt { get; private set; }

    public PersonId? RecordedBy { get; private set; }

    public string Description { get; private set; } = "";

    public PaymentMethod? Method { get; private set; }

    /// <summary>Number of the card slip, the transfer or the cheque.</summary>
    public string? Reference { get; private set; }

    /// <summary>Gapless number of the receipt, where one was written.</summary>
    public string? Receipt { get; private set; }

    /// <summary>Who gave work or goods in exchange; null on other entries and after the customer was erased.</summary>
    public string? GivenBy { get; private set; }

    /// <summary>Who took work or goods for the shop.</summary>
    public string? TakenBy { get; private set; }

    public LedgerEntryId? Reverses { get; private set; }

    /// <summary>The invoice or credit note it books; null on other entries.</summary>
    public InvoiceId? Paper { get; private set; }

    /// <summary>Number of the agreed charge it books; null on other entries.</summary>
    public int? Charge { get; private set; }

    public IReadOnlyList<Posting> Postings { get; private set; } = [];

    /// <summary>What the entry adds to the customer's balance: above zero the customer owes more.</summary>
    public long CustomerMinor => Sum(LedgerAccount.Customer);

    /// <summary>The amount without its sign.</summary>
    public long AmountMinor => Math.Abs(CustomerMinor);

    /// <summary>Money or goods changed hands (or did so by mistake and were taken back).</summary>
    public bool IsMoney => Kind is EntryKind.Deposit or EntryKind.Payment or EntryKind.Refund or EntryKind.TradeCredit;

    internal static LedgerEntry Of(
        JobId job,
        int sequence,
        EntryStamp stamp,
        EntryKind kind,
        string description,
        IReadOnlyList<Posting> postings
    )
    {
        if (postings.Sum(p => p.Minor) != 0)
        {
            throw new InvalidOperationException("Both sides of an entry must be equal.");
        }

        return new LedgerEntry
        {
            Id = stamp.Id,
            JobId = job,
            Sequence = sequence,
            Kind = kind,
            On = stamp.On,
            RecordedAt = stamp.RecordedAt,
            RecordedBy = stamp.RecordedBy,
            Description = description,
            Postings = [.. postings.Where(p => p.Minor != 0)],
        };
    }

    internal LedgerEntry WithMoney(PaymentMethod? method, string? reference, string? receipt)
    {
        Method = method;
        Reference = reference;
        Receipt = receipt;
        return this;
    }

    internal LedgerEntry Between(string? givenBy, string? takenBy)
    {
        GivenBy = givenBy;
        TakenBy = takenBy;
        return this;
    }

    /// <summary>Forgets the name of who gave something in exchange.</summary>
    public void ForgetPerson() => GivenBy = null;

    internal LedgerEntry Reversing(LedgerEntry entry)
    {
        Reverses = entry.Id;
        Method = entry.Method;
        return this;
    }

    internal LedgerEntry Booking(InvoiceId paper)
    {
        Paper = paper;
        return this;
    }

    internal LedgerEntry Booking(AgreedCharge charge)
    {
        Charge = charge.Number;
        return this;
    }

    /// <summary>What the entry adds to one account.</summary>
    public long Sum(LedgerAccount account) => Postings.Where(p => p.Account == account).Sum(p => p.Minor);
}
