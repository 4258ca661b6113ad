using System.Text.Encodings.Web;
using System.Text.Json;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.RuleSets;

namespace ShopFloor.Domain.Quoting;

/// <summary>The price book as one JSON document that a person or a program can change.</summary>
public static class BookDocument
{
    public const int LargestBytes = 1024 * 1024;

    private static readonly JsonSerializerOptions Strict = new(DataFiles.Json) { AllowDuplicateProperties = false };

    private static readonly JsonSerializerOptions Readable = new(DataFiles.Json)
    {
        WriteIndented = true,
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    public static string Write(PriceBook book) => JsonSerializer.Serialize(book, Readable);

    /// <summary>Reads a document strictly: unknown, missing and doubled fields are named, not guessed. Whether the book can be adopted is for <see cref="PriceBookRules"/>.</summary>
    public static Outcome<PriceBook> Read(string json)
    {
        ArgumentNullException.ThrowIfNull(json);
        if (json.Length > LargestBytes)
        {
            return new Failure.TooLarge($"The document has {json.Length} characters; at most {LargestBytes} are read.");
        }

        try
        {
            using var document = JsonDocument.Parse(json.TrimStart('\uFEFF'));
            return Read(document.RootElement);
        }
        catch (JsonException e)
        {
            return Failure.Field(
                "$",
                $"The JSON cannot be read at line {e.LineNumber + 1}, byte {e.BytePositionInLine + 1}."
            );
        }
    }

    private static Outcome<PriceBook> Read(JsonElement json)
    {
        if (json.ValueKind != JsonValueKind.Object)
        {
            return Failure.Field("$", "A price book is an object.");
        }

        var errors = new FieldErrors();
        Walk(json, "", errors);
        CheckWords(json, "", BookSections.OwnFields, BookSections.OwnTables, errors);
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        try
        {
            return json.Deserialize<PriceBook>(Strict)!;
        }
        catch (JsonException e)
        {
            var path = e.Path is { Length: > 2 } p ? p[2..] : "$";
            return Failure.Field(path, $"This does not fit the price book: {e.Message.Split(" Path:")[0]}");
        }
    }

    /// <summary>Words of a choice are exactly the known ones; the serializer would take numbers and lists of words too.</summary>
    private static void CheckWords(
        JsonElement record,
        string path,
        IEnumerable<BookField> fields,
        IEnumerable<BookTable> tables,
        FieldErrors errors
    )
    {
        foreach (var field in fields.Where(f => f.Kind == BookFieldKind.Choice))
        {
            errors.AddIf(
                record.TryGetProperty(field.Name, out var word)
                    && word.ValueKind != JsonValueKind.Null
                    && (word.ValueKind != JsonValueKind.String || field.Choices.All(c => !word.ValueEquals(c.Code))),
                path + field.Name,
                $"This is one of: {string.Join(", ", field.Choices.Select(c => c.Code))}."
            );
        }

        foreach (var table in tables)
        {
            if (Inside(record, table.Name) is { ValueKind: JsonValueKind.Array } list)
            {
                foreach (var (i, item) in list.EnumerateArray().Index())
                {
                    if (item.ValueKind == JsonValueKind.Object)
                    {
                        CheckWords(item, $"{path}{table.Name}[{i}].", table.Fields, table.Tables, errors);
                    }
                }
            }
        }
    }

    private static JsonElement? Inside(JsonElement record, string name)
    {
        JsonElement? found = record;
        foreach (var step in name.Split('.'))
        {
            found =
                found is { ValueKind: JsonValueKind.Object } inner && inner.TryGetProperty(step, out var next)
                    ? next
                    : null;
        }

        return found;
    }

    /// <summary>Refuses what the types would let through: nothing in a list, texts of several lines in a list, numbers without meaning.</summary>
    private static void Walk(JsonElement json, string path, FieldErrors errors)
    {
        switch (json.ValueKind)
        {
            case JsonValueKind.Object:
                foreach (var property in json.EnumerateObject())
                {
                    Walk(property.Value, path.Length == 0 ? property.Name : $"{path}.{property.Name}", errors);
                }

                break;
            case JsonValueKind.Array:
                foreach (var (i, item) in json.EnumerateArray().Index())
                {
                    var place = $"{path}[{i}]";
                    errors.AddIf(item.ValueKind == JsonValueKind.Null, place, "A list holds no null.");
                    errors.AddIf(
                        item.ValueKind == JsonValueKind.String
                            && item.GetString()!.AsSpan().IndexOfAny('\r', '\n') >= 0,
                        place,
                        "A text in a list is one line."
                    );
                    Walk(item, place, errors);
                }

                break;
            case JsonValueKind.Number:
                errors.AddIf(
                    !json.TryGetDecimal(out var number) || Math.Abs(number) > BookText.LargestNumber * 10,
                    path,
                    "This number is too large for a price book."
                );
                break;
            default:
                break;
        }
    }
}
