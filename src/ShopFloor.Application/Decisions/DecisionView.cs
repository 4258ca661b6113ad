using ShopFloor.Domain.Common;
using ShopFloor.Domain.Decisions;
using ShopFloor.Domain.Diary;

namespace ShopFloor.Application.Decisions;

/// <summary>All that the page of a link may say. What is not a member here cannot be shown: no names of people, no costs, no internal notes.</summary>
/// <param name="About">The car, or what is sold.</param>
/// <param name="Papers">The quotes to choose among, or the change order; empty for the other kinds.</param>
/// <param name="Part">The part that is asked about.</param>
/// <param name="Time">The appointment that is asked about.</param>
/// <param name="Shut">Why nothing can be decided any more, though the link is good; null while it can.</param>
/// <param name="Answered">What was answered by this link.</param>
/// <param name="MayAsk">A question can still be asked.</param>
/// <param name="Language">What the customer has chosen; null lets the browser ask.</param>
public sealed record DecisionView(
    DecisionLinkId Id,
    DecisionKind Kind,
    string ShopName,
    string? Phone,
    string? Email,
    Told About,
    IReadOnlyList<DecisionPaper> Papers,
    PartAsked? Part,
    TimeAsked? Time,
    Told? Shut,
    DecisionAnswered? Answered,
    bool MayAsk,
    string? Language
);

/// <summary>One thing to say yes to, as it was frozen.</summary>
/// <param name="Sentence">What it is, in one sentence with its price.</param>
/// <param name="Lines">What makes up the price.</param>
/// <param name="Hash">Content hash of what is shown: it goes back with the answer.</param>
/// <param name="Shut">Why this one can no longer be taken.</param>
public sealed record DecisionPaper(
    Guid Id,
    Told Number,
    Told Sentence,
    Told Total,
    IReadOnlyList<(Told Label, Told Value)> Facts,
    IReadOnlyList<(Told What, Told Amount)> Lines,
    IReadOnlyList<Told> Notes,
    string Hash,
    Told? Shut
);

/// <summary>A part of the customer's own.</summary>
/// <param name="Hash">Of what is shown: it goes back with the answer.</param>
public sealed record PartAsked(Guid Id, string What, DateOnly DueOn, DateOnly Earliest, DateOnly Latest, string Hash);

/// <summary>When the car is to be brought or fetched, and where.</summary>
/// <param name="Time">Such as 08:30; null: any time of the day.</param>
/// <param name="Hash">Of what is shown: it goes back with the answer.</param>
public sealed record TimeAsked(
    Guid Id,
    AppointmentKind Kind,
    DateOnly Day,
    string? Time,
    string? Address,
    string? OpeningHours,
    string Hash
);

/// <summary>What was answered, and on which local day.</summary>
public sealed record DecisionAnswered(DecisionAnswer Answer, DateOnly On);
