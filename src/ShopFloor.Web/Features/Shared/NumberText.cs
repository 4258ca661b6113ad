using System.Globalization;

namespace ShopFloor.Web.Features.Shared;

/// <summary>What came of reading a typed number.</summary>
public enum NumberReading
{
    /// <summary>A number, or nothing where nothing was typed.</summary>
    Fine,
    NoNumber,
    TooManyDecimals,

    /// <summary><c>1,500</c> where the comma groups thousands and three decimals are possible: nobody may guess.</summary>
    Ambiguous,
}

/// <summary>Reads numbers as people type them, with a point or a comma before the decimals and thousands grouped or not. One grammar for amounts, percentages, quantities and measures.</summary>
public static class NumberText
{
    private const int GroupSize = 3;

    /// <param name="mostDecimals">Digits after the decimal sign that the figure can have.</param>
    /// <param name="number">Null where nothing was typed.</param>
    public static NumberReading Read(
        string? text,
        int mostDecimals,
        CultureInfo culture,
        out decimal? number,
        bool mayBeNegative = false
    )
    {
        ArgumentNullException.ThrowIfNull(culture);
        number = null;
        var clean = string.Concat((text ?? "").Where(c => !char.IsWhiteSpace(c))).Replace('\u2212', '-');
        if (clean.Length == 0)
        {
            return NumberReading.Fine;
        }

        var isNegative = mayBeNegative && clean[0] == '-';
        clean = isNegative ? clean[1..] : clean;
        if (!clean.Any(char.IsAsciiDigit) || !clean.All(c => char.IsAsciiDigit(c) || c is '.' or ','))
        {
            return NumberReading.NoNumber;
        }

        var reading = DecimalSign(clean, mostDecimals, culture, out var cut);
        if (reading != NumberReading.Fine)
        {
            return reading;
        }

        var (whole, decimals) = cut < 0 ? (clean, "") : (clean[..cut], clean[(cut + 1)..]);
        if (!IsWhole(whole) || !decimals.All(char.IsAsciiDigit))
        {
            return NumberReading.NoNumber;
        }

        if (decimals.Length > mostDecimals)
        {
            return NumberReading.TooManyDecimals;
        }

        var plain = whole.Replace(".", "", StringComparison.Ordinal).Replace(",", "", StringComparison.Ordinal);
        if (
            !decimal.TryParse(
                $"{plain}.{decimals}",
                NumberStyles.AllowDecimalPoint,
                CultureInfo.InvariantCulture,
                out var read
            )
        )
        {
            return NumberReading.NoNumber;
        }

        number = isNegative ? -read : read;
        return NumberReading.Fine;
    }

    /// <summary>Where the decimal sign stands; −1 for none.</summary>
    private static NumberReading DecimalSign(string clean, int mostDecimals, CultureInfo culture, out int cut)
    {
        cut = -1;
        var last = clean.LastIndexOfAny(['.', ',']);
        if (last < 0)
        {
            return NumberReading.Fine;
        }

        var sign = clean[last];
        var isOnly = clean.Count(c => c is '.' or ',') == 1;
        if (!isOnly)
        {
            // The last of two kinds is the decimal sign; one kind that comes again groups thousands.
            cut = clean.Count(c => c == sign) == 1 ? last : -1;
            return NumberReading.Fine;
        }

        var mayGroup = clean.Length - last - 1 == GroupSize && last is > 0 and <= GroupSize && clean[0] != '0';
        if (!mayGroup || culture.NumberFormat.NumberDecimalSeparator == sign.ToString())
        {
            cut = last;
            return NumberReading.Fine;
        }

        return mostDecimals < GroupSize ? NumberReading.Fine : NumberReading.Ambiguous;
    }

    /// <summary>Digits, or groups of three behind a first one of one to three, all parted by the same sign.</summary>
    private static bool IsWhole(string whole)
    {
        var sign = whole.IndexOfAny(['.', ',']);
        if (sign < 0)
        {
            return true;
        }

        var groups = whole.Split(whole[sign]);
        return groups[0].Length is > 0 and <= GroupSize
            && groups.All(g => g.All(char.IsAsciiDigit))
            && groups.Skip(1).All(g => g.Length == GroupSize);
    }
}
