using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Application.Quoting;

/// <summary>How an edition stands on a day.</summary>
public enum EditionState
{
    /// <summary>Quotes use it.</summary>
    InForce,

    /// <summary>Its first day is still to come.</summary>
    Planned,

    /// <summary>A newer edition took its place.</summary>
    Past,

    /// <summary>A newer edition is in force before or on its first day: it is never used.</summary>
    Overtaken,
}

/// <summary>An edition in the list.</summary>
/// <param name="AdoptedByName">Null where the program itself did it.</param>
/// <param name="QuoteCount">Quotes and drafts of quotes made with it.</param>
public sealed record EditionRow(
    int Edition,
    string Title,
    DateOnly EffectiveFrom,
    EditionState State,
    DateTimeOffset AdoptedAt,
    string? AdoptedByName,
    int QuoteCount
);

/// <summary>A page of the editions with the day on which their states hold.</summary>
public sealed record EditionsView(DateOnly Today, Page<EditionRow> Page)
{
    public IReadOnlyList<EditionRow> Editions => Page.Items;
}

/// <summary>The working copy.</summary>
/// <param name="Problems">What must be mended before it can be adopted, with its place in the document.</param>
/// <param name="Changes">What differs from the edition in force.</param>
public sealed record DraftView(
    long Version,
    int FromEdition,
    DateTimeOffset BegunAt,
    string? BegunByName,
    DateTimeOffset ChangedAt,
    string? ChangedByName,
    PriceBook Book,
    IReadOnlyList<FieldError> Problems,
    IReadOnlyList<BookChange> Changes
);

/// <summary>Two books compared; a book is named by its edition, or is the draft.</summary>
public sealed record ComparisonView(string From, string To, IReadOnlyList<BookChange> Changes);

/// <summary>What an import would make of the draft.</summary>
public sealed record ImportPreview(
    long DraftVersion,
    IReadOnlyList<BookChange> Changes,
    IReadOnlyList<FieldError> Problems
);
