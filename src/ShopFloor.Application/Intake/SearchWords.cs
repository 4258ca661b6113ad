using ShopFloor.Domain.Common;

namespace ShopFloor.Application.Intake;

/// <summary>A search text cut into words, in the upper-case form of the search columns; words past the eighth are not looked at.</summary>
internal static class SearchWords
{
    private const int Most = 8;

    public static IReadOnlyList<string> Of(string? search) =>
        [
            .. TextRules
                .SearchForm(search)
                .Split(' ', StringSplitOptions.RemoveEmptyEntries)
                .Take(Most)
                .Select(w => w[..Math.Min(w.Length, TextRules.Code)]),
        ];
}
