using System.Globalization;

namespace ShopFloor.Domain.Common;

/// <summary>Writes figures in the invariant culture. The framework's own formatting of decimals is exact but slow, and an explained quote holds hundreds of figures.</summary>
public static class PlainFigures
{
    private const int MostDecimals = 6;
    private const long Scale = 1_000_000;
    private const decimal LargestFast = 9_000_000_000;

    /// <summary>Up to six decimals, halves away from zero, no trailing zeros and no separators: the same text as the format <c>0.######</c>.</summary>
    public static string Number(decimal value)
    {
        if (value is <= -LargestFast or >= LargestFast)
        {
            return value.ToString("0.######", CultureInfo.InvariantCulture);
        }

        return Scaled(decimal.ToInt64(decimal.Round(value * Scale, 0, MidpointRounding.AwayFromZero)), MostDecimals);
    }

    /// <summary>The same for a whole number of tenths, hundredths … of one.</summary>
    /// <param name="decimals">0 to 6.</param>
    public static string Scaled(long scaled, int decimals)
    {
        Span<char> text = stackalloc char[32];
        var at = text.Length;
        var rest = Math.Abs(scaled);
        while (decimals > 0 && rest % 10 == 0)
        {
            rest /= 10;
            decimals--;
        }

        if (decimals > 0)
        {
            for (; decimals > 0; decimals--, rest /= 10)
            {
                text[--at] = (char)('0' + (rest % 10));
            }

            text[--at] = '.';
        }

        do
        {
            text[--at] = (char)('0' + (rest % 10));
            rest /= 10;
        } while (rest > 0);
        if (scaled < 0)
        {
            text[--at] = '-';
        }

        return new string(text[at..]);
    }

    /// <summary>Major units with the currency's digits, thousands separated by commas, and the code: <c>1,234.50 EUR</c>.</summary>
    public static string Amount(long minor, Currency currency)
    {
        Span<char> text = stackalloc char[40];
        var at = text.Length;
        currency.Code.CopyTo(text[(at -= currency.Code.Length)..]);
        text[--at] = ' ';
        // The lowest number has no opposite in 64 bits with a sign.
        var rest = minor < 0 ? (ulong)-(minor + 1) + 1 : (ulong)minor;
        var digits = currency.Exponent;
        for (var i = 0; i < digits; i++, rest /= 10)
        {
            text[--at] = (char)('0' + (rest % 10));
        }

        if (digits > 0)
        {
            text[--at] = '.';
        }

        var written = 0;
        do
        {
            if (written > 0 && written % 3 == 0)
            {
                text[--at] = ',';
            }

            text[--at] = (char)('0' + (rest % 10));
            rest /= 10;
            written++;
        } while (rest > 0);
        if (minor < 0)
        {
            text[--at] = '-';
        }

        return new string(text[at..]);
    }
}
