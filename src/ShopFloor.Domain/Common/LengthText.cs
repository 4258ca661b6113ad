using System.Globalization;

namespace ShopFloor.Domain.Common;

/// <summary>Reads a length as people write it from a tape: <c>44.45</c>, <c>1 3/4</c>, <c>5/8 in</c>, <c>38 mm</c>, <c>1 3/4"</c>, <c>1-3/4"</c>.</summary>
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

        var (bare, named) = Unwrap(text);
        unit = named ?? unit;
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

    /// <summary>A decimal number, a fraction, or a whole number and a fraction (<c>1 3/4</c> or <c>1-3/4</c>).</summary>
    public static bool TryReadNumber(string text, out double number)
    {
        ArgumentNullException.ThrowIfNull(text);
        number = 0;
        if (!TrySplit(text, out var figure))
        {
            return false;
        }

        number =
            figure.Under.Length == 0
                ? double.Parse(figure.Number, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture)
                : Whole(figure.Number) + (Whole(figure.Over) / Whole(figure.Under));
        number = figure.IsNegative ? -number : number;
        return double.IsFinite(number);

        static double Whole(string digits) => double.Parse(digits, CultureInfo.InvariantCulture);
    }

    /// <summary>The unit named at the end of a length, if one is, and the text before it.</summary>
    internal static (string Bare, LengthUnit? Unit) Unwrap(string text)
    {
        var bare = text.Trim();
        foreach (var (ending, named) in Endings)
        {
            if (bare.EndsWith(ending, StringComparison.OrdinalIgnoreCase))
            {
                return (bare[..^ending.Length].TrimEnd(), named);
            }
        }

        return (bare, null);
    }

    /// <summary>A figure in its parts, as typed: <c>-1 3/4</c> is negative, 1, 3 and 4; for a decimal number <see cref="Under"/> is empty.</summary>
    internal readonly record struct TypedFigure(bool IsNegative, string Number, string Over, string Under);

    /// <summary>As <see cref="TryReadFigure"/>, without turning it into a binary number: for values that are kept and judged exactly.</summary>
    internal static bool TrySplitFigure(string text, out TypedFigure figure)
    {
        figure = default;
        var bare = text.Trim().Replace('−', '-');
        return !IsAmbiguous(bare) && TrySplit(bare.Replace(',', '.'), out figure);
    }

    private static bool TrySplit(string text, out TypedFigure figure)
    {
        figure = default;
        var bare = text.Trim();
        var isNegative = bare.StartsWith('-');
        bare = isNegative ? bare[1..].TrimStart() : bare;
        var slash = bare.IndexOf('/', StringComparison.Ordinal);
        if (slash < 0)
        {
            figure = new(isNegative, bare, "", "");
            return double.TryParse(bare, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var read)
                && double.IsFinite(read);
        }

        var (before, under) = (bare[..slash], bare[(slash + 1)..]);
        var gap = before.IndexOfAny([' ', '-']);
        var (whole, over) = gap < 0 ? ("0", before) : (before[..gap], before[(gap + 1)..].TrimStart());
        figure = new(isNegative, whole, over, under);
        return IsWhole(whole)
            && IsWhole(over)
            && IsWhole(under)
            && under.Any(d => d != '0')
            && (
                gap < 0
                || int.Parse(over, CultureInfo.InvariantCulture) < int.Parse(under, CultureInfo.InvariantCulture)
            );
    }

    private static readonly (string Ending, LengthUnit Unit)[] Endings =
    [
        ("mm", LengthUnit.Millimetre),
        ("inch", LengthUnit.Inch),
        ("in", LengthUnit.Inch),
        ("\"", LengthUnit.Inch),
        ("″", LengthUnit.Inch),
    ];

    private static bool IsWhole(string text) => text.Length is > 0 and <= 9 && text.All(char.IsAsciiDigit);
}
