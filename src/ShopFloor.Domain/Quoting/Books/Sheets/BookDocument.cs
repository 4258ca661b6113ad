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
            return new Failure.TooLarge(
                $"The document has {json.Length} characters; at most {LargestBytes} are read."
            );
        }

        try
        {
            using var document = JsonDocument.Parse(json.TrimStart('\uFEFF'));
            return Read(document.RootElement);
        }
        catch (JsonException e)
        {
            return Failure.Field("$", $"The JSON cannot be read at line {e.LineNumber + 1}, byte {e.BytePositionInLine + 1}.");
        }
    }

    /// <inheritdoc cref="Read(string)"/>
    public static Outcome<PriceBook> Read(JsonElement json)
    {
        if (json.ValueKind != JsonValueKind.Object)
        {
            return Failure.Field("$", "A price book is an object.");
        }

        var errors = new FieldErrors();
        Walk(json, "", errors);
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        try
        {
            return Checked(json.Deserialize<PriceBook>(Strict)!);
        }
        catch (JsonException e)
        {
            var path = e.Path is { Length: > 2 } p ? p[2..] : "$";
            return Failure.Field(path, $"This does not fit the price book: {e.Message.Split(" Path:")[0]}");
        }
    }

    /// <summary>Words of a choice are exactly the known ones; the serializer would take numbers in quotes too.</summary>
    private static Outcome<PriceBook> Checked(PriceBook book)
    {
        var errors = new FieldErrors();
        errors.AddIf(!Enum.IsDefined(book.Rounding), "rounding", "This is no known way of rounding.");
        errors.AddIf(!Enum.IsDefined(book.TaxPer), "taxPer", "This is no known way of counting tax.");
        foreach (var (i, material) in book.Materials.Index())
        {
            errors.AddIf(!Enum.IsDefined(material.Group), $"materials[{i}].group", "This is no known group.");
        }

        foreach (var (i, kit) in book.Kits.Index())
        {
            foreach (var (j, part) in kit.Parts.Index())
            {
                errors.AddIf(!Enum.IsDefined(part.Kind), $"kits[{i}].parts[{j}].kind", "This is no known kind of part.");
            }
        }

        return errors.Any ? errors.ToFailure() : book;
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
                        item.ValueKind == JsonValueKind.String && item.GetString()!.AsSpan().IndexOfAny('\r', '\n') >= 0,
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
