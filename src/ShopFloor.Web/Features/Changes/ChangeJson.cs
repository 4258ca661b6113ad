using ShopFloor.Application.Changes;
using ShopFloor.Domain.Changes;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Quoting;
using ShopFloor.Domain.Routing;
using ShopFloor.Web.Features.Quotes;

namespace ShopFloor.Web.Features.Changes;

/// <summary>An operation that a change adds.</summary>
public sealed record ChangeOperationJson(
    string Code,
    string Title,
    Phase Phase,
    string Skill,
    string Place,
    IReadOnlyList<string> After,
    IReadOnlyList<string> Before,
    IReadOnlyList<string> NeedsOpen,
    IReadOnlyList<string> Closes,
    IReadOnlyList<string> Opens,
    IReadOnlyList<RouteGate> Gates,
    bool HotWork,
    int CureMinutes,
    string Instruction,
    string? Caution,
    bool PaintOrSolvent
)
{
    public static ChangeOperationJson Of(AddedOperation added) =>
        new(
            added.Route.Code,
            added.Route.Title,
            added.Route.Phase,
            added.Route.Skill,
            added.Route.Place,
            added.Route.After,
            added.Before,
            added.Route.NeedsOpen,
            added.Route.Closes,
            added.Route.Opens,
            added.Route.Gates,
            added.Route.HotWork,
            added.Route.CureMinutes,
            added.Route.Instruction,
            added.Route.Caution,
            added.Route.PaintOrSolvent
        );
}

/// <summary>A change order's price before it is kept.</summary>
/// <param name="Sentences">What each answer found otherwise changes.</param>
public sealed record ChangePriceJson(
    PriceJson Price,
    IReadOnlyList<string> Sentences,
    IReadOnlyList<ChangeOperationJson> Operations
)
{
    public static ChangePriceJson Of(PricedChange change) =>
        new(
            PriceJson.Of(change.Price.Priced),
            change.Price.Sentences,
            [.. change.Terms.Operations.Select(ChangeOperationJson.Of)]
        );
}

/// <summary>One change order in the API.</summary>
/// <param name="TotalMinor">What the job's total changes by, tax included; below zero where it takes off.</param>
/// <param name="JobTotalBeforeMinor">Accepted quote and the other approved changes.</param>
public sealed record ChangeJson(
    Guid Id,
    long Version,
    string Number,
    Guid JobId,
    string JobNumber,
    ChangeState State,
    ChangeBasis Basis,
    string Reason,
    IReadOnlyList<ChangePhoto> Photos,
    IReadOnlyList<ChangeWork> Work,
    IReadOnlyList<ChangeOperationJson> Operations,
    IReadOnlyList<LineToCheck> InspectionLines,
    IReadOnlyDictionary<string, string> ConditionAgreed,
    IReadOnlyDictionary<string, string> ConditionFound,
    IReadOnlyList<string> Sentences,
    IReadOnlyList<string> OutsideWorkCodes,
    decimal? DiscountPercent,
    IReadOnlyList<string> DiscountLineCodes,
    IReadOnlyList<string> Holds,
    int? PromiseDays,
    DateOnly? PromiseOn,
    DateOnly? PromisedBefore,
    DateOnly? PromisedAfter,
    string Currency,
    bool PricesIncludeTax,
    IReadOnlyList<PricedLine> Lines,
    long SubtotalMinor,
    long DiscountMinor,
    IReadOnlyList<QuotedTax> Taxes,
    long TaxMinor,
    long TotalMinor,
    HoursJson Hours,
    IReadOnlyList<string> Precautions,
    long JobTotalBeforeMinor,
    long JobTotalAfterMinor,
    DateTimeOffset CreatedAt,
    DateTimeOffset? OfferedAt,
    string? ContentHash,
    DateTimeOffset? ClosedAt,
    string? TakenBy,
    string? ApprovedBy,
    ApprovalWay? ApprovedHow,
    string? CloseReason
)
{
    public static ChangeJson Of(ChangeView view)
    {
        var (terms, price) = (view.Terms, PriceJson.Of(view.Price.Priced));
        return new ChangeJson(
            view.Id.Value,
            view.Version,
            view.Number,
            view.JobId.Value,
            view.JobNumber,
            view.State,
            terms.Basis,
            terms.Reason,
            view.Photos,
            terms.Work,
            [.. terms.Operations.Select(ChangeOperationJson.Of)],
            terms.InspectionLines,
            terms.ConditionAgreed,
            terms.ConditionFound,
            view.Price.Sentences,
            terms.Extras.OutsideWorkCodes,
            terms.Discount.Percent,
            terms.Extras.DiscountLineCodes,
            terms.Holds,
            terms.PromiseDays,
            terms.PromiseOn,
            view.PromisedBefore,
            view.PromisedAfter,
            price.Currency,
            price.PricesIncludeTax,
            price.Lines,
            price.SubtotalMinor,
            price.DiscountMinor,
            price.Taxes,
            price.TaxMinor,
            price.TotalMinor,
            price.Hours,
            price.Precautions,
            view.AgreedMinor,
            view.AgreedWithMinor,
            view.CreatedAt,
            view.OfferedAt,
            view.ContentHash,
            view.ClosedAt,
            view.TakenBy,
            view.ApprovedBy,
            view.ApprovedHow,
            view.CloseReason
        );
    }
}
