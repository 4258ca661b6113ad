using System.Globalization;

namespace ShopFloor.Domain.Common;

/// <summary>Reads a length as people write it from a tape: <c>44.45</c>, <c>1 3/4</c>, <c>5/8 in</c>, <c>38 mm</c>, <c>1 3/4"</c>.</summary>
public static class LengthText
{
    public const int LongestText = 40;

    /// <summary>False where it is no length; a text without a unit is in <paramref name="unit"/>.</summary>
    public static bool TryReadMm(string? text, LengthUnit unit, out double millimetres)
    {
        millimetres = 0;
        if (text is null || text.Length > LongestText)
        {
            return false;
        }

        var bare = text.Trim();
        foreach (var (ending, named) in Endings)
        {
            if (bare.EndsWith(ending, StringComparison.OrdinalIgnoreCase))
            {
                (bare, unit) = (bare[..^ending.Length].TrimEnd(), named);
                break;
            }
        }

        if (!TryReadFigure(bare, out var number))
        {
            return false;
        }

        millimetres = unit == LengthUnit.Inch ? number * Length.MillimetresPerInch : number;
        return double.IsFinite(millimetres);
    }

    /// <summary>A figure as it is typed: as in <see cref="TryReadNumber"/>, with a point or a comma before the decimals.</summary>
    public static bool TryReadFigure(string text, out double number)
    {
        ArgumentNullException.ThrowIfNull(text);
        number = 0;
        var bare = text.Trim().Replace('−', '-');
        return !IsAmbiguous(bare) && TryReadNumber(bare.Replace(',', '.'), out number);
    }

    /// <summary>A figure of degrees, with their sign or without.</summary>
    public static bool TryReadDegrees(string text, out double degrees)
    {
        ArgumentNullException.ThrowIfNull(text);
        return TryReadFigure(text.TrimEnd().TrimEnd('°'), out degrees);
    }

    /// <summary>A comma before three digits, as in <c>1,250</c>, may group thousands or stand before decimals. Metal is cut by these figures, so nobody guesses.</summary>
    private static bool IsAmbiguous(string bare)
    {
        var digits = bare.TrimStart('-');
        var comma = digits.IndexOf(',', StringComparison.Ordinal);
        return comma is > 0 and <= 3
            && digits.Length == comma + 4
            && digits[0] != '0'
            && digits.Where((_, i) => i != comma).All(char.IsAsciiDigit);
    }

    /// <summary>A decimal number, a fraction, or a whole number and a fraction.</summary>
    public static bool TryReadNumber(string text, out double number)
    {
        var bare = text.Trim();
        var sign = bare.StartsWith('-') ? -1 : 1;
        if (sign < 0)
        {
            bare = bare[1..].TrimStart();
        }

        var words = bare.Split(' ', StringSplitOptions.RemoveEmptyEntries);
        number = 0;
        var isRead = words.Length switch
        {
            1 => TryPart(words[0], out number),
            2 => words[1].Contains('/', StringComparison.Ordinal)
                && IsWhole(words[0])
                && TryPart(words[1], out number)
                && number < 1
                && Add(double.Parse(words[0], CultureInfo.InvariantCulture), ref number),
            _ => false,
        };
        number *= sign;
        return isRead && double.IsFinite(number);
    }

    private static readonly (string Ending, LengthUnit Unit)[] Endings =
    [
        ("mm", LengthUnit.Millimetre),
        ("inch", LengthUnit.Inch),
        ("in", LengthUnit.Inch),
        ("\"", LengthUnit.Inch),
        ("″", LengthUnit.Inch),
    ];

    private static bool Add(double whole, ref double number)
    {
        number += whole;
        return true;
    }

    private static bool IsWhole(string text) => text.Length <= 9 && text.All(char.IsAsciiDigit);

    private static bool TryPart(string text, out double number)
    {
        var at = text.IndexOf('/', StringComparison.Ordinal);
        if (at < 0)
        {
            return double.TryParse(text, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out number);
        }

        number = 0;
        var (over, under) = (text[..at], text[(at + 1)..]);
        if (over.Length == 0 || under.Length == 0 || !IsWhole(over) || !IsWhole(under))
        {
            return false;
        }

        number = double.Parse(over, CultureInfo.InvariantCulture) / double.Parse(under, CultureInfo.InvariantCulture);
        return double.IsFinite(number);
    }
}
