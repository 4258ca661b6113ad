using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Quoting;

/// <summary>The offer as frozen at sending: canonical JSON, decimals as strings, without the shop's own costs, the customer and the car by id only, so that its hash outlives the erasure of names.</summary>
public static class QuoteSnapshot
{
    /// <summary>Raised when the layout changes; readers of old papers look here first.</summary>
    public const int Schema = 2;

    internal static string Write(Quote quote) =>
        CanonicalJson.Write(
            new
            {
                Schema,
                quote.Number,
                quote.Revision,
                QuoteId = quote.Id.Value,
                CustomerId = quote.CustomerId.Value,
                CarId = quote.CarId?.Value,
                PriceBookId = quote.PriceBookId.Value,
                quote.Scope,
                quote.Terms.Discount,
                quote.Terms.TradeCreditMinor,
                quote.Terms.IsTaxExempt,
                Extras = quote.Terms.Extras with
                {
                    Lines = [.. quote.Terms.Extras.Lines.Select(l => l with { UnitCostMinor = null })],
                },
                ReturnOfJob = quote.Terms.ReturnOfJob?.Value,
                quote.Terms.PromiseDate,
                quote.ValidUntil,
                quote.SentAt,
                CustomerNoteSha256 = Hash(quote.Terms.CustomerNote),
                TradeCreditNoteSha256 = Hash(quote.Terms.TradeCreditNote),
                Priced = quote.Priced with
                {
                    Cost = null,
                },
            },
            FrozenJson.Options
        );

    /// <summary>Whether a stored snapshot still has its hash.</summary>
    public static bool IsIntact(string snapshot, string contentHash) =>
        string.Equals(CanonicalJson.Sha256(snapshot), contentHash, StringComparison.Ordinal);

    // Notes are free text and may name people: the offer is bound to their wording without keeping it.
    private static string? Hash(string? note) => note is null ? null : CanonicalJson.Sha256(note);
}
