using System.Globalization;
using ShopFloor.Domain.Changes;
using ShopFloor.Domain.Common;

namespace ShopFloor.Web.Features.Changes;

/// <summary>How change orders are worded on screens.</summary>
public static class ChangeText
{
    /// <summary>State by glyph and word.</summary>
    public static string Of(ChangeState state) =>
        state switch
        {
            ChangeState.Draft => "✎ Draft",
            ChangeState.Offered => "➤ Offered: waits for the customer",
            ChangeState.Approved => "✓ Approved",
            ChangeState.Declined => "✕ Declined",
            ChangeState.Withdrawn => "↩ Withdrawn",
            _ => throw new ArgumentOutOfRangeException(nameof(state), state, "Unknown state."),
        };

    /// <summary>More and less are told by the word.</summary>
    public static string Difference(long minor, string currency) =>
        minor == 0
            ? "the same price"
            : new Money(Math.Abs(minor), Currency.Of(currency)).ToString(CultureInfo.CurrentCulture)
                + (minor < 0 ? " less" : " more");

    public static string Hours(decimal hours) =>
        decimal.Round(Math.Abs(hours), 1, MidpointRounding.AwayFromZero) is var tenths && tenths == 0
            ? "the same hours"
            : tenths.ToString("0.0", CultureInfo.CurrentCulture) + (hours < 0 ? " h less" : " h more");

    /// <summary>What the change does to the promised day.</summary>
    public static string Promise(DateOnly? before, DateOnly? after) =>
        (before, after) switch
        {
            ({ } from, { } to) when from == to => $"Stays {Day(from)}",
            ({ } from, { } to) => $"{Day(to)} instead of {Day(from)}",
            (null, { } to) => $"{Day(to)}; none was promised before",
            ({ } from, null) => $"Stays {Day(from)}",
            _ => "No day was promised",
        };

    public static string Day(DateOnly day) => day.ToString("ddd d MMM yyyy", CultureInfo.CurrentCulture);
}
