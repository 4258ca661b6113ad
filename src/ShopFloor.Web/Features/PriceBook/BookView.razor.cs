using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Quoting;
using ShopFloor.Domain.Quoting;
using Book = ShopFloor.Domain.Quoting.PriceBook;

namespace ShopFloor.Web.Features.PriceBook;

/// <summary>A price book to read, with search.</summary>
public partial class BookView(ReadKitWork kitWork, NavigationManager navigation) : ComponentBase
{
    private Book? shown;
    private BookWords book = default!;
    private string? search;
    private string[] words = [];

    [Parameter, EditorRequired]
    public Book Book { get; set; } = default!;

    /// <summary>This page, so that a link to one of its parts stays on it.</summary>
    private string Here => navigation.ToBaseRelativePath(navigation.Uri).Split('#')[0];

    protected override void OnParametersSet()
    {
        if (!ReferenceEquals(shown, Book))
        {
            shown = Book;
            book = BookWords.Of(Book);
        }
    }

    private void Find(string? text)
    {
        search = text;
        words = text?.Split(' ', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries) ?? [];
    }

    private List<BookRow> Shown(BookTable table) =>
        words.Length == 0
            ? book.Root.Rows(table)
            : [.. book.Root.Rows(table).Where(r => book.Has(table, r, words) || HasWork(table, r))];

    /// <summary>A kit is found by its operations and inspection lines too.</summary>
    private bool HasWork(BookTable table, BookRow row)
    {
        if (table.Name != "kits")
        {
            return false;
        }

        var work = kitWork.Of(row.KeyIn(table));
        var text = string.Join(
            '\n',
            work.Operations.Select(o => $"{o.Code} {o.Title}").Concat(work.InspectionLines.Select(l => l.What))
        );
        return words.All(w => text.Contains(w, StringComparison.CurrentCultureIgnoreCase));
    }

    private bool IsShown(BookSection section) => words.Length == 0 || section.Tables.Any(t => Shown(t).Count > 0);

    private int Count() => BookSections.OwnTables.Sum(t => Shown(t).Count);
}
