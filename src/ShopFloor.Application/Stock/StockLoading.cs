using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;
using ShopFloor.Domain.Stock;

namespace ShopFloor.Application.Stock;

/// <summary>How the store stands, read from lots, reservations, orders and saw cards.</summary>
internal static class StockLoading
{
    /// <summary>By item; an item with nothing in store, set aside or ordered is not among them.</summary>
    public static async Task<IReadOnlyDictionary<StockItemId, StockStanding>> StandingsAsync(
        ShopDbContext db,
        CancellationToken ct,
        StockItemId? only = null
    )
    {
        var lots = await db.Set<StockLot>()
            .Where(l => !l.IsEmpty && (only == null || l.ItemId == only))
            .Select(l => new
            {
                l.ItemId,
                l.Pieces,
                l.LengthMm,
                l.ValueMinor,
            })
            .ToListAsync(ct);
        var reserved = await Reservations(db).Where(r => only == null || r.ItemId == only).ToListAsync(ct);
        var orders = await db.Set<StockOrder>()
            .Where(o => o.State != StockOrderState.Closed)
            .Select(o => o.Lines)
            .ToListAsync(ct);
        var onHand = lots.ToLookup(l => l.ItemId);
        var aside = reserved.ToLookup(r => r.ItemId, r => r.Amount);
        var ordered = orders
            .SelectMany(o => o)
            .Where(l => only is null || l.ItemId == only)
            .ToLookup(l => l.ItemId, l => l.AwaitedAmount);
        return onHand
            .Select(g => g.Key)
            .Union(aside.Select(g => g.Key))
            .Union(ordered.Select(g => g.Key))
            .ToDictionary(
                id => id,
                id => new StockStanding(
                    onHand[id].Sum(l => l.Pieces * (l.LengthMm ?? 1)),
                    aside[id].Sum(),
                    ordered[id].Sum(),
                    onHand[id].Sum(l => l.ValueMinor)
                )
            );
    }

    public static async Task<StockStanding> StandingAsync(ShopDbContext db, StockItemId item, CancellationToken ct) =>
        (await StandingsAsync(db, ct, item)).GetValueOrDefault(item) ?? StockStanding.None;

    /// <summary>What is set aside for jobs that are still open.</summary>
    public static IQueryable<StockReservation> Reservations(ShopDbContext db)
    {
        var open = db.Set<Job>().Where(j => j.EndedAt == null).Select(j => j.Id);
        return db.Set<StockReservation>().Where(r => open.Contains(r.JobId));
    }

    /// <summary>Pieces of each lot that are held for saw cards.</summary>
    public static async Task<IReadOnlyDictionary<StockLotId, int>> HeldAsync(ShopDbContext db, CancellationToken ct)
    {
        var bars = await PlannedAsync(db, ct);
        return bars.GroupBy(b => b.Lot).ToDictionary(g => g.Key, g => g.Count());
    }

    public static async Task<decimal> HeldAsync(ShopDbContext db, StockLotId lot, CancellationToken ct) =>
        (await HeldAsync(db, ct)).GetValueOrDefault(lot);

    /// <summary>Pieces of a job's cut lines that are on saw cards and not yet sawn, by line.</summary>
    public static async Task<IReadOnlyDictionary<(JobId Job, int Line), int>> OnCardsAsync(
        ShopDbContext db,
        CancellationToken ct
    )
    {
        var bars = await PlannedAsync(db, ct);
        return bars.SelectMany(b => b.Pieces).GroupBy(p => (p.Job, p.Line)).ToDictionary(g => g.Key, g => g.Count());
    }

    /// <summary>Lots with something in them, of one item, the ones to be used up first before the others: offcuts, then the oldest.</summary>
    public static async Task<List<StockLot>> LotsAsync(ShopDbContext db, StockItemId item, CancellationToken ct) =>
        [
            .. (await db.Set<StockLot>().Where(l => l.ItemId == item && !l.IsEmpty).ToListAsync(ct))
                .OrderBy(l => l.IsOffcut ? 0 : 1)
                .ThenBy(l => l.LengthMm)
                .ThenBy(l => l.Since)
                .ThenBy(l => l.Number, StringComparer.Ordinal),
        ];

    public static StockHand Hand(this CommandScope scope) => new(scope.Actor.Person, scope.OccurredAt, scope.Now);

    private static async Task<IEnumerable<SawnBar>> PlannedAsync(ShopDbContext db, CancellationToken ct) =>
        (
            await db.Set<SawPlan>().Where(p => p.State == SawPlanState.Planned).Select(p => p.Bars).ToListAsync(ct)
        ).SelectMany(b => b);
}
