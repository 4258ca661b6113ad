using System.Net;
using System.Text.RegularExpressions;
using ShopFloor.Web.Features.Progress.Words;

namespace ShopFloor.Web.Tests.Decisions;

/// <summary>Looks for English words of the file of words on a page that is shown in German.</summary>
internal static partial class GermanPages
{
    private static readonly ProgressWords English = ProgressWords.Of("en");
    private static readonly ProgressWords German = ProgressWords.Of("de");

    public static void AssertGerman(string html)
    {
        Assert.Contains("<html lang=\"de\"", html, StringComparison.Ordinal);
        var left = EnglishIn(html).ToList();
        Assert.True(left.Count == 0, $"English on the German page: {string.Join(" | ", left)}");
    }

    /// <summary>Sentences, and whole texts of one word, that only the English file has.</summary>
    public static IEnumerable<string> EnglishIn(string html)
    {
        var body = html[html.IndexOf("<title", StringComparison.Ordinal)..];
        var texts = Tags()
            .Split(Unseen().Replace(body, "<x>"))
            .Select(t => WebUtility.HtmlDecode(t).Trim())
            .Where(t => t.Length > 0)
            .ToList();
        var whole = string.Join('\n', texts);
        var german = string.Join('\n', German.Keys.Select(k => German[k]));
        foreach (var key in English.Keys.Where(k => !k.StartsWith("format.", StringComparison.Ordinal)))
        {
            foreach (var part in Gap().Split(English[key]).Select(p => p.Trim(' ', '.', ',', ':', ';')))
            {
                var isSentence = part.Contains(' ', StringComparison.Ordinal);
                if (
                    part.Any(char.IsLetter)
                    && !german.Contains(part, StringComparison.Ordinal)
                    && (isSentence ? whole.Contains(part, StringComparison.Ordinal) : texts.Contains(part))
                )
                {
                    yield return $"{key}: {part}";
                }
            }
        }
    }

    [GeneratedRegex("<[^>]*>")]
    private static partial Regex Tags();

    // The link to the English page, the style, and the lines of the paper, which are shown as they were frozen.
    [GeneratedRegex(
        "<p class=\"other\">.*?</p>|<style>.*?</style>|<td class=\"as-written\">.*?</td>",
        RegexOptions.Singleline
    )]
    private static partial Regex Unseen();

    [GeneratedRegex("\\{[a-zA-Z]+\\}")]
    private static partial Regex Gap();
}
