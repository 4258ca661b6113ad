using ShopFloor.Domain.Quoting;
using Book = ShopFloor.Domain.Quoting.PriceBook;

namespace ShopFloor.Web.Features.PriceBook;

/// <summary>A code that a field may refer to, with its words.</summary>
public sealed record BookOption(string Code, string Title);

/// <summary>Words of a price book on the screen: codes by the titles of their entries.</summary>
public sealed class BookWords(BookRow root)
{
    public BookRow Root => root;

    public static BookWords Of(Book book) => new(BookRows.Of(book));

    /// <summary>Entries that a field may refer to. An answer is looked for in the question that holds it.</summary>
    public IReadOnlyList<BookOption> OptionsOf(BookField field, BookRow row)
    {
        ArgumentNullException.ThrowIfNull(field);
        ArgumentNullException.ThrowIfNull(row);
        if (field.Choices.Count > 0)
        {
            return [.. field.Choices.Select(c => new BookOption(c.Code, c.Title))];
        }

        var table = BookSections.OwnTables.FirstOrDefault(t => t.Name == field.RefersTo);
        var rows = table is null ? row.Tables.GetValueOrDefault(field.RefersTo ?? "") ?? [] : root.Rows(table);
        return
        [
            .. rows.Select(r => new BookOption(r.Texts.GetValueOrDefault("code")?.Trim() ?? "", TitleOf(r)))
                .Where(o => o.Code.Length > 0)
                .DistinctBy(o => o.Code),
        ];
    }

    /// <summary>What a field says, with unit and with titles in the place of codes; null where it says nothing.</summary>
    public string? Show(BookField field, BookRow row)
    {
        ArgumentNullException.ThrowIfNull(field);
        ArgumentNullException.ThrowIfNull(row);
        if (string.IsNullOrWhiteSpace(row[field]))
        {
            return null;
        }

        if (field.RefersTo is null)
        {
            return PriceBookComparison.Words(field, row[field]);
        }

        var options = OptionsOf(field, row);
        return string.Join(
            ", ",
            row[field]!.Split('\n').Select(c => options.FirstOrDefault(o => o.Code == c)?.Title ?? c)
        );
    }

    /// <summary>A row in one line: its name and what else it says.</summary>
    public string Line(BookTable table, BookRow row)
    {
        ArgumentNullException.ThrowIfNull(table);
        ArgumentNullException.ThrowIfNull(row);
        var key = string.Join(" · ", table.Key.Select(k => Show(table.Fields.Single(f => f.Name == k), row)));
        var rest = table
            .Fields.Where(f => !table.Key.Contains(f.Name))
            .Select(f => (f.Label, Says: Show(f, row)))
            .Where(f => f.Says is not null)
            .Select(f => $"{f.Label} {f.Says}");
        return string.Join(", ", rest.Prepend(key));
    }

    /// <summary>Whether all words are found in the row, its own rows and the titles it refers to.</summary>
    public bool Has(BookTable table, BookRow row, IReadOnlyList<string> words)
    {
        ArgumentNullException.ThrowIfNull(words);
        var text = string.Join('\n', TextsOf(table, row));
        return words.All(w => text.Contains(w, StringComparison.CurrentCultureIgnoreCase));
    }

    private IEnumerable<string?> TextsOf(BookTable table, BookRow row) =>
        table
            .Fields.SelectMany(f => new[] { f.Label, row[f], Show(f, row) })
            .Concat(table.Tables.SelectMany(t => row.Rows(t).SelectMany(r => TextsOf(t, r))));

    private static string TitleOf(BookRow row) =>
        row.Texts.GetValueOrDefault("title") is { Length: > 0 } title
            ? title
            : row.Texts.GetValueOrDefault("code") ?? "";
}
