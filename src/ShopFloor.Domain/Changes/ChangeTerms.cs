using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Quoting;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Domain.Changes;

public enum ChangeState
{
    Draft,

    /// <summary>Frozen and told to the customer; the work it concerns waits for the answer.</summary>
    Offered,
    Approved,
    Declined,

    /// <summary>Taken back by the shop.</summary>
    Withdrawn,
}

/// <summary>What a change is priced from.</summary>
public enum ChangeBasis
{
    /// <summary>Work, lines or work sent out beyond the quote.</summary>
    FurtherWork,

    /// <summary>The quote priced again with the car's condition as found.</summary>
    ConditionFound,
}

/// <summary>How the customer's yes reached the shop.</summary>
public enum ApprovalWay
{
    AtTheCounter,
    ByTelephone,
    InWriting,

    /// <summary>By the customer, through the link that was sent; the office cannot say so.</summary>
    ByLink,
}

/// <summary>Further work at an operation of the job, or at one that the change adds.</summary>
/// <param name="Quantity">Units of the labour standard, over 0.</param>
public sealed record ChangeWork(string OperationCode, string Skill, string StandardCode, decimal Quantity);

/// <summary>What a change order holds, before its price.</summary>
/// <param name="Reason">In words; may name people, so it is kept out of what is frozen.</param>
/// <param name="PhotoIds">Photos of the job that show why, at most <see cref="MostPhotos"/>.</param>
/// <param name="Operations">Operations that the route gets when the change is approved.</param>
/// <param name="InspectionLines">Lines that the inspection gets when the change is approved.</param>
/// <param name="ConditionAgreed">Answers agreed before; empty for further work.</param>
/// <param name="ConditionFound">Answers as found; empty for further work.</param>
/// <param name="PromiseDays">Days that the promise moves, earlier below 0; not together with <paramref name="PromiseOn"/>.</param>
/// <param name="PromiseOn">The new promised day.</param>
/// <param name="Holds">Operations that wait for the customer's answer; empty for all that are not begun.</param>
/// <param name="FromDropOff">Made from the condition found at the drop-off: work waits from the draft on.</param>
public sealed record ChangeTerms(
    ChangeBasis Basis,
    string Reason,
    IReadOnlyList<PhotoId> PhotoIds,
    IReadOnlyList<ChangeWork> Work,
    IReadOnlyList<AddedOperation> Operations,
    IReadOnlyList<LineToCheck> InspectionLines,
    Discount Discount,
    PriceExtras Extras,
    IReadOnlyDictionary<string, string> ConditionAgreed,
    IReadOnlyDictionary<string, string> ConditionFound,
    int? PromiseDays,
    DateOnly? PromiseOn,
    IReadOnlyList<string> Holds,
    bool FromDropOff
)
{
    public const int MostPhotos = 20;
    public const int MostOperations = 20;
    public const int MostLines = 40;

    /// <summary>The furthest a promise is moved, in days either way.</summary>
    public const int MostDays = 366;

    /// <summary>The day promised after the change.</summary>
    /// <param name="promised">The day promised now; null where none is.</param>
    public DateOnly? PromiseAfter(DateOnly? promised) => PromiseOn ?? promised?.AddDays(PromiseDays ?? 0);
}

/// <summary>A change order's price, and for a condition found otherwise the two prices it is the difference of.</summary>
/// <param name="Priced">What the change adds; below zero where it takes off.</param>
/// <param name="Agreed">The quote as agreed before; null for further work.</param>
/// <param name="Found">The quote with the condition found; null for further work.</param>
/// <param name="Sentences">What each answer found otherwise changes.</param>
public sealed record ChangePrice(
    PricedQuote Priced,
    PricedQuote? Agreed,
    PricedQuote? Found,
    IReadOnlyList<string> Sentences
);

public static class ChangeWords
{
    /// <summary>As people read it.</summary>
    public static string Title(this ApprovalWay way) =>
        way switch
        {
            ApprovalWay.AtTheCounter => "at the counter",
            ApprovalWay.ByTelephone => "by telephone",
            ApprovalWay.InWriting => "in writing",
            ApprovalWay.ByLink => "by the link",
            _ => throw new ArgumentOutOfRangeException(nameof(way), way, "Unknown way."),
        };

    /// <summary>As it reads after "is".</summary>
    public static string Title(this ChangeState state) =>
        state switch
        {
            ChangeState.Draft => "a draft",
            ChangeState.Offered => "offered",
            ChangeState.Approved => "approved",
            ChangeState.Declined => "declined",
            ChangeState.Withdrawn => "withdrawn",
            _ => throw new ArgumentOutOfRangeException(nameof(state), state, "Unknown state."),
        };
}
