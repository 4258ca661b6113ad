using ShopFloor.Application.Quoting;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;
using Book = ShopFloor.Domain.Quoting.PriceBook;

namespace ShopFloor.Web.Features.PriceBook;

/// <summary>One difference in the API, with its sentence.</summary>
public sealed record ChangeJson(
    string Section,
    string Path,
    string? Field,
    BookChangeKind Kind,
    string? Before,
    string? After,
    string Sentence
)
{
    public static IReadOnlyList<ChangeJson> Of(IReadOnlyList<BookChange> changes) =>
        [.. changes.Select(c => new ChangeJson(c.Section, c.Path, c.Field, c.Kind, c.Before, c.After, c.Sentence))];
}

/// <summary>Two books compared.</summary>
public sealed record ComparisonJson(string From, string To, IReadOnlyList<ChangeJson> Changes)
{
    public static ComparisonJson Of(ComparisonView view) => new(view.From, view.To, ChangeJson.Of(view.Changes));
}

/// <summary>The editions.</summary>
/// <param name="Today">The shop's day on which the states hold.</param>
public sealed record EditionsJson(
    IReadOnlyList<EditionRow> Items,
    int Page,
    int PageSize,
    int TotalCount,
    DateOnly Today
)
{
    public static EditionsJson Of(EditionsView view) =>
        new(view.Editions, view.Page.PageNumber, view.Page.PageSize, view.Page.TotalCount, view.Today);
}

/// <summary>The working copy.</summary>
/// <param name="Problems">What must be mended before it can be adopted.</param>
/// <param name="Changes">What differs from the edition in force.</param>
public sealed record DraftJson(
    long Version,
    int FromEdition,
    DateTimeOffset BegunAt,
    string? BegunByName,
    DateTimeOffset ChangedAt,
    string? ChangedByName,
    Book Document,
    IReadOnlyList<FieldError> Problems,
    IReadOnlyList<ChangeJson> Changes
)
{
    public static DraftJson Of(DraftView view) =>
        new(
            view.Version,
            view.FromEdition,
            view.BegunAt,
            view.BegunByName,
            view.ChangedAt,
            view.ChangedByName,
            view.Book,
            view.Problems,
            ChangeJson.Of(view.Changes)
        );
}

/// <summary>What an import would do.</summary>
/// <param name="DraftVersion">Send it as <c>If-Match</c> with the import, so that it does what was shown.</param>
public sealed record PreviewJson(
    long DraftVersion,
    IReadOnlyList<ChangeJson> Changes,
    IReadOnlyList<FieldError> Problems
)
{
    public static PreviewJson Of(ImportPreview preview) =>
        new(preview.DraftVersion, ChangeJson.Of(preview.Changes), preview.Problems);
}
