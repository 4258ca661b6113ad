using System.Diagnostics.CodeAnalysis;
using System.Globalization;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;
using ShopFloor.Web.Features.Shared;

namespace ShopFloor.Web.Features.Account;

/// <summary>Reads and writes amounts as people type them; the grammar is that of <see cref="NumberText"/>.</summary>
public static class MoneyText
{
    /// <summary>Reads an amount; blank is null. Below zero only where <paramref name="mayBeNegative"/> says so.</summary>
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
        var currency = Currency.Of(currencyCode);
        var reading = NumberText.Read(text, currency.Exponent, culture, out var amount, mayBeNegative);
        var isTooLarge =
            amount is { } read && Math.Abs(read) > (decimal)TotalsRules.LargestMinor / currency.MinorPerMajor;
        sentence = (reading, isTooLarge) switch
        {
            (NumberReading.TooManyDecimals, _) => currency.Exponent == 0
                ? $"{currencyCode} has no digits after the point; give whole {currencyCode}."
                : $"{currencyCode} has {currency.Exponent} digits after the point; '{text}' has more.",
            (NumberReading.Ambiguous, _) => NumberWords.Ambiguous(text),
            (NumberReading.NoNumber, _) => $"'{text}' is no amount; write it as 1250 or 1250.50.",
            (_, true) => $"'{text}' is more than can be booked; check the figure.",
            _ => null,
        };
        if (sentence is not null)
        {
            return false;
        }

        minor = (long?)(amount * currency.MinorPerMajor);
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
