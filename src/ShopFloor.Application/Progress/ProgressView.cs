using ShopFloor.Domain.Common;
using ShopFloor.Domain.Progress;

namespace ShopFloor.Application.Progress;

/// <summary>How the job stands for the customer.</summary>
public enum ProgressStand
{
    InTheShop,
    ReadyForCollection,
    HandedOver,
    Ended,
}

/// <summary>All that the customer's page may say. What is not a member here cannot be shown: no names of people, no hours, no prices, no notes.</summary>
/// <param name="Car">Year, make and model; without a car what is sold.</param>
/// <param name="Kind">Whether a car, a kit or a part is spoken of.</param>
/// <param name="Awaited">What the shop waits for from the customer, a sentence each.</param>
/// <param name="PromisedOn">The day the car should be ready; null when none was promised.</param>
/// <param name="PromisedBefore">The day promised before the last move, if it was moved.</param>
/// <param name="AsOf">The shop's local time of this answer.</param>
/// <param name="Seen">Number of the job's newest event that this answer knows of; it says nothing but that something happened.</param>
public sealed record ProgressView(
    string ShopName,
    string? Phone,
    string? Email,
    string? OpeningHours,
    string Accent,
    string Car,
    SaleKind Kind,
    string JobNumber,
    ProgressStand Stand,
    ProgressStory Story,
    IReadOnlyList<string> Awaited,
    DateOnly? PromisedOn,
    DateOnly? PromisedBefore,
    DateTimeOffset AsOf,
    long Seen
)
{
    /// <summary>Witness points that the customer may attend, a sentence each; the work does not wait.</summary>
    public IReadOnlyList<string> MayAttend { get; init; } = [];
}
