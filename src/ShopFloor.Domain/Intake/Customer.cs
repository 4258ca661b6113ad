using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Intake;

/// <summary>Who pays instead of the customer: a firm, a club, a parent.</summary>
public sealed record Payer(string Name, IReadOnlyList<string> AddressLines, string? Email, string? TaxNumber);

/// <summary>The person or firm whose car it is. All personal data of a customer lives here and on the rows that <see cref="Erase"/> is told of; events and papers hold only the id.</summary>
public sealed class Customer : IVersioned
{
    /// <summary>What stands in the place of the name after erasure.</summary>
    public const string ErasedName = "Erased customer";

    private Customer() { }

    public CustomerId Id { get; private set; }

    public string Name { get; private set; } = "";

    public IReadOnlyList<string> AddressLines { get; private set; } = [];

    public string? Email { get; private set; }

    public string? Phone { get; private set; }

    public string? TaxNumber { get; private set; }

    /// <summary>Certificate or rule by which no tax is charged; null where tax is charged.</summary>
    public string? TaxExemption { get; private set; }

    public bool IsTaxExempt => TaxExemption is not null;

    /// <summary>BCP 47 tag.</summary>
    public string Language { get; private set; } = ContactRules.DefaultLanguage;

    public Payer? Payer { get; private set; }

    /// <summary>Upper-case name, e-mail and phone for searching.</summary>
    public string SearchText { get; private set; } = "";

    public DateTimeOffset RegisteredAt { get; private set; }

    /// <summary>When the personal data was erased; null while it is kept.</summary>
    public DateTimeOffset? ErasedAt { get; private set; }

    public long Version { get; private set; }

    /// <summary>Name for the bill: the payer's where there is one.</summary>
    public string BillTo => Payer?.Name ?? Name;

    /// <summary>A new customer, or what is wrong with the details (paths as in <see cref="CustomerDetails"/>, camelCase).</summary>
    public static Outcome<Customer> Register(CustomerId id, CustomerDetails details, DateTimeOffset at)
    {
        var customer = new Customer { Id = id, RegisteredAt = at };
        var applied = customer.Apply(details);
        return applied.IsSuccess ? customer : applied.Failure;
    }

    /// <summary>Replaces all details. Refused after erasure.</summary>
    public Outcome<Done> Change(CustomerDetails details) => ErasedAt is null ? Apply(details) : AlreadyErased();

    /// <summary>Forgets everything personal; the row stays, because jobs, quotes and events refer to its id. Erasing twice is refused.</summary>
    public Outcome<Done> Erase(DateTimeOffset at)
    {
        if (ErasedAt is not null)
        {
            return AlreadyErased();
        }

        Name = ErasedName;
        AddressLines = [];
        Email = Phone = TaxNumber = TaxExemption = null;
        Language = ContactRules.DefaultLanguage;
        Payer = null;
        SearchText = "";
        ErasedAt = at;
        return Outcome.Ok;
    }

    private Outcome<Done> Apply(CustomerDetails details)
    {
        var errors = new FieldErrors();
        var name = TextRules.Required(details.Name, "name", "The customer's name", TextRules.Name, errors);
        var address = ContactRules.CleanAddress(details.AddressLines, "addressLines", errors);
        var email = ContactRules.CleanEmail(details.Email, "email", errors);
        var phone = ContactRules.CleanPhone(details.Phone, "phone", errors);
        var taxNumber = TextRules.Optional(
            details.TaxNumber,
            "taxNumber",
            "The tax number",
            ContactRules.TaxNumber,
            errors
        );
        var exemption = TextRules.Optional(
            details.TaxExemption,
            "taxExemption",
            "The tax exemption",
            TextRules.ShortText,
            errors
        );
        var language = ContactRules.CleanLanguage(details.Language, "language", errors);
        var payer = details.Payer is null ? null : CleanPayer(details.Payer, errors);
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        Name = name;
        AddressLines = address;
        Email = email;
        Phone = phone;
        TaxNumber = taxNumber;
        TaxExemption = exemption;
        Language = language;
        Payer = payer;
        SearchText = TextRules.SearchForm(Name, Email, Phone, Payer?.Name);
        return Outcome.Ok;
    }

    private static Payer CleanPayer(PayerDetails details, FieldErrors errors) =>
        new(
            TextRules.Required(details.Name, "payer.name", "The payer's name", TextRules.Name, errors),
            ContactRules.CleanAddress(details.AddressLines, "payer.addressLines", errors),
            ContactRules.CleanEmail(details.Email, "payer.email", errors),
            TextRules.Optional(
                details.TaxNumber,
                "payer.taxNumber",
                "The payer's tax number",
                ContactRules.TaxNumber,
                errors
            )
        );

    private Failure AlreadyErased() =>
        Failure.Because(
            "erased",
            $"This customer's personal data was erased on {ErasedAt:yyyy-MM-dd}. Register the customer anew to work for them again."
        );
}
