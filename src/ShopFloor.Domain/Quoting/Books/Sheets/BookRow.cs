namespace ShopFloor.Domain.Quoting;

/// <summary>One record of the price book as texts: what is typed in a form or stands in a row of a CSV file, right or wrong.</summary>
public sealed class BookRow
{
    /// <summary>By field name; null and blank are the same.</summary>
    public Dictionary<string, string?> Texts { get; } = new(StringComparer.Ordinal);

    /// <summary>Rows of the record's own tables, by table name.</summary>
    public Dictionary<string, List<BookRow>> Tables { get; } = new(StringComparer.Ordinal);

    /// <summary>Row of the CSV file that it came from; null for others.</summary>
    public int? Line { get; init; }

    public string? this[BookField field]
    {
        get => Texts.GetValueOrDefault(field.Name);
        set => Texts[field.Name] = value;
    }

    /// <summary>Rows of a table; an empty list that can be added to where there are none.</summary>
    public List<BookRow> Rows(BookTable table)
    {
        if (!Tables.TryGetValue(table.Name, out var rows))
        {
            Tables[table.Name] = rows = [];
        }

        return rows;
    }

    /// <summary>What tells a row of the table apart from its neighbours.</summary>
    public string KeyIn(BookTable table) =>
        string.Join(" · ", table.Key.Select(k => Texts.GetValueOrDefault(k)?.Trim()).Where(k => k is { Length: > 0 }));

    /// <summary>How people call the row: its title, else its key with unit.</summary>
    public string NameIn(BookTable table)
    {
        if (Texts.GetValueOrDefault("title") is { Length: > 0 } title)
        {
            return title.Trim();
        }

        var unit = table.Key.Count == 1 ? table.Fields.Single(f => f.Name == table.Key[0]).Unit : null;
        return KeyIn(table) + (unit is null ? "" : " " + unit);
    }

    /// <summary>A row for a new entry, with what a blank stands for already written in.</summary>
    public static BookRow NewIn(BookTable table)
    {
        var row = new BookRow();
        foreach (var field in table.Fields.Where(f => f.Blank is { Length: > 0 }))
        {
            row[field] = field.Blank;
        }

        foreach (var field in table.Fields.Where(f => f is { Kind: BookFieldKind.Choice, IsOptional: false }))
        {
            row[field] = field.Choices[0].Code;
        }

        return row;
    }

    /// <summary>A copy that can be changed on its own.</summary>
    public BookRow Copy()
    {
        var copy = new BookRow { Line = Line };
        foreach (var (name, text) in Texts)
        {
            copy.Texts[name] = text;
        }

        foreach (var (name, rows) in Tables)
        {
            copy.Tables[name] = [.. rows.Select(r => r.Copy())];
        }

        return copy;
    }
}
