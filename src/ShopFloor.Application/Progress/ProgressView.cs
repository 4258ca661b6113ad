using ShopFloor.Domain.Common;
using ShopFloor.Domain.Diary;
using ShopFloor.Domain.Intake;
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

/// <summary>Something the shop waits for from the customer.</summary>
public abstract record AwaitedThing
{
    private AwaitedThing() { }

    public sealed record Signature : AwaitedThing;

    /// <param name="Price">Null while the shop shows no prices.</param>
    public sealed record Answer(string Number, DateOnly OfferedOn, Money? Price) : AwaitedThing;

    /// <param name="What">In the words in which it was agreed with the customer.</param>
    public sealed record Part(string What, DateOnly DueOn, bool IsLate) : AwaitedThing;
}

/// <summary>The promised day.</summary>
/// <param name="Before">The day promised before the last move, if it was moved.</param>
/// <param name="Reason">Why, as far as the shop tells the customer.</param>
public sealed record PromisedDay(DateOnly On, DateOnly? Before, string? Reason);

/// <summary>A photo that the shop shows; its caption stays in the shop.</summary>
/// <param name="Zone">Code of the place on the car it shows; null where it was not placed.</param>
public sealed record ShownPhoto(PhotoId Id, PhotoKind Kind, string? Zone, DateOnly On, int Width, int Height);

public sealed record ShownNote(string Text, DateOnly On);

/// <summary>A released paper that exists.</summary>
/// <param name="Path">The end of its address under the link.</param>
/// <param name="Number">Of an invoice or credit note; null for the others.</param>
public sealed record ShownPaper(ProgressPaper Paper, string Path, string? Number, bool IsCredit);

/// <summary>Shown only where the shop shows prices.</summary>
/// <param name="Open">What is still to pay; below zero the shop owes it.</param>
public sealed record ShownPrices(Money Agreed, Money Paid, Money Open);

/// <summary>All that the customer's page may say. What is not a member here cannot be shown: no names of people, no hours, no costs, no notes of the shop's own.</summary>
/// <param name="Car">Year, make and model; null where nothing is known of a car.</param>
/// <param name="Kind">Whether a car, a kit or a part is spoken of.</param>
/// <param name="AsOf">The shop's local time of this answer.</param>
/// <param name="Seen">Number of the job's newest event that this answer knows of; it says nothing but that something happened.</param>
/// <param name="Language">What the customer has chosen; null lets the browser ask.</param>
public sealed record ProgressView(
    string ShopName,
    string? Phone,
    string? Email,
    string? OpeningHours,
    string? Car,
    SaleKind Kind,
    string JobNumber,
    ProgressStand Stand,
    ProgressStory Story,
    IReadOnlyList<AwaitedThing> Awaited,
    PromisedDay? Promised,
    IReadOnlyList<ShownNote> Notes,
    IReadOnlyList<ShownPhoto> Photos,
    IReadOnlyList<ShownPaper> Papers,
    ShownPrices? Prices,
    DateTimeOffset AsOf,
    long Seen,
    string? Language
)
{
    /// <summary>Witness points that the customer may attend; the work does not wait.</summary>
    public IReadOnlyList<PointToAttend> MayAttend { get; init; } = [];

    /// <summary>Between which days it will likely be done; null where the shop does not show it or nothing can be said.</summary>
    public LikelyDays? Likely { get; init; }

    /// <summary>When the car is brought and fetched, as far as that is agreed and still to come.</summary>
    public IReadOnlyList<AgreedTime> Times { get; init; } = [];
}

/// <summary>Days between which a car will likely be done, by the newest forecast.</summary>
/// <param name="From">As likely done by then as not.</param>
/// <param name="To">Done by then in 85 of 100 cases.</param>
public sealed record LikelyDays(DateOnly From, DateOnly To);

/// <summary>A day and a time agreed with the customer.</summary>
/// <param name="Time">Such as 08:30; null: any time of the day.</param>
public sealed record AgreedTime(AppointmentKind Kind, DateOnly Day, string? Time);

/// <summary>What the customer may see being done or looked at.</summary>
/// <param name="IsInWork">It is being done now; else it comes next.</param>
public sealed record PointToAttend(string What, bool IsInWork);
