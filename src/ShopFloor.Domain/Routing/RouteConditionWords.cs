using System.Text.RegularExpressions;

namespace ShopFloor.Domain.Routing;

/// <summary>Says a <see cref="RouteCondition"/> in words, as the editor, the route's table and the comparison of editions show it.</summary>
public static partial class RouteConditionWords
{
    /// <summary>Reads after "on jobs": "with a door bar and for street or track". Empty for always.</summary>
    /// <param name="when">Null for always.</param>
    /// <param name="title">A code as people read it, with the sort of thing it names; the code itself where nothing better is known.</param>
    public static string Of(RouteCondition? when, Func<string, string, string>? title = null)
    {
        if (when is null)
        {
            return "";
        }

        var name = title ?? ((_, code) => code);
        List<string> parts =
        [
            .. Any(when.Kits, "with the kit ", c => name("kit", c)),
            .. Any(when.Uses, "for ", c => name("use", c)),
            .. when.Doors is { } doors ? [doors ? "with a door bar" : "without a door bar"] : Array.Empty<string>(),
            .. Any(when.Hinges, "with the hinge option ", c => name("hinge", c)),
            .. when
                .Answers.OrderBy(a => a.Key, StringComparer.Ordinal)
                .SelectMany(a => Any(a.Value, $"with {name("question", a.Key)}: ", c => name($"answer of {a.Key}", c))),
            .. Any(when.Energy, "for energy ", e => Spaced(e.ToString())),
            .. Any(when.Airbags, "with airbags: ", a => Spaced(a.ToString())),
            .. Any(when.Tank, "with the tank in ", t => Spaced(t.ToString())),
            .. when.RearSeatsUsed is { } used
                ? [used ? "where rear seats are used" : "where no rear seat is used"]
                : Array.Empty<string>(),
            .. Any(when.CustomerBrings, "where the customer brings ", c => c),
        ];
        return string.Join(" and ", parts);
    }

    private static IEnumerable<string> Any<T>(IReadOnlyList<T> wanted, string before, Func<T, string> word) =>
        wanted.Count == 0 ? [] : [before + string.Join(" or ", wanted.Select(word).Order(StringComparer.Ordinal))];

    /// <summary>FrontAndSide: "front and side".</summary>
    public static string Spaced(string name) => Capital().Replace(name, m => " " + m.Value).Trim().ToLowerInvariant();

    [GeneratedRegex("[A-Z]")]
    private static partial Regex Capital();
}
