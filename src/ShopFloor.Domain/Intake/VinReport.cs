namespace ShopFloor.Domain.Intake;

/// <summary>What can be said about an entered VIN without asking anybody: its form, its check digit, the model years it may stand for.</summary>
/// <param name="IsWellFormed">17 allowed characters; the check digit has no part in it.</param>
/// <param name="CheckDigitExpected">Null where the text is not well-formed.</param>
/// <param name="CheckDigitFound">Position 9; null where not well-formed.</param>
/// <param name="CheckDigitMatches">Null where not well-formed.</param>
/// <param name="ModelYearCandidates">Ascending, 1980 to 2039; empty where not well-formed.</param>
/// <param name="Problems">Sentences; empty where nothing is wrong.</param>
/// <param name="Notes">Sentences that help to read the number, wrong or not.</param>
public sealed record VinReport(
    bool IsWellFormed,
    char? CheckDigitExpected,
    char? CheckDigitFound,
    bool? CheckDigitMatches,
    IReadOnlyList<int> ModelYearCandidates,
    IReadOnlyList<string> Problems,
    IReadOnlyList<string> Notes
)
{
    /// <summary>Longest text that is looked at; a longer one is refused by the callers.</summary>
    public const int LongestText = 64;

    public static VinReport For(string entered)
    {
        if (!Vin.TryParse(entered, out var vin))
        {
            return new(false, null, null, null, [], WhatIsWrong(Vin.Clean(entered)), []);
        }

        List<string> problems = [];
        List<string> notes = [];
        if (!vin.CheckDigitMatches)
        {
            problems.Add(
                $"The check digit (position 9) is {vin.CheckDigitFound}, but the other characters ask for {vin.CheckDigitExpected}. "
                    + "Compare with the plate: on a car built for North America one character is mistyped; on others position 9 may be anything."
            );
        }

        if (vin.ModelYearCandidates.Count == 0)
        {
            problems.Add(
                $"Position 10 is {vin.Text[9]}, which stands for no model year. Take the year from the papers."
            );
        }
        else if (vin.LightVehicleModelYear is { } year)
        {
            var kind = char.IsAsciiDigit(vin.Text[6]) ? "a digit" : "a letter";
            notes.Add($"Position 7 is {kind}: on a car or light vehicle under 49 CFR 565 the model year is {year}.");
        }

        return new(
            true,
            vin.CheckDigitExpected,
            vin.CheckDigitFound,
            vin.CheckDigitMatches,
            vin.ModelYearCandidates,
            problems,
            notes
        );
    }

    /// <summary>Why a cleaned text is no VIN, with what to try; at least one sentence.</summary>
    internal static IReadOnlyList<string> WhatIsWrong(string clean)
    {
        List<string> problems = [];
        if (clean.Length != Vin.Length)
        {
            problems.Add($"A VIN has 17 characters; this text has {clean.Length} without spaces and hyphens.");
        }

        if (clean.Any(c => c is 'I' or 'O' or 'Q'))
        {
            var suggestion = clean.Replace('O', '0').Replace('I', '1').Replace('Q', '0');
            problems.Add(
                "The letters I, O and Q are never used in a VIN. "
                    + $"If the plate shows the digits 1 and 0, it reads {suggestion}: compare character by character."
            );
        }

        var strange = clean.Where(c => !Vin.IsAllowed(c) && c is not ('I' or 'O' or 'Q')).Distinct().ToList();
        if (strange.Count > 0)
        {
            var list = string.Join(' ', strange.Select(c => char.IsControl(c) || char.IsSurrogate(c) ? '\uFFFD' : c));
            problems.Add($"A VIN has only digits and the letters A to Z; not allowed here: {list}");
        }

        return problems;
    }
}
