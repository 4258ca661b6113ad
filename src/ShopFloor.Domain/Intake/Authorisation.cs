namespace ShopFloor.Domain.Intake;

/// <summary>The customer's yes to cutting and welding this car.</summary>
/// <param name="Signature">Who, how, when.</param>
/// <param name="NoticeHash">Hash of the <see cref="AuthorisationNotice"/> that was shown.</param>
/// <param name="ShownDifference">Price and hours difference that was shown before signing; null where there was none to show.</param>
public sealed record Authorisation(Signature Signature, string NoticeHash, ShownDifference? ShownDifference);

/// <summary>What the condition as found changed against the quote, as the customer saw it.</summary>
/// <param name="PriceMinor">Total as found less total as quoted, minor units of <paramref name="Currency"/>; may be negative.</param>
/// <param name="Currency">ISO 4217 code.</param>
/// <param name="HoursMore">Priced hours as found less as quoted.</param>
public sealed record ShownDifference(long PriceMinor, string Currency, decimal HoursMore);
