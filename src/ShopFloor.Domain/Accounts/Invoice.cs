using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Accounts;

public enum InvoiceKind
{
    /// <summary>All that was agreed, on one invoice.</summary>
    Whole,

    /// <summary>A part of what is agreed; more follows.</summary>
    Part,

    /// <summary>The rest, after parts.</summary>
    Final,

    /// <summary>Takes an invoice back, whole or in part.</summary>
    Credit,
}

/// <summary>One side of an invoice as its head names it.</summary>
/// <param name="TaxNumber">Null where the party has none.</param>
public sealed record InvoiceParty(string Name, IReadOnlyList<string> AddressLines, string? TaxNumber);

/// <summary>Who invoices whom, as both stood on the day of issue.</summary>
/// <param name="TaxExemption">Why no tax is charged; null where tax is charged.</param>
/// <param name="Salt">Random; keeps erased names from being guessed by their hash.</param>
public sealed record InvoiceParties(InvoiceParty Seller, InvoiceParty Buyer, string? TaxExemption, string Salt);

/// <summary>What one issuing of an invoice or credit note is stamped with.</summary>
/// <param name="Number">Next of its series.</param>
/// <param name="References">Quote and changes it comes from, for the paper.</param>
/// <param name="SuppliedOn">The day the work was supplied; not after the day of issue.</param>
public sealed record InvoiceStamp(
    InvoiceId Id,
    string Number,
    string References,
    DateOnly SuppliedOn,
    InvoiceParties Parties,
    EntryStamp Entry
);

/// <summary>An invoice or credit note as issued: gapless number, frozen content, hash.</summary>
/// <remarks>Names and addresses are kept beside the frozen text, which holds only their salted hash: they can be erased and the paper's own hash stays valid.</remarks>
public sealed class Invoice
{
    private Invoice() { }

    public InvoiceId Id { get; private set; }

    /// <summary>E.g. <c>I-2026-0001</c>; credit notes count for themselves, <c>C-2026-0001</c>.</summary>
    public string Number { get; private set; } = "";

    public InvoiceKind Kind { get; private set; }

    public JobId JobId { get; private set; }

    public CustomerId CustomerId { get; private set; }

    /// <summary>The invoice that a credit note takes back; null on invoices.</summary>
    public InvoiceId? Credits { get; private set; }

    /// <summary>Number of the invoice that a credit note takes back.</summary>
    public string? CreditsNumber { get; private set; }

    /// <summary>Why a credit note was written.</summary>
    public string? Reason { get; private set; }

    /// <summary>Quote and changes it comes from, for the paper.</summary>
    public string QuoteReference { get; private set; } = "";

    public DateOnly IssuedOn { get; private set; }

    /// <summary>The day on which the work was supplied; tax invoices state it.</summary>
    public DateOnly SuppliedOn { get; private set; }

    public DateTimeOffset IssuedAt { get; private set; }

    public PersonId? IssuedBy { get; private set; }

    public InvoiceContent Content { get; private set; } = null!;

    public long TotalMinor { get; private set; }

    /// <summary>Null after the customer was erased.</summary>
    public InvoiceParties? Parties { get; private set; }

    public string PartiesHash { get; private set; } = "";

    public string Snapshot { get; private set; } = "";

    /// <summary>SHA-256 of <see cref="Snapshot"/>, 64 lower-case hex digits.</summary>
    public string ContentHash { get; private set; } = "";

    public bool IsCredit => Kind == InvoiceKind.Credit;

    /// <summary>+1 for an invoice, -1 for a credit note.</summary>
    public int Sign => IsCredit ? -1 : 1;

    /// <summary>Forgets who the paper was for; amounts, numbers and hashes stay.</summary>
    public void ForgetPerson() => Parties = null;

    /// <summary>What is not as it was issued or does not add up; empty when all is well.</summary>
    public IReadOnlyList<string> Audit()
    {
        var found = Content.Differences().ToList();
        void Check(bool isRight, string text)
        {
            if (!isRight)
            {
                found.Add(text);
            }
        }

        Check(CanonicalJson.Sha256(Snapshot) == ContentHash, "its hash differs");
        Check(Freeze() == Snapshot, "what is stored is not what was frozen");
        Check(Content.TotalMinor == TotalMinor, "its total is not its content's total");
        Check(Parties is null || HashOf(Parties) == PartiesHash, "its names and addresses were changed");
        return
        [
            .. found.Select(f => $"{(IsCredit ? "Credit note" : "Invoice")} {Number} is not what was issued: {f}."),
        ];
    }

    internal static Invoice Issue(
        InvoiceStamp stamp,
        InvoiceKind kind,
        JobAccount account,
        InvoiceContent content,
        Invoice? credits = null,
        string? reason = null
    )
    {
        var invoice = new Invoice
        {
            Id = stamp.Id,
            Number = stamp.Number,
            Kind = kind,
            JobId = account.Id,
            CustomerId = account.CustomerId,
            Credits = credits?.Id,
            CreditsNumber = credits?.Number,
            Reason = reason,
            QuoteReference = stamp.References,
            IssuedOn = stamp.Entry.On,
            SuppliedOn = stamp.SuppliedOn,
            IssuedAt = stamp.Entry.RecordedAt,
            IssuedBy = stamp.Entry.RecordedBy,
            Content = content,
            TotalMinor = content.TotalMinor,
            Parties = stamp.Parties,
            PartiesHash = HashOf(stamp.Parties),
        };
        invoice.Snapshot = invoice.Freeze();
        invoice.ContentHash = CanonicalJson.Sha256(invoice.Snapshot);
        return invoice;
    }

    private static string HashOf(InvoiceParties parties) =>
        CanonicalJson.Sha256(CanonicalJson.Write(parties, FrozenJson.Options));

    private string Freeze() =>
        CanonicalJson.Write(
            new
            {
                Schema = 2,
                Number,
                Kind,
                InvoiceId = Id.Value,
                JobId = JobId.Value,
                CustomerId = CustomerId.Value,
                Credits = CreditsNumber,
                Reason,
                QuoteReference,
                IssuedOn,
                SuppliedOn,
                PartiesHash,
                Content,
            },
            FrozenJson.Options
        );
}
