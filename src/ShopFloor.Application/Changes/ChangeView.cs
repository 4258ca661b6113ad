using ShopFloor.Domain.Changes;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Changes;

/// <summary>A photo that shows the reason.</summary>
/// <param name="IsRemoved">The picture was deleted since; only the record is left.</param>
public sealed record ChangePhoto(PhotoId Id, string? Caption, bool IsRemoved);

/// <summary>One change order as pages and API show it.</summary>
/// <param name="PromisedBefore">The day promised before it: as frozen, or as it is now for a draft.</param>
/// <param name="TakenBy">Who of the shop took the answer, or withdrew it.</param>
/// <param name="AgreedMinor">The job's total without this change: accepted quote and the other approved changes.</param>
public sealed record ChangeView(
    ChangeOrderId Id,
    long Version,
    string Number,
    JobId JobId,
    string JobNumber,
    JobState JobState,
    string Customer,
    string Car,
    ChangeState State,
    ChangeTerms Terms,
    ChangePrice Price,
    IReadOnlyList<ChangePhoto> Photos,
    DateTimeOffset CreatedAt,
    DateTimeOffset? OfferedAt,
    string? ContentHash,
    DateOnly? PromisedBefore,
    DateOnly? PromisedAfter,
    DateTimeOffset? ClosedAt,
    string? TakenBy,
    string? ApprovedBy,
    ApprovalWay? ApprovedHow,
    string? CloseReason,
    long AgreedMinor
)
{
    /// <summary>The job's total with this change.</summary>
    public long AgreedWithMinor => AgreedMinor + Price.Priced.TotalMinor;
}

/// <summary>One row of a job's change orders.</summary>
public sealed record ChangeRow(
    ChangeOrderId Id,
    string Number,
    ChangeState State,
    bool IsCondition,
    string Reason,
    long TotalMinor,
    decimal HoursMore,
    DateTimeOffset CreatedAt,
    DateTimeOffset? OfferedAt,
    DateTimeOffset? ClosedAt
);

/// <summary>The change orders of a job and what they make of its total.</summary>
/// <param name="QuoteTotalMinor">Total of the accepted quote.</param>
/// <param name="ApprovedMinor">Sum of the approved changes; below zero where they take off.</param>
/// <param name="ChargedMinor">What the job's account charges: the two together, until the job is cancelled.</param>
public sealed record JobChanges(
    JobId JobId,
    JobState JobState,
    string QuoteNumber,
    string Currency,
    long QuoteTotalMinor,
    long ApprovedMinor,
    long ChargedMinor,
    IReadOnlyList<ChangeRow> Changes
)
{
    public long AgreedMinor => QuoteTotalMinor + ApprovedMinor;
}
