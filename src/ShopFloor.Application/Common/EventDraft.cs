using ShopFloor.Domain.Common;

namespace ShopFloor.Application.Common;

/// <summary>What a use case wants remembered. Values in <paramref name="Before"/> and <paramref name="After"/> hold ids, codes, figures: never names, contacts or free text about people.</summary>
/// <param name="Type">Past tense: <c>quote.sent</c>; at most 64 characters.</param>
/// <param name="Subject">Kind of thing: <c>quote</c>; at most 32 characters.</param>
/// <param name="SubjectId">Its id.</param>
/// <param name="Job">The job it belongs to, if any.</param>
/// <param name="Before">State before, as far as it changed; decimals as strings.</param>
/// <param name="After">State after.</param>
/// <param name="OccurredAt">When it happened, where one command tells of several moments; null for the time of the command.</param>
public sealed record EventDraft(
    string Type,
    string Subject,
    Guid SubjectId,
    JobId? Job = null,
    object? Before = null,
    object? After = null,
    DateTimeOffset? OccurredAt = null
);

/// <summary>Told to open pages after a commit: what changed, not what it changed to.</summary>
public sealed record ChangeNotice(long Sequence, string Type, string Subject, Guid SubjectId, Guid? JobId);
