using ShopFloor.Application.Quoting;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Web.Features.Quotes;

/// <summary>Hours of the whole car.</summary>
public sealed record HoursJson(decimal P50, decimal P80, decimal Priced, int ConfidencePercent);

/// <summary>A door and its hinge option.</summary>
public sealed record DoorJson(DoorSide Door, string HingeOptionCode);

/// <summary>The money of a price, named as the totals calculator names it.</summary>
public sealed record PriceJson(
    string Currency,
    bool PricesIncludeTax,
    IReadOnlyList<PricedLine> Lines,
    long SubtotalMinor,
    long DiscountMinor,
    IReadOnlyList<QuotedTax> Taxes,
    long TaxMinor,
    long TotalMinor,
    long TradeCreditMinor,
    long AmountDueMinor,
    long DepositMinor,
    HoursJson Hours,
    IReadOnlyList<string> Precautions,
    int PriceBookEdition,
    int EngineVersion
)
{
    /// <summary>What would change it; only where the price is not kept.</summary>
    public IReadOnlyList<AlternativeJson>? Alternatives { get; init; }

    public static PriceJson Of(QuotePreview preview) =>
        Of(preview.Priced) with
        {
            Alternatives =
            [
                .. preview.Alternatives.Select(a => new AlternativeJson(
                    a.Sentence,
                    a.HoursMore,
                    a.TotalMinorMore,
                    a.Lines
                )),
            ],
        };

    public static PriceJson Of(PricedQuote priced) =>
        new(
            priced.CurrencyCode,
            priced.PricesIncludeTax,
            priced.Lines,
            priced.SubtotalMinor,
            priced.DiscountMinor,
            priced.Taxes,
            priced.TaxMinor,
            priced.TotalMinor,
            priced.TradeCreditMinor,
            priced.AmountDueMinor,
            priced.DepositMinor,
            new(priced.Hours.P50, priced.Hours.P80, priced.Hours.Priced, priced.Hours.ConfidencePercent),
            priced.Precautions,
            priced.PriceBookEdition,
            priced.EngineVersion
        );
}

/// <summary>What one other choice would change.</summary>
public sealed record AlternativeJson(
    string Sentence,
    decimal HoursMore,
    long TotalMinorMore,
    IReadOnlyList<LineChange> Lines
);

/// <summary>One revision of a quote in the API.</summary>
/// <param name="DiscountPercent">As asked for; null where an amount or nothing was.</param>
/// <param name="DiscountMinor">What the discount comes to.</param>
public sealed record QuoteJson(
    Guid Id,
    long Version,
    string Number,
    int Revision,
    QuoteState State,
    Guid CustomerId,
    string CustomerName,
    Guid? CarId,
    string CarTitle,
    SaleKind Kind,
    string? KitCode,
    string UseCode,
    IReadOnlyList<string> RuleSetCodes,
    IReadOnlyList<DoorJson> Doors,
    IReadOnlyDictionary<string, string> Condition,
    IReadOnlyList<BenchItem> Bench,
    IReadOnlyList<string> OutsideWorkCodes,
    string? FreightZoneCode,
    decimal? FreightMassKg,
    Guid? ReturnOfJobId,
    string? FreeReason,
    decimal? DiscountPercent,
    IReadOnlyList<string> DiscountLineCodes,
    string? TradeCreditNote,
    string? CustomerNote,
    string? InternalNote,
    DateOnly? PromiseDate,
    DateOnly? ValidUntil,
    DateTimeOffset CreatedAt,
    DateTimeOffset? SentAt,
    string? ContentHash,
    string? AcceptedBy,
    DateTimeOffset? ClosedAt,
    LostReason? LostReason,
    string? DeclineReason,
    Guid? CopiedFrom,
    string Currency,
    bool PricesIncludeTax,
    IReadOnlyList<PricedLine> Lines,
    long SubtotalMinor,
    long DiscountMinor,
    IReadOnlyList<QuotedTax> Taxes,
    long TaxMinor,
    long TotalMinor,
    long TradeCreditMinor,
    long AmountDueMinor,
    long DepositMinor,
    HoursJson Hours,
    IReadOnlyList<string> Precautions,
    int PriceBookEdition,
    int EngineVersion,
    IReadOnlyList<QuoteRevision> Revisions
)
{
    public static QuoteJson Of(QuoteView view)
    {
        var scope = view.Terms.Scope;
        var price = PriceJson.Of(view.Priced);
        return new QuoteJson(
            view.Id.Value,
            view.Version,
            view.Number,
            view.Revision,
            view.State,
            view.CustomerId.Value,
            view.CustomerName,
            view.CarId?.Value,
            view.CarTitle,
            scope.Kind,
            scope.KitCode,
            scope.UseCode,
            scope.RuleSetCodes,
            [.. scope.Doors.Select(d => new DoorJson(d.Door, d.HingeOptionCode))],
            scope.Condition,
            scope.Bench,
            view.Terms.Extras.OutsideWorkCodes,
            view.Terms.Extras.FreightZoneCode,
            view.Terms.Extras.FreightMassKg,
            view.Terms.ReturnOfJob?.Value,
            view.Terms.Extras.FreeReason,
            view.Terms.Discount.Percent,
            view.Terms.Extras.DiscountLineCodes,
            view.Terms.TradeCreditNote,
            view.Terms.CustomerNote,
            view.Terms.InternalNote,
            view.Terms.PromiseDate,
            view.ValidUntil,
            view.CreatedAt,
            view.SentAt,
            view.ContentHash,
            view.AcceptedBy,
            view.ClosedAt,
            view.LostReason,
            view.DeclineReason,
            view.Terms.CopiedFrom?.Value,
            price.Currency,
            price.PricesIncludeTax,
            price.Lines,
            price.SubtotalMinor,
            price.DiscountMinor,
            price.Taxes,
            price.TaxMinor,
            price.TotalMinor,
            price.TradeCreditMinor,
            price.AmountDueMinor,
            price.DepositMinor,
            price.Hours,
            price.Precautions,
            price.PriceBookEdition,
            price.EngineVersion,
            view.Revisions
        );
    }
}
