using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Quoting;

/// <summary>How one part of the price book stands in a CSV file: a row for each record, the codes of the records that hold it in the first columns.</summary>
internal sealed class CsvSheet
{
    private readonly IReadOnlyList<BookTable> trail;
    private readonly IReadOnlyList<BookField> fields;

    private CsvSheet(string code, string title, IReadOnlyList<BookTable> trail, IReadOnlyList<BookField> fields)
    {
        this.trail = trail;
        this.fields = fields;
        var parents = trail.SkipLast(1).Select(t => t.ParentColumn).ToList();
        var keys = trail.Count == 0 ? [] : trail[^1].Key.Select(k => fields.Single(f => f.Name == k).Column);
        Part = new CsvPart(code, title, [.. parents, .. fields.Select(f => f.Column)], [.. parents, .. keys]);
    }

    public CsvPart Part { get; }

    public static IReadOnlyList<CsvSheet> All { get; } = [.. BookSections.All.SelectMany(Of)];

    private static IEnumerable<CsvSheet> Of(BookSection section)
    {
        if (section.Fields.Count > 0)
        {
            yield return new CsvSheet(section.Code, section.Title, [], section.Fields);
        }

        foreach (var sheet in section.Tables.SelectMany(t => Of([t])))
        {
            yield return sheet;
        }
    }

    private static IEnumerable<CsvSheet> Of(IReadOnlyList<BookTable> trail)
    {
        yield return new CsvSheet(
            trail[^1].Code,
            string.Join(": ", trail.Select((t, i) => i == 0 ? t.Title : t.Title.ToLowerInvariant())),
            trail,
            trail[^1].Fields
        );
        foreach (var sheet in trail[^1].Tables.SelectMany(t => Of([.. trail, t])))
        {
            yield return sheet;
        }
    }

    public string Write(BookRow root)
    {
        var lines = new List<IEnumerable<string?>> { Part.Columns };
        lines.AddRange(Lines(root, 0, []));
        return CsvText.Write(lines);
    }

    private IEnumerable<IEnumerable<string?>> Lines(BookRow row, int depth, IReadOnlyList<string?> parents) =>
        depth == trail.Count
            ?
            [
                [.. parents, .. fields.Select(f => Cell(f, row[f]))],
            ]
            : row.Rows(trail[depth])
                .SelectMany(r =>
                    Lines(
                        r,
                        depth + 1,
                        depth + 1 < trail.Count ? [.. parents, CsvText.Guard(r.KeyIn(trail[depth]))] : parents
                    )
                );

    /// <summary>Only texts can be taken for formulas; numbers are written as numbers.</summary>
    private static string? Cell(BookField field, string? text) =>
        text is null || !IsText(field) ? text : CsvText.Guard(text);

    private static bool IsText(BookField field) =>
        field.Kind
            is not (
                BookFieldKind.Money
                or BookFieldKind.Number
                or BookFieldKind.Whole
                or BookFieldKind.Flag
                or BookFieldKind.Day
            );

    /// <summary>Puts the file's rows in the place of the part's.</summary>
    public void Take(BookRow root, IReadOnlyList<CsvLine> lines, FieldErrors errors)
    {
        var heads = HeadsOf(lines, errors);
        if (errors.Any)
        {
            return;
        }

        if (trail.Count == 0)
        {
            TakeOne(root, lines, heads, errors);
            return;
        }

        var holders = Holders(root, 0, "");
        var taken = holders.ToDictionary(h => h.Key, _ => new List<BookRow>(), StringComparer.Ordinal);
        var table = trail[^1];
        foreach (var line in lines.Skip(1).Where(l => l.Cells.Any(c => !string.IsNullOrWhiteSpace(c))))
        {
            if (line.Cells.Count > heads.Count)
            {
                TooMany(line, heads, errors);
                continue;
            }

            var parents = trail.SkipLast(1).Select(t => CellOf(line, heads, t.ParentColumn)).ToList();
            var holder = string.Concat(parents.Select(p => p + "/"));
            if (!holders.TryGetValue(holder, out var parent))
            {
                var column = trail[^2].ParentColumn;
                errors.Add(
                    $"row {line.Number}, {column}",
                    $"Row {line.Number}, column {column}: there is no {string.Join(", ", trail.SkipLast(1).Zip(parents, (t, p) => $"{t.One} '{p}'"))} in the price book."
                );
                continue;
            }

            taken[holder].Add(RowOf(line, heads, table, parent.Rows(table)));
        }

        foreach (var (key, parent) in holders)
        {
            parent.Tables[table.Name] = taken[key];
        }
    }

    /// <summary>Records that hold the part's records, by their codes.</summary>
    private Dictionary<string, BookRow> Holders(BookRow row, int depth, string key)
    {
        var found = new Dictionary<string, BookRow>(StringComparer.Ordinal);
        if (depth == trail.Count - 1)
        {
            found[key] = row;
            return found;
        }

        foreach (var child in row.Rows(trail[depth]))
        {
            foreach (var (inner, holder) in Holders(child, depth + 1, $"{key}{child.KeyIn(trail[depth])}/"))
            {
                found.TryAdd(inner, holder);
            }
        }

        return found;
    }

    private BookRow RowOf(CsvLine line, List<string> heads, BookTable table, List<BookRow> present)
    {
        var row = new BookRow { Line = line.Number };
        foreach (var field in fields.Where(f => heads.Contains(f.Column)))
        {
            row[field] = CellOf(line, heads, field.Column);
        }

        // The entry as it stood gives the columns that the file leaves out, and the rows that it holds itself.
        if (present.FirstOrDefault(r => r.KeyIn(table) == row.KeyIn(table)) is { } before)
        {
            foreach (var field in fields.Where(f => !heads.Contains(f.Column)))
            {
                row[field] = before[field];
            }

            foreach (var (name, rows) in before.Tables)
            {
                row.Tables[name] = rows;
            }
        }

        return row;
    }

    private void TakeOne(BookRow root, IReadOnlyList<CsvLine> lines, List<string> heads, FieldErrors errors)
    {
        if (lines.Count != 2)
        {
            errors.Add("row 2", $"This part has one row below its heads; the file has {lines.Count - 1}.");
            return;
        }

        if (lines[1].Cells.Count > heads.Count)
        {
            TooMany(lines[1], heads, errors);
            return;
        }

        foreach (var field in fields.Where(f => heads.Contains(f.Column)))
        {
            var text = CellOf(lines[1], heads, field.Column);
            errors.AddIf(
                field.IsFixed && text != root[field],
                $"row {lines[1].Number}, {field.Column}",
                $"Row {lines[1].Number}, column {field.Column}: the shop counts in {root[field]}; this cannot be changed."
            );
            root[field] = text;
        }
    }

    private List<string> HeadsOf(IReadOnlyList<CsvLine> lines, FieldErrors errors)
    {
        if (lines.Count == 0)
        {
            errors.Add("row 1", "The file is empty; its first row holds the heads of the columns.");
            return [];
        }

        var heads = lines[0].Cells.Select(c => c.Trim()).ToList();
        if (heads is [var only] && only.AsSpan().IndexOfAny(';', '\t') >= 0)
        {
            errors.Add("row 1", "The cells of this file are not parted by commas; save it as CSV with commas.");
            return heads;
        }

        foreach (var head in heads.Where(h => !Part.Columns.Contains(h)))
        {
            errors.Add(
                $"row 1, {head}",
                $"Row 1: there is no column '{head}'; known are {string.Join(", ", Part.Columns)}."
            );
        }

        foreach (var needed in Part.NeededColumns.Where(n => !heads.Contains(n)))
        {
            errors.Add($"row 1, {needed}", $"Row 1: the column '{needed}' is missing.");
        }

        errors.AddIf(
            heads.Distinct(StringComparer.Ordinal).Count() != heads.Count,
            "row 1",
            "Row 1: a column is given twice."
        );
        return heads;
    }

    private static void TooMany(CsvLine line, List<string> heads, FieldErrors errors) =>
        errors.Add(
            $"row {line.Number}",
            $"Row {line.Number} has {line.Cells.Count} cells, but there are {heads.Count} columns. A text with a comma stands in double quotes."
        );

    private static string CellOf(CsvLine line, List<string> heads, string column)
    {
        var index = heads.IndexOf(column);
        return index >= 0 && index < line.Cells.Count ? CsvText.Unguard(line.Cells[index]).Trim() : "";
    }
}
