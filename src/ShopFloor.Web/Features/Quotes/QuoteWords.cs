using System.Globalization;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Web.Features.Quotes;

/// <summary>How quotes are worded on screens and papers.</summary>
public static class QuoteWords
{
    /// <summary>State by glyph and word.</summary>
    public static string Of(QuoteState state) =>
        state switch
        {
            QuoteState.Draft => "✎ Draft",
            QuoteState.Sent => "➤ Sent",
            QuoteState.Accepted => "✓ Accepted",
            QuoteState.Declined => "✕ Declined",
            QuoteState.Expired => "⊘ Expired",
            QuoteState.Replaced => "↻ Replaced",
            _ => throw new ArgumentOutOfRangeException(nameof(state), state, "Unknown state."),
        };

    public static string Of(LineGroup group) =>
        group switch
        {
            LineGroup.Kit => "Kit",
            LineGroup.Doors => "Door bars",
            LineGroup.Labour => "Work",
            LineGroup.Consumables => "Consumables",
            LineGroup.Paint => "Paint",
            LineGroup.Outside => "Work sent out",
            LineGroup.Freight => "Freight",
            LineGroup.Extra => "Further lines",
            LineGroup.Minimum => "Minimum charge",
            _ => throw new ArgumentOutOfRangeException(nameof(group), group, "Unknown group."),
        };

    public static string Money(long minor, string currency) =>
        new Money(minor, Currency.Of(currency)).ToString(CultureInfo.CurrentCulture);

    public static string Hours(decimal hours) => hours.ToString("0.0", CultureInfo.CurrentCulture) + " h";

    public static string Quantity(decimal quantity, string unit) =>
        quantity.ToString("0.##", CultureInfo.CurrentCulture) + " " + unit;

    public static string Day(DateOnly? day) => day?.ToString("ddd d MMM yyyy", CultureInfo.CurrentCulture) ?? "–";
}
