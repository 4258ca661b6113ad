using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Application.Quoting;

/// <summary>Another revision of the same quote.</summary>
public sealed record QuoteRevision(QuoteId Id, int Revision, QuoteState State);

/// <summary>One revision of a quote as pages and API show it.</summary>
/// <param name="State">What holds on <paramref name="Today"/>.</param>
public sealed record QuoteView(
    QuoteId Id,
    long Version,
    string Number,
    int Revision,
    QuoteState State,
    CustomerId CustomerId,
    string CustomerName,
    CarId? CarId,
    string CarTitle,
    QuoteTerms Terms,
    PricedQuote Priced,
    DateTimeOffset CreatedAt,
    DateTimeOffset? SentAt,
    DateOnly? ValidUntil,
    string? ContentHash,
    DateTimeOffset? ClosedAt,
    string? AcceptedBy,
    LostReason? LostReason,
    string? DeclineReason,
    IReadOnlyList<QuoteRevision> Revisions,
    DateOnly Today
);

/// <summary>A row of the list.</summary>
public sealed record QuoteRow(
    QuoteId Id,
    string Number,
    int Revision,
    QuoteState State,
    string CustomerName,
    string CarTitle,
    string? Registration,
    long TotalMinor,
    string Currency,
    DateTimeOffset CreatedAt,
    DateOnly? ValidUntil,
    LostReason? LostReason
);
