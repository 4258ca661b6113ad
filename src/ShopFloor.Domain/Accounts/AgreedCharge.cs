using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Accounts;

/// <summary>Work the customer agreed to pay for: the accepted quote is the first, each approved change a further one. The job's total is their sum.</summary>
public sealed class AgreedCharge
{
    private AgreedCharge() { }

    public AgreedChargeId Id { get; private set; }

    public JobId JobId { get; private set; }

    /// <summary>1 for the quote, 2, 3 … for changes.</summary>
    public int Number { get; private set; }

    /// <summary>Number of the quote or change with its revision, e.g. <c>Q-2026-0001 revision 1</c>.</summary>
    public string Reference { get; private set; } = "";

    /// <summary>As agreed; never changed.</summary>
    public InvoiceContent Content { get; private set; } = null!;

    /// <summary>What of it counts after the job was cancelled; null while it was not.</summary>
    public InvoiceContent? Settled { get; private set; }

    /// <summary>What is charged for it now.</summary>
    public InvoiceContent Counted => Settled ?? Content;

    internal static AgreedCharge Of(
        AgreedChargeId id,
        JobId job,
        int number,
        string reference,
        InvoiceContent content
    ) =>
        new()
        {
            Id = id,
            JobId = job,
            Number = number,
            Reference = reference,
            Content = content,
        };

    internal void Settle(InvoiceContent workDone) => Settled = workDone;
}
