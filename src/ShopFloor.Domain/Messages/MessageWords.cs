using System.Globalization;
using System.Net;
using System.Text;
using System.Text.RegularExpressions;
using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Messages;

/// <summary>Subject and text of a template, with words in braces for what differs.</summary>
public sealed record MessageWords(string Subject, string Body)
{
    /// <summary>Whether a placeholder stands in it.</summary>
    public bool Uses(string placeholder) =>
        Subject.Contains($"{{{placeholder}}}", StringComparison.Ordinal)
        || Body.Contains($"{{{placeholder}}}", StringComparison.Ordinal);
}

/// <summary>A message as it goes out.</summary>
/// <param name="Html">The same words; what comes from people is escaped.</param>
public sealed record WrittenMessage(string Subject, string Text, string Html);

/// <summary>Checks and fills in templates.</summary>
public static partial class MessageWriting
{
    /// <summary>RFC 5322, 2.1.1: a line should not be longer than 78 characters; longer subjects are folded, but read badly.</summary>
    public const int LongestSubject = 150;
    public const int LongestBody = 4000;

    /// <summary>Cleans what the owner typed; each unknown word in braces is named at its field.</summary>
    public static MessageWords Check(MessageKind kind, string? subject, string? body, FieldErrors errors)
    {
        var words = new MessageWords(
            TextRules.Required(subject, "subject", "The subject", LongestSubject, errors),
            TextRules.Required(body, "body", "The text", LongestBody, errors).ReplaceLineEndings("\n")
        );
        errors.AddIf(
            words.Subject.Any(char.IsControl),
            "subject",
            "The subject is one line: no line breaks and no tabs."
        );
        CheckBraces(kind, words.Subject, "subject", errors);
        CheckBraces(kind, words.Body, "body", errors);
        return words;
    }

    /// <summary>Fills in the words. A line that uses a word without a value is left out.</summary>
    /// <param name="values">By name; null for a word that has no value this time.</param>
    public static WrittenMessage Write(MessageWords words, IReadOnlyDictionary<string, string?> values)
    {
        var lines = words
            .Body.Split('\n')
            .Where(l => Braces().Matches(l).All(m => values.GetValueOrDefault(NameOf(m)) is not null))
            .ToList();
        var text = string.Join('\n', lines.Select(l => Fill(l, values, v => v)));
        var html = new StringBuilder();
        foreach (var paragraph in string.Join('\n', lines).Split("\n\n", StringSplitOptions.RemoveEmptyEntries))
        {
            var inner = paragraph.Trim('\n').Split('\n').Select(l => Escaped(l, values));
            html.Append("<p>").AppendJoin("<br>", inner).Append("</p>\n");
        }

        return new WrittenMessage(
            Fill(words.Subject, values, v => v).Trim(),
            CollapseGaps().Replace(text, "\n\n").Trim(),
            html.ToString()
        );
    }

    /// <summary>One line without control characters: what people typed can start no line and no header of its own.</summary>
    public static string OneLine(string text) =>
        Spaces().Replace(new string([.. text.Select(c => char.IsControl(c) ? ' ' : c)]), " ").Trim();

    /// <summary>A day as it stands in a message.</summary>
    public static string Day(DateOnly day, string language) =>
        language == MessageLanguages.German
            ? day.ToString("dddd, d. MMMM yyyy", Culture(language))
            : day.ToString("dddd d MMMM yyyy", CultureInfo.InvariantCulture);

    public static CultureInfo Culture(string language) =>
        language == MessageLanguages.German ? CultureInfo.GetCultureInfo("de-DE") : CultureInfo.InvariantCulture;

    private static void CheckBraces(MessageKind kind, string text, string path, FieldErrors errors)
    {
        var known = kind.Placeholders();
        foreach (
            var name in Braces()
                .Matches(text)
                .Select(NameOf)
                .Where(n => known.All(p => p.Name != n))
                .Distinct(StringComparer.Ordinal)
        )
        {
            errors.Add(
                path,
                $"{{{name}}} is not known here. Known are {string.Join(", ", known.Select(p => $"{{{p.Name}}}"))}."
            );
        }

        var rest = Braces().Replace(text, "");
        errors.AddIf(
            rest.Contains('{') || rest.Contains('}'),
            path,
            "A brace stands alone: write words to be filled in as {customer}, and no other braces."
        );
    }

    private static string Fill(string line, IReadOnlyDictionary<string, string?> values, Func<string, string> form) =>
        Braces().Replace(line, m => form(OneLine(values.GetValueOrDefault(NameOf(m)) ?? "")));

    private static string Escaped(string line, IReadOnlyDictionary<string, string?> values)
    {
        var html = new StringBuilder();
        var at = 0;
        foreach (Match match in Braces().Matches(line))
        {
            html.Append(WebUtility.HtmlEncode(line[at..match.Index]));
            var value = WebUtility.HtmlEncode(OneLine(values.GetValueOrDefault(NameOf(match)) ?? ""));
            html.Append(NameOf(match) == "link" ? $"<a href=\"{value}\">{value}</a>" : value);
            at = match.Index + match.Length;
        }

        return html.Append(WebUtility.HtmlEncode(line[at..])).ToString();
    }

    private static string NameOf(Match match) => match.Groups[1].Value;

    [GeneratedRegex(@"\{([^{}\n]{1,40})\}")]
    private static partial Regex Braces();

    [GeneratedRegex(@"\n{3,}")]
    private static partial Regex CollapseGaps();

    [GeneratedRegex(" {2,}")]
    private static partial Regex Spaces();
}
