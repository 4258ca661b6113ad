using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Application.Intake;

/// <summary>A customer as the office and the API see them.</summary>
public sealed record CustomerView(
    CustomerId Id,
    long Version,
    string Name,
    IReadOnlyList<string> AddressLines,
    string? Email,
    string? Phone,
    string? TaxNumber,
    string? TaxExemption,
    string Language,
    Payer? Payer,
    DateTimeOffset? ErasedAt
)
{
    public static CustomerView Of(Customer customer) =>
        new(
            customer.Id,
            customer.Version,
            customer.Name,
            customer.AddressLines,
            customer.Email,
            customer.Phone,
            customer.TaxNumber,
            customer.TaxExemption,
            customer.Language,
            customer.Payer,
            customer.ErasedAt
        );
}
