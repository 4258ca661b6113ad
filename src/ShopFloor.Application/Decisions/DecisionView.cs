using ShopFloor.Domain.Common;
using ShopFloor.Domain.Decisions;

namespace ShopFloor.Application.Decisions;

/// <summary>All that the page of a link may say. What is not a member here cannot be shown: no names of people, no costs, no internal notes.</summary>
/// <param name="About">The car, or what is sold.</param>
/// <param name="Papers">The quotes to choose among, or the change order; empty for the other kinds.</param>
/// <param name="Part">The part that is asked about.</param>
/// <param name="Shut">Why nothing can be decided any more, though the link is good; null while it can.</param>
/// <param name="Answered">What was answered by this link.</param>
/// <param name="MayAsk">A question can still be asked.</param>
public sealed record DecisionView(
    DecisionLinkId Id,
    DecisionKind Kind,
    string ShopName,
    string? Phone,
    string? Email,
    string About,
    IReadOnlyList<DecisionPaper> Papers,
    PartAsked? Part,
    string? Shut,
    DecisionAnswered? Answered,
    bool MayAsk
);

/// <summary>One thing to say yes to, as it was frozen.</summary>
/// <param name="Sentence">What it is, in one sentence with its price.</param>
/// <param name="Lines">What makes up the price.</param>
/// <param name="Hash">Content hash of what is shown: it goes back with the answer.</param>
/// <param name="Shut">Why this one can no longer be taken.</param>
public sealed record DecisionPaper(
    Guid Id,
    string Number,
    string Sentence,
    string Total,
    IReadOnlyList<(string Label, string Value)> Facts,
    IReadOnlyList<(string What, string Amount)> Lines,
    IReadOnlyList<string> Notes,
    string Hash,
    string? Shut
);

/// <summary>A part of the customer's own.</summary>
public sealed record PartAsked(string What, DateOnly DueOn, DateOnly Earliest, DateOnly Latest);

/// <summary>What was answered, and on which local day.</summary>
public sealed record DecisionAnswered(DecisionAnswer Answer, DateOnly On);
