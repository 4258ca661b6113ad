namespace ShopFloor.Domain.Intake;

/// <summary>A customer as typed in at the counter; <see cref="Customer"/> checks it.</summary>
/// <param name="Name">Person or firm; needed.</param>
/// <param name="AddressLines">At most six lines, the country last.</param>
/// <param name="Email">At most 254 characters.</param>
/// <param name="Phone">Digits, spaces and + ( ) - / . only.</param>
/// <param name="TaxNumber">The customer's own tax registration, printed on invoices.</param>
/// <param name="TaxExemption">Why no tax is charged (certificate or rule); absent where tax is charged.</param>
/// <param name="Language">BCP 47 tag such as <c>en</c> or <c>de-AT</c>; absent means <c>en</c>.</param>
/// <param name="Payer">Who pays, where it is somebody else.</param>
public sealed record CustomerDetails(
    string? Name,
    IReadOnlyList<string?>? AddressLines = null,
    string? Email = null,
    string? Phone = null,
    string? TaxNumber = null,
    string? TaxExemption = null,
    string? Language = null,
    PayerDetails? Payer = null
);

/// <summary>A separate payer as typed in.</summary>
public sealed record PayerDetails(
    string? Name,
    IReadOnlyList<string?>? AddressLines = null,
    string? Email = null,
    string? TaxNumber = null
);
