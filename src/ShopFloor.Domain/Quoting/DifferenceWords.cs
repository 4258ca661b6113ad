using System.Globalization;
using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Quoting;

/// <summary>Says how much more or less something takes and costs.</summary>
internal static class DifferenceWords
{
    /// <summary>"4.5 h and 320.00 EUR less", or each with its own word where one rises and the other falls.</summary>
    internal static string Of(Currency currency, decimal hours, long minor)
    {
        var money = new Money(Math.Abs(minor), currency).ToString(CultureInfo.InvariantCulture);
        var time = Math.Abs(decimal.Round(hours, 2)).ToString("0.##", CultureInfo.InvariantCulture) + " h";
        var (h, m) = (Math.Sign(decimal.Round(hours, 2)), Math.Sign(minor));
        return (h, m) switch
        {
            (0, 0) => "no change",
            (0, _) => $"{money} {Word(m)}, the same hours",
            (_, 0) => $"{time} {Word(h)}, the same price",
            _ when h == m => $"{time} and {money} {Word(h)}",
            _ => $"{time} {Word(h)}, {money} {Word(m)}",
        };
    }

    private static string Word(int sign) => sign > 0 ? "more" : "less";
}
