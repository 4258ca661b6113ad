using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Routing;

/// <summary>Why work on an operation is put on hold: the shop's own list, kept as data.</summary>
/// <param name="Code">Stable, such as <c>partMissing</c>; letters and digits, begins with a small letter.</param>
/// <param name="Title">A short sentence without its stop: "A part is missing".</param>
/// <param name="Whom">Who clears it up, as it stands after "from": "a supplier". Null: the shop.</param>
/// <param name="IsRetired">No longer offered; holds that have it keep it.</param>
public sealed record HoldReason(string Code, string Title, string? Whom = null, bool IsRetired = false)
{
    public const int MostOfAShop = 20;

    /// <summary>Longer ones do not fit on a gloved hand's button.</summary>
    public const int LongestTitle = 60;

    /// <summary>Always offered, last: the person says it in their own words.</summary>
    public static HoldReason Other { get; } = new("other", "Another reason");

    /// <summary>A list as a shop may have it: codes once, titles not empty; <see cref="Other"/> belongs to every list and is none of its rows.</summary>
    public static Outcome<IReadOnlyList<HoldReason>> ReadList(IReadOnlyList<HoldReason>? rows)
    {
        var errors = new FieldErrors();
        var list = new List<HoldReason>();
        foreach (var (row, i) in (rows ?? []).Select((row, i) => (row, i)))
        {
            var code = row.Code?.Trim() ?? "";
            errors.AddIf(
                code.Length is 0 or > 32 || !char.IsAsciiLetterLower(code[0]) || !code.All(char.IsAsciiLetterOrDigit),
                $"reasons[{i}].code",
                "A code has 1 to 32 letters and digits and begins with a small letter."
            );
            errors.AddIf(
                code == Other.Code || list.Exists(r => r.Code == code),
                $"reasons[{i}].code",
                $"The code {code} is there already."
            );
            list.Add(
                row with
                {
                    Code = code,
                    Title = TextRules.Required(row.Title, $"reasons[{i}].title", "The reason", LongestTitle, errors),
                    Whom = TextRules.Optional(row.Whom, $"reasons[{i}].whom", "Who clears it up", LongestTitle, errors),
                }
            );
        }

        errors.AddIf(
            list.Count > MostOfAShop,
            "reasons",
            $"A shop has at most {MostOfAShop} reasons; retired ones count."
        );
        return errors.Any ? errors.ToFailure() : list;
    }
}
