using System.Text.Json;
using System.Text.Json.Nodes;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.RuleSets;

namespace ShopFloor.Domain.Quoting;

/// <summary>A text that could not be read.</summary>
/// <param name="Path">Place in the book's document: <c>kits[0].priceMinor</c>.</param>
public sealed record BookRowError(BookRow Row, BookField Field, string Path, string Text);

/// <summary>Turns a price book into rows of texts and back.</summary>
public static class BookRows
{
    /// <summary>The book as rows; what it holds and nothing else.</summary>
    public static BookRow Of(PriceBook book)
    {
        ArgumentNullException.ThrowIfNull(book);
        var json = JsonSerializer.SerializeToNode(book, DataFiles.Json)!.AsObject();
        return RowOf(json, BookSections.OwnFields, BookSections.OwnTables, book.Currency);
    }

    /// <summary>Reads rows as a book in a currency, or names every text that cannot be read. What the book's rules say is another question.</summary>
    public static (PriceBook? Book, IReadOnlyList<BookRowError> Errors) Read(BookRow root, Currency currency)
    {
        ArgumentNullException.ThrowIfNull(root);
        var errors = new List<BookRowError>();
        var json = ObjectOf(
            root,
            "",
            [.. BookSections.OwnFields],
            [.. BookSections.OwnTables],
            BookSections.OptionalParts,
            currency,
            errors
        );
        if (errors.Count > 0)
        {
            return (null, errors);
        }

        json["edition"] = 0;
        json["effectiveFrom"] = "0001-01-01";
        json["currencyCode"] = currency.Code;
        return (json.Deserialize<PriceBook>(DataFiles.Json), errors);
    }

    private static BookRow RowOf(
        JsonObject json,
        IEnumerable<BookField> fields,
        IEnumerable<BookTable> tables,
        Currency currency
    )
    {
        var row = new BookRow();
        foreach (var field in fields)
        {
            row[field] = BookText.Write(field, Get(json, field.Name), currency);
        }

        foreach (var table in tables)
        {
            row.Tables[table.Name] =
            [
                .. (Get(json, table.Name)?.AsArray() ?? []).Select(r =>
                    RowOf(r!.AsObject(), table.Fields, table.Tables, currency)
                ),
            ];
        }

        return row;
    }

    private static JsonObject ObjectOf(
        BookRow row,
        string path,
        IReadOnlyList<BookField> fields,
        IReadOnlyList<BookTable> tables,
        IReadOnlyList<string> optionalParts,
        Currency currency,
        List<BookRowError> errors
    )
    {
        var json = new JsonObject();
        var absent = optionalParts.Where(p => IsBlank(row, p + ".")).ToList();
        bool IsAbsent(string name) => absent.Any(p => name.StartsWith(p + ".", StringComparison.Ordinal));
        foreach (var field in fields.Where(f => !IsAbsent(f.Name)))
        {
            // A part that is there needs its fields, optional or not only as long as it could be left out.
            var isPart = field.IsOptional && optionalParts.Contains(field.Name.Split('.')[0]);
            var needed = isPart && field.Kind == BookFieldKind.Money ? field with { IsOptional = false } : field;
            if (BookText.TryRead(needed, row[field], currency, out var value, out var sentence))
            {
                Set(json, field.Name, value);
            }
            else
            {
                errors.Add(new BookRowError(row, field, path + field.Name, sentence));
            }
        }

        foreach (var table in tables.Where(t => !IsAbsent(t.Name)))
        {
            var list = new JsonArray();
            foreach (var (i, child) in row.Rows(table).Index())
            {
                list.Add(
                    ObjectOf(
                        child,
                        $"{path}{table.Name}[{i}].",
                        table.Fields,
                        table.Tables,
                        table.OptionalParts,
                        currency,
                        errors
                    )
                );
            }

            Set(json, table.Name, list);
        }

        foreach (var part in absent)
        {
            json[part] = null;
        }

        return json;
    }

    private static bool IsBlank(BookRow row, string prefix) =>
        row.Texts.All(t => !t.Key.StartsWith(prefix, StringComparison.Ordinal) || string.IsNullOrWhiteSpace(t.Value))
        && row.Tables.All(t => !t.Key.StartsWith(prefix, StringComparison.Ordinal) || t.Value.Count == 0);

    private static JsonNode? Get(JsonObject json, string name)
    {
        JsonNode? node = json;
        foreach (var step in name.Split('.'))
        {
            node = node?[step];
        }

        return node;
    }

    private static void Set(JsonObject json, string name, JsonNode? value)
    {
        var steps = name.Split('.');
        foreach (var step in steps[..^1])
        {
            json[step] ??= new JsonObject();
            json = json[step]!.AsObject();
        }

        json[steps[^1]] = value;
    }
}
