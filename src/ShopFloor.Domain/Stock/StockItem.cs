using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Domain.Stock;

/// <summary>What sort of thing lies in the store.</summary>
public enum StockKind
{
    /// <summary>Tube of one size, in sticks and offcuts.</summary>
    Tube,
    Plate,
    Hinge,

    /// <summary>A whole kit as bought.</summary>
    Kit,

    /// <summary>Bolts, pins, clips.</summary>
    Hardware,

    /// <summary>What is used up: wire, gas, discs, paint, sealer.</summary>
    Consumable,
}

/// <summary>In what something is counted.</summary>
public enum StockMeasure
{
    Piece,
    Kilogram,
    Litre,
    SquareMetre,
    Metre,
}

/// <summary>Something the shop keeps in store. What there is of it lies in lots (<see cref="StockLot"/>).</summary>
/// <remarks>Tube is counted in pieces of a length, and its amounts are millimetres of tube; all else is counted in its measure.</remarks>
public sealed class StockItem : IVersioned
{
    /// <summary>Items of a shop.</summary>
    public const int MostItems = 5_000;

    /// <summary>Largest amount of anything: a typing mistake above it.</summary>
    public const decimal LargestAmount = 1_000_000_000;

    public const decimal LongestStickMm = 20_000;
    private const decimal LargestDiameterMm = 1_000;

    private StockItem() { }

    public StockItemId Id { get; private set; }
    public long Version { get; private set; }

    /// <summary>The shop's own short name on labels and lists; unique.</summary>
    public string Code { get; private set; } = "";
    public string Title { get; private set; } = "";
    public StockKind Kind { get; private set; }

    /// <summary>Of tube always <see cref="StockMeasure.Piece"/>: a piece of a length.</summary>
    public StockMeasure Measure { get; private set; }

    /// <summary>Grade and how it was made, e.g. "seamless, cold drawn"; null where it does not matter.</summary>
    public string? Material { get; private set; }

    /// <summary>Of tube, in mm; null for all else.</summary>
    public decimal? OutsideDiameterMm { get; private set; }
    public decimal? WallMm { get; private set; }

    /// <summary>Length of a stick as it is bought, in mm; tube only.</summary>
    public decimal? StickMm { get; private set; }

    /// <summary>It is bought again when what is there and ordered, less what is set aside, falls below this: mm of tube, else its measure. 0: only on demand.</summary>
    public decimal ReorderLevel { get; private set; }

    /// <summary>How much is bought at a time at least: sticks of tube, else its measure; 0: what is missing.</summary>
    public decimal ReorderAmount { get; private set; }

    /// <summary>Where it usually lies.</summary>
    public string? Location { get; private set; }

    public SupplierId? SupplierId { get; private set; }

    /// <summary>The supplier's number for it.</summary>
    public string? SupplierCode { get; private set; }

    /// <summary>What a stick or a unit last cost, without tax; null where it was never bought.</summary>
    public long? LastCostMinor { get; private set; }

    /// <summary>No longer kept: it is on no list to buy, and nothing new comes in.</summary>
    public bool IsRetired { get; private set; }

    public bool IsTube => Kind == StockKind.Tube;

    /// <summary>As typed; <see cref="StockItem"/> checks it.</summary>
    public sealed record Details(
        string? Code,
        string? Title,
        StockKind? Kind,
        StockMeasure? Measure = null,
        string? Material = null,
        decimal? OutsideDiameterMm = null,
        decimal? WallMm = null,
        decimal? StickMm = null,
        decimal? ReorderLevel = null,
        decimal? ReorderAmount = null,
        string? Location = null,
        Guid? SupplierId = null,
        string? SupplierCode = null,
        long? LastCostMinor = null
    );

    public static Outcome<StockItem> Add(StockItemId id, Details details)
    {
        var item = new StockItem { Id = id };
        return item.Change(details, isUsed: false).Then<StockItem>(_ => item);
    }

    /// <param name="isUsed">There are lots of it: its kind, measure, diameter and wall stay, or what lies in the store would become something else.</param>
    public Outcome<Done> Change(Details details, bool isUsed)
    {
        ArgumentNullException.ThrowIfNull(details);
        var errors = new FieldErrors();
        var code = TextRules.Required(details.Code, "code", "The short name", TextRules.Code, errors);
        var title = TextRules.Required(details.Title, "title", "What it is", TextRules.Name, errors);
        var material = TextRules.Optional(details.Material, "material", "The material", TextRules.Name, errors);
        var location = TextRules.Optional(details.Location, "location", "Where it lies", TextRules.Code, errors);
        var theirs = TextRules.Optional(details.SupplierCode, "supplierCode", "Their number", TextRules.Code, errors);
        errors.AddIf(details.Kind is null, "kind", "Say what it is: tube, plate, hinge, kit, hardware or consumable.");
        var isTube = details.Kind == StockKind.Tube;
        CheckTube(details, isTube, errors);
        Amount(details.ReorderLevel, "reorderLevel", "The level to buy at", errors);
        Amount(details.ReorderAmount, "reorderAmount", "How much is bought at a time", errors);
        errors.AddIf(
            isTube && details.ReorderAmount is { } sticks && sticks != decimal.Truncate(sticks),
            "reorderAmount",
            "Tube is bought in whole sticks."
        );
        TotalsRules.CheckAmount(details.LastCostMinor ?? 0, "lastCostMinor", "The cost", errors);
        var measure = isTube ? StockMeasure.Piece : details.Measure ?? StockMeasure.Piece;
        errors.AddIf(
            isUsed
                && (details.Kind, measure, details.OutsideDiameterMm, details.WallMm)
                    != (Kind, Measure, OutsideDiameterMm, WallMm),
            "kind",
            "It is in store, ordered, set aside or on a cut list: its kind, measure and size stay as they are. Add another item for what is different."
        );
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        (Code, Title, Kind, Measure, Material) = (code, title, details.Kind!.Value, measure, material);
        (OutsideDiameterMm, WallMm, StickMm) = isTube
            ? (details.OutsideDiameterMm, details.WallMm, details.StickMm)
            : (null, null, null);
        (ReorderLevel, ReorderAmount) = (details.ReorderLevel ?? 0, details.ReorderAmount ?? 0);
        (Location, SupplierCode) = (location, theirs);
        SupplierId = details.SupplierId is { } supplier ? Common.SupplierId.From(supplier) : null;
        LastCostMinor = details.LastCostMinor ?? LastCostMinor;
        return Outcome.Ok;
    }

    /// <summary>Takes it off the lists, or puts it back on.</summary>
    /// <param name="standing">How it stands: nothing of it may be in store or on its way.</param>
    public Outcome<Done> Retire(bool isRetired, StockStanding standing)
    {
        ArgumentNullException.ThrowIfNull(standing);
        if (isRetired && standing.OnOrder > 0)
        {
            return Failure.Because(
                "ordered",
                $"{Code} is ordered. Receive it or close the order before the item is taken off the lists."
            );
        }

        if (isRetired && standing.OnHand > 0)
        {
            return Failure.Because(
                "stockLeft",
                $"There is stock of {Code}. Use it up, scrap it or send it back before the item is taken off the lists."
            );
        }

        IsRetired = isRetired;
        return Outcome.Ok;
    }

    /// <summary>Remembers what was paid last.</summary>
    public void Bought(long unitCostMinor) => LastCostMinor = unitCostMinor;

    /// <summary>What a piece or unit last cost; a piece of tube by its part of a stick. 0 where it was never bought.</summary>
    public decimal UnitCostMinor(decimal? lengthMm) =>
        this is { IsTube: true, StickMm: { } stick } && lengthMm is { } length
            ? (LastCostMinor ?? 0) * length / stick
            : LastCostMinor ?? 0;

    /// <summary>An amount of it, given pieces of a length.</summary>
    public decimal AmountOf(decimal pieces, decimal? lengthMm) => IsTube ? pieces * (lengthMm ?? 0) : pieces;

    private static void CheckTube(Details details, bool isTube, FieldErrors errors)
    {
        if (!isTube)
        {
            return;
        }

        errors
            .AddIf(
                details.OutsideDiameterMm is not (> 0 and <= LargestDiameterMm),
                "outsideDiameterMm",
                "Give the tube's outside diameter, up to 1,000 mm."
            )
            .AddIf(
                details.WallMm is not > 0 || details.WallMm * 2 >= details.OutsideDiameterMm,
                "wallMm",
                "Give the wall: over 0 and under half the diameter."
            )
            .AddIf(
                details.StickMm is not (> 0 and <= LongestStickMm),
                "stickMm",
                "Give the length of a stick as it is bought, up to 20 m."
            )
            .AddIf(
                details.StickMm is { } stick && decimal.Round(stick, 3) != stick,
                "stickMm",
                "The length of a stick has at most three decimals."
            );
    }

    internal static void Amount(decimal? value, string path, string label, FieldErrors errors) =>
        errors
            .AddIf(value is < 0 or > LargestAmount, path, $"{label} is 0 or more, up to 10⁹.")
            .AddIf(value is { } v && decimal.Round(v, 3) != v, path, $"{label} has at most three decimals.");
}
