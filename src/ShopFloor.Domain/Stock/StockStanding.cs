using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Stock;

/// <summary>How an item stands: mm of tube, else units of its measure.</summary>
/// <param name="OnHand">In the store.</param>
/// <param name="Reserved">Set aside for jobs that are open.</param>
/// <param name="OnOrder">Ordered and not yet received.</param>
/// <param name="ValueMinor">Purchase cost of what is in the store.</param>
public sealed record StockStanding(decimal OnHand, decimal Reserved, decimal OnOrder, long ValueMinor)
{
    public static StockStanding None { get; } = new(0, 0, 0, 0);

    /// <summary>What may be promised to the next job; below 0 more is set aside than there is.</summary>
    public decimal Available => OnHand - Reserved;

    /// <summary>What is there and ordered, less what is set aside: the inventory position.</summary>
    public decimal Position => OnHand + OnOrder - Reserved;
}

/// <summary>Something to be bought.</summary>
/// <param name="Missing">mm of tube, else units, up to the level.</param>
/// <param name="Pieces">What to order: sticks of tube, else units.</param>
/// <param name="Explanation">Why, and from what.</param>
public sealed record PurchaseNeed(decimal Missing, decimal Pieces, Explanation Explanation);

/// <summary>What has to be bought.</summary>
public static class PurchaseRule
{
    private const string Source =
        "continuous review by reorder point on the inventory position (textbook rule, from memory)";

    /// <summary>
    /// When the inventory position (there + ordered − set aside) is below the level, what is missing up to the level is bought, at least the amount bought at
    /// a time; tube in whole sticks. Continuous review by reorder point: textbook rule, from memory.
    /// </summary>
    /// <returns>Null where nothing has to be bought.</returns>
    public static PurchaseNeed? Of(StockItem item, StockStanding standing)
    {
        ArgumentNullException.ThrowIfNull(item);
        ArgumentNullException.ThrowIfNull(standing);
        var missing = item.ReorderLevel - standing.Position;
        if (missing <= 0 || item.IsRetired)
        {
            return null;
        }

        var wanted =
            item.IsTube ? decimal.Ceiling(missing / item.StickMm!.Value)
            : item.Measure == StockMeasure.Piece ? decimal.Ceiling(missing)
            : missing;
        var pieces = Math.Max(wanted, item.ReorderAmount);
        var unit = item.IsTube ? "mm" : item.Measure.Unit();
        ExplanationInput Input(string name, decimal value) => new(name, $"{StockWords.Count(value)} {unit}");
        return new PurchaseNeed(
            missing,
            pieces,
            new Explanation(
                "level − (in the store + ordered − set aside), at least the amount bought at a time",
                [
                    Input("level", item.ReorderLevel),
                    Input("in the store", standing.OnHand),
                    Input("ordered", standing.OnOrder),
                    Input("set aside", standing.Reserved),
                ],
                Source,
                item.IsTube ? $"{StockWords.Count(pieces)} sticks" : $"{StockWords.Count(pieces)} {unit}",
                []
            )
        );
    }
}
