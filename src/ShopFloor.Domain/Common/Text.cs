using System.Globalization;
using System.Text;

namespace ShopFloor.Domain.Common;

/// <summary>One place for what a line of text may be: trimmed, NFC, no control characters, not longer than its limit.</summary>
public static class TextRules
{
    /// <summary>Limits in characters, shared by validators, columns and forms.</summary>
    public const int Name = 120;
    public const int ShortText = 200;
    public const int Note = 2000;
    public const int Code = 64;

    /// <summary>Cleans a required text; adds a sentence to <paramref name="errors"/> where it is empty or too long.</summary>
    public static string Required(string? text, string path, string label, int limit, FieldErrors errors)
    {
        var clean = Optional(text, path, label, limit, errors);
        if (clean is null && !HasError(text, limit))
        {
            errors.Add(path, $"{label} is needed.");
        }

        return clean ?? "";
    }

    /// <summary>Cleans an optional text; blank becomes null.</summary>
    public static string? Optional(string? text, string path, string label, int limit, FieldErrors errors)
    {
        if (string.IsNullOrWhiteSpace(text))
        {
            return null;
        }

        if (HasError(text, limit))
        {
            errors.Add(path, $"{label} has {text.Trim().Length} characters; at most {limit} are kept.");
            return null;
        }

        if (text.Any(c => char.IsControl(c) && c is not ('\n' or '\r' or '\t')) || HasLoneSurrogate(text))
        {
            errors.Add(path, $"{label} contains characters that cannot be kept.");
            return null;
        }

        return text.Trim().Normalize(NormalizationForm.FormC);
    }

    /// <summary>Upper-case form for searching, the same on every database.</summary>
    public static string SearchForm(params string?[] parts) =>
        string.Join(' ', parts.Where(p => !string.IsNullOrWhiteSpace(p)).Select(p => p!.Trim()))
            .ToUpper(CultureInfo.InvariantCulture);

    private static bool HasError(string? text, int limit) => text is not null && text.Trim().Length > limit;

    private static bool HasLoneSurrogate(string text)
    {
        for (var i = 0; i < text.Length; i++)
        {
            if (char.IsHighSurrogate(text[i]) && i + 1 < text.Length && char.IsLowSurrogate(text[i + 1]))
            {
                i++;
            }
            else if (char.IsSurrogate(text[i]))
            {
                return true;
            }
        }

        return false;
    }
}
