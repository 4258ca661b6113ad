using System.Diagnostics.CodeAnalysis;
using System.Globalization;
using ShopFloor.Domain.Common;

namespace ShopFloor.Web.Features.Account;

/// <summary>Reads and writes amounts as people type them, with a point or a comma before the minor units.</summary>
public static class MoneyText
{
    /// <summary>Reads an amount; blank is null. Below zero only where <paramref name="mayBeNegative"/> says so. The last point or comma is the decimal sign where as many digits follow as the currency has, or fewer.</summary>
    public static bool TryRead(
        string? text,
        string currencyCode,
        CultureInfo culture,
        out long? minor,
        [NotNullWhen(false)] out string? sentence,
        bool mayBeNegative = false
    )
    {
        minor = null;
        sentence = null;
        var clean = (text ?? "")
            .Replace(" ", "", StringComparison.Ordinal)
            .Replace("\u00a0", "", StringComparison.Ordinal)
            .Replace('\u2212', '-');
        var isNegative = mayBeNegative && clean.StartsWith('-');
        clean = isNegative ? clean[1..] : clean;
        if (clean.Length == 0)
        {
            return true;
        }

        var currency = Currency.Of(currencyCode);
        var cut = clean.LastIndexOfAny(['.', ',']);
        var digits = cut < 0 ? 0 : clean.Length - cut - 1;
        // "1,250" groups thousands where the comma is not the culture's decimal sign.
        var isGrouping = digits == 3 && clean[cut] != culture.NumberFormat.NumberDecimalSeparator[0];
        if (cut >= 0 && digits > currency.Exponent && !isGrouping)
        {
            sentence =
                currency.Exponent == 0
                    ? $"{currencyCode} has no digits after the point; give whole {currencyCode}."
                    : $"{currencyCode} has {currency.Exponent} digits after the point; '{text}' has {digits}.";
            return false;
        }

        var hasDecimals = cut >= 0 && digits <= currency.Exponent && !isGrouping;
        var whole = (hasDecimals ? clean[..cut] : clean)
            .Replace(".", "", StringComparison.Ordinal)
            .Replace(",", "", StringComparison.Ordinal);
        var number = whole + "." + (hasDecimals ? clean[(cut + 1)..] : "");
        if (
            !decimal.TryParse(number, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var amount)
            || amount * currency.MinorPerMajor > Domain.Quoting.TotalsRules.LargestMinor
        )
        {
            sentence = $"'{text}' is no amount; write it as 1250 or 1250.50.";
            return false;
        }

        minor = (long)(amount * currency.MinorPerMajor) * (isNegative ? -1 : 1);
        return true;
    }

    /// <summary>Plain, without grouping, so that it can be typed over.</summary>
    public static string Write(long minor, string currencyCode)
    {
        var currency = Currency.Of(currencyCode);
        return ((decimal)minor / currency.MinorPerMajor).ToString(
            "F" + currency.Exponent.ToString(CultureInfo.InvariantCulture),
            CultureInfo.CurrentCulture
        );
    }
}
