using System.Collections.Frozen;

namespace ShopFloor.Domain.Intake;

/// <summary>A well-formed vehicle identification number: 17 digits and capitals without I, O and Q.</summary>
/// <remarks>
/// Source: 49 CFR 565.13 and 565.15 (length, alphabet, check digit, model-year code), Tables III, IV and VII. Well-formed says nothing about the
/// check digit: outside North America position 9 may hold any character, so a mismatch warns and never refuses. <c>default</c> is refused by <see cref="Text"/>.
/// </remarks>
public readonly record struct Vin
{
    /// <summary>Characters of a VIN (49 CFR 565.13).</summary>
    public const int Length = 17;

    /// <summary>First and last model year that <see cref="ModelYearCandidates"/> names: the two 30-year cycles of the code.</summary>
    public const int FirstYear = 1980;
    public const int LastYear = 2039;

    private const string Allowed = "0123456789ABCDEFGHJKLMNPRSTUVWXYZ";

    // 49 CFR 565, Table VII: position 10, one character a year from 1980, again from 2010; never I, O, Q, U, Z or 0.
    private const string YearCodes = "ABCDEFGHJKLMNPRSTVWXY123456789";

    // 49 CFR 565, Table IV: weights of positions 1 to 17; position 9 is the check digit itself.
    private static readonly int[] Weights = [8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2];

    private static readonly FrozenDictionary<char, int> Values = BuildValues();

    private readonly string? text;

    private Vin(string text) => this.text = text;

    public string Text => text ?? throw new InvalidOperationException("A VIN has 17 characters.");

    /// <summary>Position 9 as entered.</summary>
    public char CheckDigitFound => Text[8];

    /// <summary>Remainder of the weighted sum by 11, 10 written as X (49 CFR 565.15(c)).</summary>
    public char CheckDigitExpected
    {
        get
        {
            var sum = 0;
            for (var i = 0; i < Length; i++)
            {
                sum += Values[Text[i]] * Weights[i];
            }

            var remainder = sum % 11;
            return remainder == 10 ? 'X' : (char)('0' + remainder);
        }
    }

    public bool CheckDigitMatches => CheckDigitExpected == CheckDigitFound;

    /// <summary>The years from 1980 to 2039 whose code is position 10, ascending; empty where the character stands for no year (U, Z, 0).</summary>
    public IReadOnlyList<int> ModelYearCandidates
    {
        get
        {
            var index = YearCodes.IndexOf(Text[9]);
            return index < 0 ? [] : [FirstYear + index, FirstYear + YearCodes.Length + index];
        }
    }

    /// <summary>What position 7 says about the cycle for cars and light vehicles up to 4536 kg: a digit means 1980 to 2009, a letter 2010 to 2039.</summary>
    /// <remarks>Source: 49 CFR 565.15, footnote to Table VII (2008 rule). For heavier vehicles and trailers position 7 tells nothing, so this is a reading, not a fact; null where there are no candidates.</remarks>
    public int? LightVehicleModelYear =>
        ModelYearCandidates is [var first, var second] ? (char.IsAsciiDigit(Text[6]) ? first : second) : null;

    /// <summary>Position 1 from 1 to 5: the maker was registered in North America (ISO 3779 allocation).</summary>
    public bool IsNorthAmericanMaker => Text[0] is >= '1' and <= '5';

    /// <summary>Upper case, without spaces and hyphens: how people write a VIN down is not how it is stored.</summary>
    public static string Clean(string text) =>
        text.Replace(" ", "", StringComparison.Ordinal).Replace("-", "", StringComparison.Ordinal).ToUpperInvariant();

    /// <summary>Reads a VIN; false where the cleaned text is not 17 allowed characters.</summary>
    public static bool TryParse(string? entered, out Vin vin)
    {
        var clean = Clean(entered ?? "");
        var isWellFormed = clean.Length == Length && clean.All(IsAllowed);
        vin = isWellFormed ? new Vin(clean) : default;
        return isWellFormed;
    }

    internal static bool IsAllowed(char c) => Allowed.Contains(c, StringComparison.Ordinal);

    public override string ToString() => text ?? "";

    // 49 CFR 565, Table III: transliteration. Digits stand for themselves; I, O and Q have no value.
    private static FrozenDictionary<char, int> BuildValues()
    {
        var values = new Dictionary<char, int>();
        for (var digit = 0; digit <= 9; digit++)
        {
            values[(char)('0' + digit)] = digit;
        }

        Add("ABCDEFGH", 1);
        Add("JKLMN", 1);
        values['P'] = 7;
        values['R'] = 9;
        Add("STUVWXYZ", 2);
        return values.ToFrozenDictionary();

        void Add(string letters, int first)
        {
            for (var i = 0; i < letters.Length; i++)
            {
                values[letters[i]] = first + i;
            }
        }
    }
}
