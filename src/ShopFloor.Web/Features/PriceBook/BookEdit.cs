using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;
using Book = ShopFloor.Domain.Quoting.PriceBook;

namespace ShopFloor.Web.Features.PriceBook;

/// <summary>A price book while it is typed: texts as they stand in the fields, right or wrong, and what is wrong with them. Checked anew with every change, so that each sentence stands at its field.</summary>
public sealed class BookEdit
{
    private readonly Currency currency;
    private readonly HashSet<BookRow> added = [];
    private readonly Action changed;

    /// <param name="book">What is edited.</param>
    /// <param name="changed">Called after each change, to show its effect elsewhere on the page.</param>
    public BookEdit(Book book, Action changed)
    {
        ArgumentNullException.ThrowIfNull(book);
        this.changed = changed;
        currency = book.Currency;
        Root = BookRows.Of(book);
        Words = new BookWords(Root);
        Check();
    }

    public BookRow Root { get; }

    public BookWords Words { get; }

    public string Currency => currency.Code;

    /// <summary>Something was typed since it was saved.</summary>
    public bool IsDirty { get; private set; }

    /// <summary>The book that the fields make; null while a text cannot be read.</summary>
    public Book? Book { get; private set; }

    /// <summary>What cannot be read, or else what the book's rules refuse.</summary>
    public IReadOnlyList<FieldError> Problems { get; private set; } = [];

    public void Saved() => IsDirty = false;

    /// <summary>Takes what was typed.</summary>
    public void Set(BookRow row, BookField field, string? text)
    {
        ArgumentNullException.ThrowIfNull(row);
        row[field] = text;
        Touch();
    }

    /// <summary>Ticks or unticks a code in a list of codes, which keeps the order of what may be chosen.</summary>
    public void Tick(BookRow row, BookField field, string code, bool isOn)
    {
        ArgumentNullException.ThrowIfNull(row);
        var chosen = Codes(row, field).Where(c => c != code).Concat(isOn ? [code] : []).ToList();
        var order = Words.OptionsOf(field, row).Select(o => o.Code).ToList();
        Set(
            row,
            field,
            string.Join('\n', chosen.OrderBy(c => order.IndexOf(c) is var at and >= 0 ? at : int.MaxValue))
        );
    }

    public static IReadOnlyList<string> Codes(BookRow row, BookField field)
    {
        ArgumentNullException.ThrowIfNull(row);
        return (row[field] ?? "").Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
    }

    public void Add(BookTable table, List<BookRow> rows)
    {
        ArgumentNullException.ThrowIfNull(rows);
        var row = BookRow.NewIn(table);
        added.Add(row);
        rows.Add(row);
        Touch();
    }

    public void Remove(List<BookRow> rows, BookRow row)
    {
        ArgumentNullException.ThrowIfNull(rows);
        rows.Remove(row);
        Touch();
    }

    /// <summary>Moves a row before the one above it.</summary>
    public void Raise(List<BookRow> rows, BookRow row)
    {
        ArgumentNullException.ThrowIfNull(rows);
        var at = rows.IndexOf(row);
        if (at > 0)
        {
            (rows[at - 1], rows[at]) = (rows[at], rows[at - 1]);
            Touch();
        }
    }

    /// <summary>Whether the row was added on this page: it is shown open.</summary>
    public bool IsNew(BookRow row) => added.Contains(row);

    /// <summary>What is wrong at a field, a row or a table; entries of a list of texts belong to their field.</summary>
    public string? At(string path)
    {
        var texts = Problems
            .Where(p =>
                p.Path == path
                || (IsInner(p.Path) && path.StartsWith(p.Path + ".", StringComparison.Ordinal))
                || (p.Path.StartsWith(path + "[", StringComparison.Ordinal) && p.Path.EndsWith(']') && !IsRow(p.Path))
            )
            .Select(p => p.Text)
            .Distinct()
            .ToList();
        return texts.Count == 0 ? null : string.Join(" ", texts);
    }

    /// <summary>How many things are wrong under a place.</summary>
    public int CountUnder(string path) =>
        Problems.Count(p =>
            p.Path == path
            || p.Path.StartsWith(path + "[", StringComparison.Ordinal)
            || p.Path.StartsWith(path + ".", StringComparison.Ordinal)
        );

    /// <summary>How many things are wrong in a section.</summary>
    public int CountIn(BookSection section)
    {
        ArgumentNullException.ThrowIfNull(section);
        return section.Fields.Sum(f => CountUnder(f.Name)) + section.Tables.Sum(t => CountUnder(t.Name));
    }

    /// <summary>The section in which a problem is to be mended.</summary>
    public static BookSection SectionOf(string path) =>
        BookSections.All.FirstOrDefault(s =>
            s.Tables.Any(t => path.StartsWith(t.Name, StringComparison.Ordinal))
            || s.Fields.Any(f => path.Split('.', '[')[0] == f.Name.Split('.')[0])
        ) ?? BookSections.All[0];

    /// <summary>An inner object, such as the seconds of a short run, is spoken of at each of its fields.</summary>
    private static bool IsInner(string path) => !path.EndsWith(']') && !TableNames.Contains(LastStep(path));

    private static string LastStep(string path) => path[(path.LastIndexOf('.') + 1)..];

    /// <summary>A path that ends in an index is a row where a table has this name, else an entry of a list of texts.</summary>
    private static bool IsRow(string path)
    {
        return TableNames.Contains(LastStep(path[..path.LastIndexOf('[')]));
    }

    private static readonly HashSet<string> TableNames = [.. BookSections.OwnTables.SelectMany(Names).Select(LastStep)];

    private static IEnumerable<string> Names(BookTable table) => table.Tables.SelectMany(Names).Prepend(table.Name);

    private void Touch()
    {
        IsDirty = true;
        Check();
        changed();
    }

    private void Check()
    {
        var (book, errors) = BookRows.Read(Root, currency);
        Book = book;
        Problems =
            book is null ? [.. errors.Select(e => new FieldError(e.Path, e.Text))]
            : PriceBookRules.Check(book).Failure is Failure.Invalid invalid ? invalid.Errors
            : [];
    }
}
