using System.Text.Json.Serialization;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Stock;

namespace ShopFloor.Application.Stock;

/// <summary>An item with how it stands. Amounts are mm of tube, else units of the measure; money is null for those who do not see it.</summary>
public sealed record StockItemView(
    StockItemId Id,
    long Version,
    string Code,
    string Title,
    StockKind Kind,
    StockMeasure Measure,
    string? Material,
    decimal? OutsideDiameterMm,
    decimal? WallMm,
    decimal? StickMm,
    decimal ReorderLevel,
    decimal ReorderAmount,
    string? Location,
    SupplierId? SupplierId,
    string? Supplier,
    string? SupplierCode,
    bool IsRetired,
    decimal OnHand,
    decimal Reserved,
    decimal OnOrder,
    decimal Available,
    long? ValueMinor,
    long? LastCostMinor,
    decimal? ToBuy
)
{
    [JsonIgnore]
    public bool IsTube => Kind == StockKind.Tube;

    internal static StockItemView Of(StockItem item, StockStanding standing, string? supplier, Actor actor)
    {
        var seesMoney = actor.May(Permission.SeeMoney);
        return new(
            item.Id,
            item.Version,
            item.Code,
            item.Title,
            item.Kind,
            item.Measure,
            item.Material,
            item.OutsideDiameterMm,
            item.WallMm,
            item.StickMm,
            item.ReorderLevel,
            item.ReorderAmount,
            item.Location,
            item.SupplierId,
            supplier,
            item.SupplierCode,
            item.IsRetired,
            standing.OnHand,
            standing.Reserved,
            standing.OnOrder,
            standing.Available,
            seesMoney ? standing.ValueMinor : null,
            seesMoney ? item.LastCostMinor : null,
            PurchaseRule.Of(item, standing)?.Pieces
        );
    }
}

/// <summary>A lot as shown.</summary>
/// <param name="Held">Pieces that are held for saw cards.</param>
/// <param name="From">Number of the lot it was sawn or parted from.</param>
public sealed record StockLotView(
    StockLotId Id,
    long Version,
    string Number,
    StockItemId ItemId,
    string Code,
    string Title,
    StockKind Kind,
    StockMeasure Measure,
    decimal Pieces,
    decimal? LengthMm,
    decimal Held,
    string? Mark,
    string Location,
    bool IsOffcut,
    string? From,
    DateTimeOffset Since,
    DateTimeOffset? CountedAt,
    long? ValueMinor
)
{
    [JsonIgnore]
    public bool IsEmpty => Pieces == 0;

    internal static StockLotView Of(StockLot lot, StockItem item, decimal held, string? from, Actor actor) =>
        new(
            lot.Id,
            lot.Version,
            lot.Number,
            lot.ItemId,
            item.Code,
            item.Title,
            item.Kind,
            item.Measure,
            lot.Pieces,
            lot.LengthMm,
            held,
            lot.Mark,
            lot.Location,
            lot.IsOffcut,
            from,
            lot.Since,
            lot.CountedAt,
            actor.May(Permission.SeeMoney) ? lot.ValueMinor : null
        );
}

/// <summary>A line of a lot's history.</summary>
public sealed record StockMovementView(
    StockMovementId Id,
    string Lot,
    StockLotId LotId,
    int Number,
    StockMove Move,
    decimal Pieces,
    decimal PiecesAfter,
    long? ValueMinor,
    string Location,
    JobId? JobId,
    string? Job,
    SawPlanId? SawPlanId,
    StockOrderId? OrderId,
    string? Reason,
    string? By,
    DateTimeOffset At
);

/// <summary>What is set aside for a job.</summary>
public sealed record ReservationView(
    JobId JobId,
    string Job,
    StockItemId ItemId,
    string Code,
    string Title,
    StockKind Kind,
    StockMeasure Measure,
    decimal Amount
);

/// <summary>An item with its lots, what is set aside of it and what happened last.</summary>
public sealed record StockItemDetail(
    StockItemView Item,
    IReadOnlyList<StockLotView> Lots,
    IReadOnlyList<ReservationView> Reservations
);

/// <summary>One lot with its history, newest first.</summary>
/// <param name="Takers">Jobs that have some of it, and how much: what may come back.</param>
public sealed record StockLotDetail(
    StockLotView Lot,
    IReadOnlyList<StockMovementView> Movements,
    IReadOnlyList<LotTaker> Takers
);

public sealed record LotTaker(JobId JobId, string Job, decimal Pieces);

/// <summary>Something to buy.</summary>
/// <param name="Pieces">Sticks of tube, else units.</param>
public sealed record ToBuyLine(StockItemView Item, decimal Missing, decimal Pieces, Explanation Explanation);

/// <summary>What to buy of one supplier.</summary>
public sealed record ToBuyList(SupplierId? SupplierId, string Supplier, IReadOnlyList<ToBuyLine> Lines);

public sealed record SupplierView(
    SupplierId Id,
    long Version,
    string Name,
    string? Email,
    string? Phone,
    int? LeadDays,
    string? Note,
    bool IsRetired
)
{
    internal static SupplierView Of(Supplier s) =>
        new(s.Id, s.Version, s.Name, s.Email, s.Phone, s.LeadDays, s.Note, s.IsRetired);
}

public sealed record StockOrderView(
    StockOrderId Id,
    long Version,
    string Number,
    SupplierId SupplierId,
    string Supplier,
    StockOrderState State,
    IReadOnlyList<StockOrderLine> Lines,
    DateOnly OrderedOn,
    DateOnly? ExpectedOn,
    bool IsLate,
    string? Note,
    string? CloseReason,
    long TotalMinor
)
{
    [JsonIgnore]
    public bool IsOpen => State != StockOrderState.Closed;

    internal static StockOrderView Of(StockOrder o, string supplier, DateOnly today) =>
        new(
            o.Id,
            o.Version,
            o.Number,
            o.SupplierId,
            supplier,
            o.State,
            o.Lines,
            o.OrderedOn,
            o.ExpectedOn,
            o.IsOpen && o.ExpectedOn < today,
            o.Note,
            o.CloseReason,
            o.Lines.Sum(l => Money.Round(l.Pieces * l.UnitCostMinor, MoneyRounding.HalfEven))
        );
}

/// <summary>Purchase cost of all that lies in the store.</summary>
public sealed record StockValue(long ValueMinor, string Currency);
