using ShopFloor.Domain.Common;
using ShopFloor.Domain.Stock;

namespace ShopFloor.Domain.Tests.Stock;

/// <summary>Things of a store for tests.</summary>
internal static class Shelf
{
    public static readonly DateTimeOffset Now = new(2026, 3, 2, 8, 0, 0, TimeSpan.Zero);
    private static int labels;

    public static StockHand Hand => new(null, Now, Now);

    public static StockItem.Details TubeDetails { get; } =
        new("T45", "Tube 45 × 2.5", StockKind.Tube, null, "seamless", 45, 2.5m, 6000, 12_000, 2, "Rack A");

    public static StockItem Tube() => Must(StockItem.Add(Id<StockItemId>(), TubeDetails));

    public static StockItem Wire() =>
        Must(
            StockItem.Add(
                Id<StockItemId>(),
                new(
                    "WIRE",
                    "Filler wire 0.8",
                    StockKind.Consumable,
                    StockMeasure.Kilogram,
                    ReorderLevel: 5,
                    Location: "Cage"
                )
            )
        );

    public static StockLot Lot(
        StockItem item,
        decimal pieces,
        long valueMinor,
        decimal? lengthMm = null,
        string? mark = "H1"
    ) =>
        Must(
            StockLot.Open(
                Id<StockLotId>(),
                Label(),
                item,
                new StockLot.Details(pieces, lengthMm, mark, null, valueMinor),
                StockMove.Received,
                null,
                Hand,
                new StockCause()
            )
        );

    public static string Label() => FormattableString.Invariant($"L-2026-{++labels:0000}");

    public static T Id<T>()
        where T : struct, IEntityId<T> => Ids.New<T>(Now);

    public static T Must<T>(Outcome<T> outcome)
    {
        Assert.True(outcome.IsSuccess, outcome.Failure?.Sentence);
        return outcome.Value;
    }

    public static string Code<T>(Outcome<T> outcome) =>
        Assert.Single(Assert.IsType<Failure.Refused>(outcome.Failure).Reasons).Code;

    public static string[] Fields<T>(Outcome<T> outcome) =>
        [.. Assert.IsType<Failure.Invalid>(outcome.Failure).Errors.Select(e => e.Path)];
}
