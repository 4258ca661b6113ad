using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Stock;

/// <summary>Somebody the shop buys from.</summary>
public sealed class Supplier : IVersioned
{
    public const int MostSuppliers = 1_000;
    public const int MostLeadDays = 365;

    private Supplier() { }

    public SupplierId Id { get; private set; }
    public long Version { get; private set; }
    public string Name { get; private set; } = "";
    public string? Email { get; private set; }
    public string? Phone { get; private set; }

    /// <summary>Days from order to delivery, as a rule; null: not known.</summary>
    public int? LeadDays { get; private set; }
    public string? Note { get; private set; }

    /// <summary>Nothing is bought there any more.</summary>
    public bool IsRetired { get; private set; }

    /// <summary>As typed.</summary>
    public sealed record Details(
        string? Name,
        string? Email = null,
        string? Phone = null,
        int? LeadDays = null,
        string? Note = null,
        bool? IsRetired = null
    );

    public static Outcome<Supplier> Add(SupplierId id, Details details)
    {
        var supplier = new Supplier { Id = id };
        return supplier.Change(details).Then<Supplier>(_ => supplier);
    }

    public Outcome<Done> Change(Details details)
    {
        ArgumentNullException.ThrowIfNull(details);
        var errors = new FieldErrors();
        var name = TextRules.Required(details.Name, "name", "The supplier's name", TextRules.Name, errors);
        var email = TextRules.Optional(details.Email, "email", "The e-mail address", TextRules.ShortText, errors);
        var phone = TextRules.Optional(details.Phone, "phone", "The telephone number", TextRules.Code, errors);
        var note = TextRules.Optional(details.Note, "note", "The note", TextRules.Note, errors);
        errors
            .AddIf(email is not null && !email.Contains('@'), "email", "An e-mail address has an @ in it.")
            .AddIf(
                details.LeadDays is < 0 or > MostLeadDays,
                "leadDays",
                $"Days to delivery go from 0 to {MostLeadDays}."
            );
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        (Name, Email, Phone, LeadDays, Note) = (name, email, phone, details.LeadDays, note);
        IsRetired = details.IsRetired ?? IsRetired;
        return Outcome.Ok;
    }
}
