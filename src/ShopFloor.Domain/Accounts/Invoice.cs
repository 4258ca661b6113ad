using System.Text.Json;
using System.Text.Json.Serialization;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Domain.Accounts;

/// <summary>A row of an invoice.</summary>
public sealed record InvoiceLine(
    string Description,
    decimal Quantity,
    string Unit,
    long UnitPriceMinor,
    long NetMinor,
    long DiscountMinor,
    IReadOnlyList<string> TaxCodes
);

/// <summary>What is invoiced, added up by the same rules as the quote.</summary>
public sealed record InvoiceContent(
    string CurrencyCode,
    bool PricesIncludeTax,
    IReadOnlyList<InvoiceLine> Lines,
    long SubtotalMinor,
    long DiscountMinor,
    IReadOnlyList<QuotedTax> Taxes,
    long TaxMinor,
    long TotalMinor
)
{
    /// <summary>The whole of an accepted quote.</summary>
    public static InvoiceContent Of(PricedQuote priced)
    {
        ArgumentNullException.ThrowIfNull(priced);
        return new(
            priced.CurrencyCode,
            priced.PricesIncludeTax,
            [
                .. priced.Lines.Select(l => new InvoiceLine(
                    l.Description,
                    l.Quantity,
                    l.Unit,
                    l.UnitPriceMinor,
                    l.NetMinor,
                    l.DiscountMinor,
                    l.TaxCodes
                )),
            ],
            priced.SubtotalMinor,
            priced.DiscountMinor,
            priced.Taxes,
            priced.TaxMinor,
            priced.TotalMinor
        );
    }
}

/// <summary>An invoice as issued: gapless number, frozen content, hash. Names and addresses are read from the customer's row when it is printed, so that the hash outlives their erasure.</summary>
public sealed class Invoice
{
    private static readonly JsonSerializerOptions Options = new(JsonSerializerDefaults.Web)
    {
        Converters = { new JsonStringEnumConverter(JsonNamingPolicy.CamelCase), new DecimalAsString() },
    };

    private Invoice() { }

    public InvoiceId Id { get; private set; }

    /// <summary>E.g. <c>I-2026-0001</c>.</summary>
    public string Number { get; private set; } = "";

    public JobId JobId { get; private set; }

    public CustomerId CustomerId { get; private set; }

    /// <summary>Number and revision of the quote it comes from, for the paper.</summary>
    public string QuoteReference { get; private set; } = "";

    public DateOnly IssuedOn { get; private set; }

    /// <summary>The day on which the work was supplied; tax invoices state it.</summary>
    public DateOnly SuppliedOn { get; private set; }

    public DateTimeOffset IssuedAt { get; private set; }

    public PersonId? IssuedBy { get; private set; }

    public InvoiceContent Content { get; private set; } = null!;

    public long TotalMinor { get; private set; }

    public string Snapshot { get; private set; } = "";

    /// <summary>SHA-256 of <see cref="Snapshot"/>, 64 lower-case hex digits.</summary>
    public string ContentHash { get; private set; } = "";

    /// <summary>Issues an invoice on a day.</summary>
    /// <param name="suppliedOn">Not after the day of issue.</param>
    public static Outcome<Invoice> Issue(
        InvoiceId id,
        string number,
        JobAccount account,
        string quoteReference,
        InvoiceContent content,
        DateOnly suppliedOn,
        EntryStamp stamp
    )
    {
        ArgumentNullException.ThrowIfNull(account);
        ArgumentNullException.ThrowIfNull(content);
        ArgumentNullException.ThrowIfNull(stamp);
        if (suppliedOn > stamp.On)
        {
            return Failure.Field(
                "suppliedOn",
                "The supply date lies after the invoice date; give the day the work was done."
            );
        }

        if (content.TotalMinor != account.ChargedMinor)
        {
            return Failure.Because(
                "chargesDiffer",
                "The account charges another total than this invoice; look at the account's entries before invoicing."
            );
        }

        var invoice = new Invoice
        {
            Id = id,
            Number = number,
            JobId = account.Id,
            CustomerId = account.CustomerId,
            QuoteReference = quoteReference,
            IssuedOn = stamp.On,
            SuppliedOn = suppliedOn,
            IssuedAt = stamp.RecordedAt,
            IssuedBy = stamp.RecordedBy,
            Content = content,
            TotalMinor = content.TotalMinor,
        };
        invoice.Snapshot = CanonicalJson.Write(
            new
            {
                Schema = 1,
                invoice.Number,
                InvoiceId = id.Value,
                JobId = account.Id.Value,
                CustomerId = account.CustomerId.Value,
                quoteReference,
                invoice.IssuedOn,
                suppliedOn,
                content,
            },
            Options
        );
        invoice.ContentHash = CanonicalJson.Sha256(invoice.Snapshot);
        return invoice;
    }
}
