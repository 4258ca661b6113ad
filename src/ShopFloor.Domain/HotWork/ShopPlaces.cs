using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Domain.HotWork;

/// <summary>One place of the shop in which work is done, such as the second bay.</summary>
/// <param name="Code">Stable, e.g. <c>bay-2</c>.</param>
/// <param name="Title">Reads after "in": "bay 2".</param>
/// <param name="Kind">As routes name it: one of <see cref="ShopPlaces.Kinds"/>.</param>
public sealed record ShopPlace(string Code, string Title, string Kind)
{
    /// <summary>A car may stand there.</summary>
    public bool HoldsCar => HotPlace.HoldsCar(Kind);
}

/// <summary>The shop's places, and the one rule of where an operation is done: routes name a kind of place, a job says which of that kind it uses. Where it has not said, it may be any of them, and whatever must not meet is kept apart from all.</summary>
public sealed class ShopPlaces
{
    public const int MostOfAShop = 40;
    public const int LongestTitle = 60;

    private ShopPlaces(IReadOnlyList<ShopPlace> all) => All = all;

    /// <summary>Kinds of place, as routes name them.</summary>
    public static IReadOnlyList<string> Kinds { get; } = ["bay", "bench", "paint", "office"];

    /// <summary>One place of each kind: a shop that has never said more.</summary>
    public static ShopPlaces Usual { get; } = new([.. Kinds.Select(k => new ShopPlace(k, HotPlace.Title(k), k))]);

    public IReadOnlyList<ShopPlace> All { get; }

    public static ShopPlaces Of(IReadOnlyList<ShopPlace> places) => places.Count == 0 ? Usual : new ShopPlaces(places);

    public ShopPlace? Find(string code) => All.FirstOrDefault(p => p.Code == code);

    /// <summary>Reads after "in".</summary>
    public string Title(string code) => Find(code)?.Title ?? HotPlace.Title(code);

    public IReadOnlyList<ShopPlace> OfKind(string kind) => [.. All.Where(p => p.Kind == kind)];

    /// <summary>A car may stand there; a place that the shop does not know is taken for one that holds a car: the careful side.</summary>
    public bool HoldsCar(string code) => Find(code)?.HoldsCar ?? HotPlace.HoldsCar(code);

    /// <summary>Every place in which an operation of this job may be done: one where that is known.</summary>
    public IReadOnlyList<string> Possible(IReadOnlyDictionary<string, string> chosen, string place)
    {
        ArgumentNullException.ThrowIfNull(chosen);
        var ofKind = OfKind(place);
        return ofKind.Count == 0 ? [place]
            : chosen.TryGetValue(place, out var one) && ofKind.Any(p => p.Code == one) ? [one]
            : [.. ofKind.Select(p => p.Code)];
    }

    public IReadOnlyList<string> Possible(Job job, string place) => Possible(job.Places, place);

    /// <summary>"bay 1 or bay 2".</summary>
    public string Words(IReadOnlyList<string> codes) => string.Join(" or ", codes.Select(Title));

    /// <summary>A list as a shop may have it: codes once, at least one place of each kind, since routes name the kinds.</summary>
    public static Outcome<IReadOnlyList<ShopPlace>> ReadList(IReadOnlyList<ShopPlace>? rows)
    {
        var errors = new FieldErrors();
        var list = new List<ShopPlace>();
        foreach (var (row, i) in (rows ?? []).Select((row, i) => (row, i)))
        {
            var code = row?.Code?.Trim() ?? "";
            var kind = row?.Kind ?? "";
            errors.AddIf(
                code.Length is 0 or > 32
                    || !code.All(c => char.IsAsciiLetterLower(c) || char.IsAsciiDigit(c) || c == '-'),
                $"places[{i}].code",
                "A code has 1 to 32 small letters, digits and hyphens, such as bay-2."
            );
            errors.AddIf(list.Exists(p => p.Code == code), $"places[{i}].code", $"The code {code} is there already.");
            errors.AddIf(
                !Kinds.Contains(kind) || (Kinds.Contains(code) && code != kind),
                $"places[{i}].kind",
                $"The kind is one of {string.Join(", ", Kinds)}, and a place called like a kind is of that kind."
            );
            list.Add(
                new ShopPlace(
                    code,
                    TextRules.Required(row?.Title, $"places[{i}].title", "The place's name", LongestTitle, errors),
                    kind
                )
            );
            errors.AddIf(
                list.Take(i).Any(p => string.Equals(p.Title, list[i].Title, StringComparison.OrdinalIgnoreCase)),
                $"places[{i}].title",
                $"Two places are called {list[i].Title}; nobody could tell them apart."
            );
        }

        foreach (var missing in Kinds.Where(k => !list.Exists(p => p.Kind == k)))
        {
            errors.Add("places", $"Name at least one place of the kind {missing}: routes send work there.");
        }

        errors.AddIf(list.Count > MostOfAShop, "places", $"A shop has at most {MostOfAShop} places.");
        return errors.Any ? errors.ToFailure() : list;
    }
}
