using System.Globalization;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;
using ShopFloor.Web.Features.Shared;

namespace ShopFloor.Web.Features.Account;

/// <summary>How much of what is left goes on an invoice or credit note, as chosen.</summary>
public sealed class PartForm
{
    /// <summary>A line that can be chosen.</summary>
    public sealed record Line(string Key, string Description, long LeftMinor);

    /// <summary>all, percent, amount or lines.</summary>
    public string Way
    {
        get;
        set
        {
            // A figure that is no longer seen must not come back.
            (PercentText, AmountMinor) = field == value ? (PercentText, AmountMinor) : (null, null);
            field = value;
        }
    } = "all";

    public string? PercentText { get; set; }

    public long? AmountMinor { get; set; }

    public HashSet<string> Keys { get; } = new(StringComparer.Ordinal);

    public decimal? PercentOrNull => Way == "percent" ? Percent : null;

    public long? AmountOrNull => Way == "amount" ? AmountMinor : null;

    public IReadOnlyList<string>? KeysOrNull => Way == "lines" ? [.. Keys.Order(StringComparer.Ordinal)] : null;

    /// <summary>What must be filled in before it can be sent; null when all is there.</summary>
    public FieldError? Problem =>
        Way switch
        {
            "percent" when Percent is null => new("percent", PercentSentence),
            "amount" when AmountMinor is null => new("amountMinor", "Type the amount with tax."),
            "lines" when Keys.Count == 0 => new("lines", "Choose at least one line."),
            _ => null,
        };

    private string PercentSentence =>
        NumberWords.TryRead(PercentText, TotalsRules.RateDecimals, CultureInfo.CurrentCulture, out _, out var sentence)
            ? "Type a percentage such as 30 or 33.5."
            : sentence;

    private decimal? Percent =>
        NumberWords.TryRead(PercentText, TotalsRules.RateDecimals, CultureInfo.CurrentCulture, out var percent, out _)
            ? percent
            : null;
}
