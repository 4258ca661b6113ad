using System.Globalization;
using ShopFloor.Domain.Common;

namespace ShopFloor.Documents.Papers.Models;

/// <summary>Sheet sizes: A4 is 210 x 297 mm (ISO 216), Letter is 8.5 x 11 in (ANSI/ASME Y14.1).</summary>
public enum PaperSize
{
    A4,
    Letter,
}

/// <summary>How a paper is set.</summary>
/// <param name="Size">The sheet.</param>
/// <param name="MadeAt">When it is made, in the shop's offset; printed at the foot.</param>
/// <param name="Language">BCP 47 tag: language of the text, and how numbers and dates are written.</param>
public sealed record PaperSettings(PaperSize Size, DateTimeOffset MadeAt, string Language = "en-GB")
{
    /// <summary>How numbers are written; an unknown language is written as en-GB.</summary>
    public CultureInfo Culture
    {
        get
        {
            try
            {
                return CultureInfo.GetCultureInfo(Language, predefinedOnly: true);
            }
            catch (CultureNotFoundException)
            {
                return CultureInfo.GetCultureInfo("en-GB");
            }
        }
    }
}

/// <summary>A label with its value, e.g. <c>Paint code</c> and <c>KB-114</c>.</summary>
public sealed record PaperFact(string Label, string Value);

/// <summary>The shop as it stands at the head of its papers.</summary>
/// <param name="Name">The name over the door.</param>
/// <param name="LegalName">The name that answers for it; null when it is the same.</param>
/// <param name="AddressLines">Postal address, one line each.</param>
/// <param name="TaxNumber">Tax registration as the law of the place wants it written; null when the shop has none.</param>
/// <param name="Logo">PNG or JPEG; null when the shop has none.</param>
public sealed record PaperShop(
    string Name,
    string? LegalName,
    IReadOnlyList<string> AddressLines,
    string? TaxNumber,
    string? Email,
    string? Phone,
    ReadOnlyMemory<byte>? Logo = null
);

/// <summary>The customer, or whoever pays for them.</summary>
/// <param name="TaxNumber">Null when they have none or it is not needed.</param>
public sealed record PaperParty(string Name, IReadOnlyList<string> AddressLines, string? TaxNumber = null);

/// <summary>The car as a paper names it.</summary>
/// <param name="Title">Make, model and model year in one line.</param>
/// <param name="Facts">What else matters on this paper: odometer, colour, body, steering side …</param>
public sealed record PaperCar(
    string Title,
    string? ChassisNumber,
    string? Registration,
    IReadOnlyList<PaperFact>? Facts = null
);

/// <summary>One priced row.</summary>
/// <param name="Unit">What is counted, e.g. <c>h</c>, <c>set</c>; null for single things.</param>
/// <param name="Net">As the totals say it, before discount.</param>
/// <param name="Note">A second line in small type: how it was reckoned, or what it covers.</param>
public sealed record PaperLine(
    string Description,
    decimal Quantity,
    string? Unit,
    Money UnitPrice,
    Money Net,
    string? Note = null,
    IReadOnlyList<string>? TaxCodes = null
);

/// <summary>One tax of the totals, zeros included where the tax applies.</summary>
/// <param name="RatePercent">0 to 100.</param>
public sealed record PaperTax(string Code, string Name, decimal RatePercent, Money Taxable, Money Tax);

/// <summary>The foot of a price table, as computed elsewhere; nothing is added up on paper.</summary>
/// <param name="Discount">Zero or more; printed with a minus sign when above zero.</param>
/// <param name="TradeCredit">Work or goods taken in exchange: a means of payment, so below the total.</param>
public sealed record PaperTotals(
    Money Subtotal,
    Money Discount,
    IReadOnlyList<PaperTax> Taxes,
    Money Total,
    Money TradeCredit,
    Money AmountDue,
    bool PricesIncludeTax
);

/// <summary>A name put under a paper.</summary>
/// <param name="Name">Who signed.</param>
/// <param name="At">When, in the shop's offset.</param>
/// <param name="Picture">PNG or JPEG of the strokes drawn on the screen; null when signed by typed name only.</param>
public sealed record PaperSignature(string Name, DateTimeOffset At, ReadOnlyMemory<byte>? Picture = null);

/// <summary>A rule book's figures that the work was held against.</summary>
/// <param name="ReadOn">The day the figures were read from it.</param>
public sealed record PaperRuleSet(string Name, string Edition, DateOnly? ReadOn, int? Version = null);
