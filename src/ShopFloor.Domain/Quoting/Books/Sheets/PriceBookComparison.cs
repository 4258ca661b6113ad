namespace ShopFloor.Domain.Quoting;

public enum BookChangeKind
{
    Changed,
    Added,
    Removed,

    /// <summary>The same entries in another order.</summary>
    Reordered,
}

/// <summary>One difference between two price books.</summary>
/// <param name="Section">Code of the part of the book: <c>hinge-options</c>.</param>
/// <param name="SectionTitle">The part as people read it.</param>
/// <param name="Path">Place by codes: <c>hingeOptions[swing-out-pin].priceMinor</c>.</param>
/// <param name="Entry">The entry it is about: "Hinge option swing-out with pin"; empty for the book's own terms.</param>
/// <param name="Field">What of it: "price"; null where the whole entry came, went or moved.</param>
/// <param name="Before">As people read it; null where there was nothing.</param>
/// <param name="After">As people read it; null where there is nothing.</param>
public sealed record BookChange(
    string Section,
    string SectionTitle,
    string Path,
    string Entry,
    string? Field,
    BookChangeKind Kind,
    string? Before,
    string? After
)
{
    /// <summary>The difference in one sentence: "Hinge option swing-out with pin: price 98.00 → 105.00".</summary>
    public string Sentence =>
        Kind switch
        {
            BookChangeKind.Added => $"{Entry}: added" + (After is { Length: > 0 } ? $" ({After})" : ""),
            BookChangeKind.Removed => $"{Entry}: removed" + (Before is { Length: > 0 } ? $" (was: {Before})" : ""),
            BookChangeKind.Reordered => $"{(Entry.Length == 0 ? SectionTitle : Entry)}: {Field} in another order",
            _ => $"{(Entry.Length == 0 ? "" : Entry + ": ")}{Field} {Before ?? "none"} → {After ?? "none"}",
        };
}

/// <summary>What differs between two price books, entry by entry. Entries are matched by their codes, so a changed code is one entry gone and another come.</summary>
public sealed record PriceBookComparison(IReadOnlyList<BookChange> Changes)
{
    public bool IsSame => Changes.Count == 0;

    /// <summary>Compares what is in the books; edition and first day, which say which book it is, are left out.</summary>
    public static PriceBookComparison Between(PriceBook before, PriceBook after)
    {
        ArgumentNullException.ThrowIfNull(before);
        ArgumentNullException.ThrowIfNull(after);
        var (old, now) = (BookRows.Of(before), BookRows.Of(after));
        List<BookChange> changes = [];
        foreach (var section in BookSections.All)
        {
            var place = new Place(section, "", "", changes);
            CompareFields(place, section.Fields, old, now);
            foreach (var table in section.Tables)
            {
                CompareTable(place, table, old.Rows(table), now.Rows(table));
            }
        }

        return new PriceBookComparison(changes);
    }

    /// <summary>Where in the book the comparison is.</summary>
    private sealed record Place(BookSection Section, string Path, string Entry, List<BookChange> Changes)
    {
        public void Add(string path, string entry, string? field, BookChangeKind kind, string? before, string? after) =>
            Changes.Add(new BookChange(Section.Code, Section.Title, path, entry, field, kind, before, after));
    }

    private static void CompareFields(Place place, IReadOnlyList<BookField> fields, BookRow before, BookRow after)
    {
        foreach (var field in fields)
        {
            var (old, now) = (before[field], after[field]);
            if ((old ?? "") != (now ?? ""))
            {
                place.Add(
                    place.Path + field.Name,
                    place.Entry,
                    field.Label,
                    BookChangeKind.Changed,
                    Words(field, old),
                    Words(field, now)
                );
            }
        }
    }

    private static void CompareTable(Place place, BookTable table, List<BookRow> before, List<BookRow> after)
    {
        var old = Keyed(table, before);
        var now = Keyed(table, after);
        foreach (var (key, row) in old.Where(r => !now.ContainsKey(r.Key)))
        {
            place.Add(
                PathOf(place, table, key),
                EntryOf(place, table, row),
                null,
                BookChangeKind.Removed,
                Summary(table, row),
                null
            );
        }

        foreach (var (key, row) in now)
        {
            var inner = new Place(
                place.Section,
                PathOf(place, table, key) + ".",
                EntryOf(place, table, row),
                place.Changes
            );
            if (!old.TryGetValue(key, out var earlier))
            {
                place.Add(
                    PathOf(place, table, key),
                    inner.Entry,
                    null,
                    BookChangeKind.Added,
                    null,
                    Summary(table, row)
                );
                continue;
            }

            CompareFields(inner, table.Fields, earlier, row);
            foreach (var child in table.Tables)
            {
                CompareTable(inner, child, earlier.Rows(child), row.Rows(child));
            }
        }

        if (!old.Keys.Where(now.ContainsKey).SequenceEqual(now.Keys.Where(old.ContainsKey)))
        {
            var path = place.Path + table.Name;
            place.Add(path, place.Entry, Lower(table.Title), BookChangeKind.Reordered, null, null);
        }
    }

    /// <summary>Rows by key in their order; of rows with one key, which a draft may hold, the second is told apart by its number.</summary>
    private static OrderedDictionary<string, BookRow> Keyed(BookTable table, List<BookRow> rows)
    {
        var keyed = new OrderedDictionary<string, BookRow>(StringComparer.Ordinal);
        foreach (var row in rows)
        {
            var key = row.KeyIn(table);
            var unique = key;
            for (var n = 2; !keyed.TryAdd(unique, row); n++)
            {
                unique = $"{key} #{n}";
            }
        }

        return keyed;
    }

    private static string PathOf(Place place, BookTable table, string key) => $"{place.Path}{table.Name}[{key}]";

    private static string EntryOf(Place place, BookTable table, BookRow row)
    {
        var one = place.Entry.Length == 0 ? char.ToUpperInvariant(table.One[0]) + table.One[1..] : table.One;
        return (place.Entry.Length == 0 ? "" : place.Entry + ", ") + $"{one} {row.NameIn(table)}";
    }

    /// <summary>The fields of an entry that came or went, and how many rows it holds.</summary>
    private static string Summary(BookTable table, BookRow row)
    {
        var named = table.Key.Append("title").ToHashSet(StringComparer.Ordinal);
        var fields = table
            .Fields.Where(f => !named.Contains(f.Name) && row[f] is { Length: > 0 })
            .Select(f => $"{f.Label} {Words(f, row[f])}");
        var tables = table
            .Tables.Where(t => row.Rows(t).Count > 0)
            .Select(t => $"{Lower(t.Title)}: {string.Join("; ", row.Rows(t).Select(r => r.NameIn(t)))}");
        return string.Join(", ", fields.Concat(tables));
    }

    /// <summary>A field's text as people read it, with its unit; null for nothing.</summary>
    public static string? Words(BookField field, string? text)
    {
        ArgumentNullException.ThrowIfNull(field);
        return string.IsNullOrEmpty(text)
            ? null
            : field.Kind switch
            {
                BookFieldKind.Choice => field.Choices.FirstOrDefault(c => c.Code == text)?.Title ?? text,
                BookFieldKind.Texts or BookFieldKind.References => text.Replace("\n", "; ", StringComparison.Ordinal),
                _ => field.Unit is null ? text : $"{text} {field.Unit}",
            };
    }

    private static string Lower(string title) => char.ToLowerInvariant(title[0]) + title[1..];
}
