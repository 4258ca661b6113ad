using System.Diagnostics.CodeAnalysis;
using System.Globalization;
using System.Text.Json.Nodes;
using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Quoting;

/// <summary>Writes the value of a field as text and reads it again: the same text in forms and CSV files, with a point before the digits and days as <c>yyyy-MM-dd</c>.</summary>
public static class BookText
{
    /// <summary>Larger numbers mean nothing in a price book.</summary>
    public const decimal LargestNumber = 1_000_000_000_000_000;

    private const string Plain = "0.############################";

    /// <summary>The value as text; null where there is none.</summary>
    public static string? Write(BookField field, JsonNode? value, Currency currency)
    {
        ArgumentNullException.ThrowIfNull(field);
        return value is null
            ? null
            : field.Kind switch
            {
                BookFieldKind.Money => Amount(value.GetValue<long>(), currency),
                BookFieldKind.Number => value.GetValue<decimal>().ToString(Plain, CultureInfo.InvariantCulture),
                BookFieldKind.Whole => value.GetValue<int>().ToString(CultureInfo.InvariantCulture),
                BookFieldKind.Flag => value.GetValue<bool>() ? "yes" : "no",
                BookFieldKind.Texts or BookFieldKind.References => string.Join(
                    '\n',
                    value.AsArray().Select(t => t!.GetValue<string>())
                ),
                _ => value.GetValue<string>(),
            };
    }

    /// <summary>Reads a text. A blank gives null where the field is optional, else what a blank stands for.</summary>
    public static bool TryRead(
        BookField field,
        string? text,
        Currency currency,
        out JsonNode? value,
        [NotNullWhen(false)] out string? sentence
    )
    {
        ArgumentNullException.ThrowIfNull(field);
        value = null;
        sentence = null;
        var clean = string.IsNullOrWhiteSpace(text) ? null : text.Trim();
        if (clean is null && field.IsOptional && field.Blank is null)
        {
            return true;
        }

        clean ??= field.Blank;
        if (clean is null && field.Kind is BookFieldKind.Text or BookFieldKind.Code or BookFieldKind.Reference)
        {
            // What a text must be is said by the book's own rules.
            clean = "";
        }

        if (clean is null)
        {
            sentence = field.Kind == BookFieldKind.Money ? "Give an amount; 0 for none." : "This is needed.";
            return false;
        }

        (value, sentence) = field.Kind switch
        {
            BookFieldKind.Money => ReadAmount(clean, currency),
            BookFieldKind.Number => ReadNumber(clean),
            BookFieldKind.Whole => ReadWhole(clean),
            BookFieldKind.Flag => ReadFlag(clean),
            BookFieldKind.Choice => ReadChoice(field, clean),
            BookFieldKind.Day => ReadDay(clean),
            BookFieldKind.Texts or BookFieldKind.References => (Lines(clean), null),
            _ => (JsonValue.Create(clean), (string?)null),
        };
        return sentence is null;
    }

    /// <summary>The lines of a text that hold something.</summary>
    internal static JsonArray Lines(string text) =>
        [
            .. text.Split(['\r', '\n'], StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries)
                .Select(t => (JsonNode)JsonValue.Create(t)),
        ];

    private static string Amount(long minor, Currency currency) =>
        ((decimal)minor / currency.MinorPerMajor).ToString(
            "F" + currency.Exponent.ToString(CultureInfo.InvariantCulture),
            CultureInfo.InvariantCulture
        );

    private static (JsonNode?, string?) ReadAmount(string text, Currency currency)
    {
        if (!TryDecimal(text, out var amount))
        {
            return (null, $"'{text}' is no amount; write it as {Amount(12_550, currency)}.");
        }

        var minor = amount * currency.MinorPerMajor;
        return minor != decimal.Truncate(minor)
                ? (null, $"{currency.Code} has {currency.Exponent} digits after the point; '{text}' has more.")
            : Math.Abs(minor) > TotalsRules.LargestMinor ? (null, $"'{text}' is too large an amount.")
            : (JsonValue.Create((long)minor), null);
    }

    private static (JsonNode?, string?) ReadNumber(string text) =>
        TryDecimal(text, out var number)
            ? (JsonValue.Create(number), null)
            : (null, $"'{text}' is no number; write it with a point, as 2.5.");

    private static (JsonNode?, string?) ReadWhole(string text) =>
        int.TryParse(text, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var number)
            ? (JsonValue.Create(number), null)
            : (null, $"'{text}' is no whole number.");

    private static (JsonNode?, string?) ReadFlag(string text) =>
        text.ToUpperInvariant() switch
        {
            "YES" or "TRUE" => (JsonValue.Create(true), null),
            "NO" or "FALSE" => (JsonValue.Create(false), null),
            _ => (null, $"'{text}' is neither yes nor no."),
        };

    private static (JsonNode?, string?) ReadChoice(BookField field, string text) =>
        field.Choices.Any(c => c.Code == text)
            ? (JsonValue.Create(text), null)
            : (null, $"'{text}' is none of: {string.Join(", ", field.Choices.Select(c => c.Code))}.");

    private static (JsonNode?, string?) ReadDay(string text) =>
        DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out _)
            ? (JsonValue.Create(text), null)
            : (null, $"'{text}' is no day; write it as 2026-03-02.");

    /// <summary>A point before the digits, or a comma where one or two digits follow it: "1,250" could be either, so it is refused.</summary>
    private static bool TryDecimal(string text, out decimal number)
    {
        var comma = text.IndexOf(',', StringComparison.Ordinal);
        var isComma =
            comma >= 0
            && comma == text.LastIndexOf(',')
            && !text.Contains('.', StringComparison.Ordinal)
            && text.Length - comma - 1 is 1 or 2;
        return decimal.TryParse(
                isComma ? text.Replace(',', '.') : text,
                NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint,
                CultureInfo.InvariantCulture,
                out number
            )
            && Math.Abs(number) <= LargestNumber;
    }
}
