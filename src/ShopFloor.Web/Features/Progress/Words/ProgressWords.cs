using System.Collections.Frozen;
using System.Globalization;
using System.Text.Json;
using ShopFloor.Application.Decisions;
using ShopFloor.Domain.Common;

namespace ShopFloor.Web.Features.Progress.Words;

/// <summary>The sentences of the customer's pages in one language, from the file of that language beside this one. Another language is one more file.</summary>
public sealed class ProgressWords
{
    /// <summary>Read by whoever asks for a language that is not there.</summary>
    public const string Usual = "en";

    private const string Folder = "progress-words/";

    private static readonly FrozenDictionary<string, ProgressWords> Known = Load();

    private readonly FrozenDictionary<string, string> texts;

    private ProgressWords(string code, Dictionary<string, string> texts)
    {
        Code = code;
        this.texts = texts.ToFrozenDictionary(StringComparer.Ordinal);
        Culture = CultureInfo.GetCultureInfo(texts["culture"]);
    }

    /// <summary>ISO 639-1.</summary>
    public string Code { get; }

    public CultureInfo Culture { get; }

    public IReadOnlyCollection<string> Keys => texts.Keys;

    public static IReadOnlyCollection<ProgressWords> All =>
        [.. Known.Values.OrderBy(w => w.Code == Usual ? "" : w.Code)];

    public string this[string key] => texts[key];

    public static bool IsKnown(string? code) => code is not null && Known.ContainsKey(code);

    /// <summary>The words of a language; the usual ones where it is not there.</summary>
    public static ProgressWords Of(string? code) =>
        code is not null && Known.TryGetValue(code, out var words) ? words : Known[Usual];

    /// <summary>A sentence with its gaps filled.</summary>
    public string Say(string key, params ReadOnlySpan<(string Name, string Text)> gaps)
    {
        // Once through the sentence, so that a gap's name in what is filled in stays as it is.
        var rest = texts[key].AsSpan();
        var said = new System.Text.StringBuilder();
        for (var open = rest.IndexOf('{'); open >= 0; open = rest.IndexOf('{'))
        {
            var close = rest.IndexOf('}');
            said.Append(rest[..open]).Append(TextOf(rest[(open + 1)..close], gaps));
            rest = rest[(close + 1)..];
        }

        return said.Append(rest).ToString();
    }

    public bool Has(string key) => texts.ContainsKey(key);

    /// <summary>What the program tells without knowing the language, in this one.</summary>
    public string Say(Told told) =>
        told switch
        {
            Told.AsWritten words => words.Text,
            Told.OnDay day => Day(day.Day),
            Told.Amount amount => Amount(amount.Money),
            Told.Several several => string.Join(", ", several.Parts.Select(Say)),
            Told.Sentence sentence => Say(sentence.Key, [.. sentence.Gaps.Select(g => (g.Gap, Say(g.Filled)))]),
            _ => throw new ArgumentOutOfRangeException(nameof(told), told, "Nothing is said about this."),
        };

    public string Day(DateOnly day) => day.ToString(texts["format.day"], Culture);

    public string ShortDay(DateOnly day) => day.ToString(texts["format.shortDay"], Culture);

    public string Moment(DateTimeOffset at) => at.ToString(texts["format.moment"], Culture);

    public string Amount(Money money) => money.ToString(Culture);

    private static string TextOf(ReadOnlySpan<char> name, ReadOnlySpan<(string Name, string Text)> gaps)
    {
        foreach (var gap in gaps)
        {
            if (name.SequenceEqual(gap.Name))
            {
                return gap.Text;
            }
        }

        throw new ArgumentException($"Nothing was said for the gap {name}.", nameof(gaps));
    }

    private static FrozenDictionary<string, ProgressWords> Load()
    {
        var assembly = typeof(ProgressWords).Assembly;
        return assembly
            .GetManifestResourceNames()
            .Where(n => n.StartsWith(Folder, StringComparison.Ordinal))
            .Select(name =>
            {
                using var stream = assembly.GetManifestResourceStream(name)!;
                return new ProgressWords(
                    Path.GetFileNameWithoutExtension(name[Folder.Length..]),
                    JsonSerializer.Deserialize<Dictionary<string, string>>(stream)!
                );
            })
            .ToFrozenDictionary(w => w.Code, StringComparer.Ordinal);
    }
}
