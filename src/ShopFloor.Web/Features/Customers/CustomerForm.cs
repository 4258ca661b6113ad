using ShopFloor.Application.Intake;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Web.Features.Customers;

/// <summary>What is typed on the customer page.</summary>
public sealed class CustomerForm
{
    public string? Name { get; set; }
    public string? Email { get; set; }
    public string? Phone { get; set; }
    public string? Address { get; set; }
    public string? TaxNumber { get; set; }
    public string? TaxExemption { get; set; }
    public string? Language { get; set; } = "en";
    public bool HasPayer { get; set; }
    public string? PayerName { get; set; }
    public string? PayerAddress { get; set; }
    public string? PayerEmail { get; set; }
    public string? PayerTaxNumber { get; set; }

    public void Read(CustomerView customer)
    {
        Name = customer.Name;
        Email = customer.Email;
        Phone = customer.Phone;
        Address = string.Join('\n', customer.AddressLines);
        TaxNumber = customer.TaxNumber;
        TaxExemption = customer.TaxExemption;
        Language = customer.Language;
        HasPayer = customer.Payer is not null;
        PayerName = customer.Payer?.Name;
        PayerAddress = string.Join('\n', customer.Payer?.AddressLines ?? []);
        PayerEmail = customer.Payer?.Email;
        PayerTaxNumber = customer.Payer?.TaxNumber;
    }

    public CustomerDetails ToDetails() =>
        new(
            Name,
            LinesOf(Address),
            Email,
            Phone,
            TaxNumber,
            TaxExemption,
            Language,
            HasPayer ? new PayerDetails(PayerName, LinesOf(PayerAddress), PayerEmail, PayerTaxNumber) : null
        );

    private static string[] LinesOf(string? text) =>
        (text ?? "").Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
}
