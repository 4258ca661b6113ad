using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Application.Quoting;

/// <summary>A file for the working copy: the whole book as JSON, or one part as CSV.</summary>
/// <param name="Part">Code of the part; null for the whole book.</param>
/// <param name="Text">The file's text.</param>
public sealed record BookFile(string? Part, string Text)
{
    /// <summary>The book that the file makes of another.</summary>
    internal Outcome<PriceBook> On(PriceBook book) =>
        Part is null ? BookDocument.Read(Text) : PriceBookCsv.Read(book, Part, Text);
}

/// <summary>Says what a file would change in the working copy; changes nothing.</summary>
public sealed class PreviewImport(QueryRunner runner) : IUseCase
{
    public Task<Outcome<ImportPreview>> RunAsync(BookFile file, Actor actor, CancellationToken ct) =>
        runner.RunAsync<ImportPreview>(
            Permission.RunShop,
            actor,
            async db =>
                await PriceBookDrafts.FindAsync(db, ct) is { } draft
                    ? file.On(draft.Book)
                        .Then<ImportPreview>(book =>
                            book.CurrencyCode == draft.Book.CurrencyCode
                                ? new ImportPreview(
                                    draft.Version,
                                    PriceBookComparison.Between(draft.Book, book).Changes,
                                    PriceBookDrafts.ProblemsOf(book)
                                )
                                : Failure.Field(
                                    "currencyCode",
                                    $"The file counts in {book.CurrencyCode}, the shop in {draft.Book.CurrencyCode}."
                                )
                        )
                    : PriceBookDrafts.None,
            ct
        );
}

/// <summary>Takes a file into the working copy.</summary>
public sealed class ImportIntoDraft(CommandRunner runner) : IUseCase
{
    public Task<Outcome<DraftView>> RunAsync(BookFile file, Envelope envelope, CancellationToken ct) =>
        PriceBookDrafts.ChangeAsync(
            runner,
            envelope,
            file,
            (scope, draft) => file.On(draft.Book).Then(book => draft.Change(book, scope.Now, scope.Actor.Person)),
            ct
        );
}
