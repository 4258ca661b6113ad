using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.History;
using ShopFloor.Data;
using ShopFloor.Domain.Stock;

namespace ShopFloor.Application.Stock;

/// <summary>Whether each lot is the sum of its history, in pieces and in money, nothing is below zero, and labels, orders and saw cards are all there.</summary>
public sealed class StockVerifier : IVerifier
{
    public async Task<IReadOnlyList<string>> VerifyAsync(ShopDbContext db, CancellationToken ct)
    {
        ArgumentNullException.ThrowIfNull(db);
        var differences = new List<string>();
        var lots = await db.Set<StockLot>().AsNoTracking().OrderBy(l => l.Number).ToListAsync(ct);
        var movements = (await db.Set<StockMovement>().AsNoTracking().ToListAsync(ct)).ToLookup(m => m.LotId);
        foreach (var lot in lots)
        {
            differences.AddRange(lot.Audit([.. movements[lot.Id]]).Select(d => $"Lot {lot.Number}: {d}"));
        }

        await SeriesAsync(db, ReceiveStock.LotSeries, "labels of the store", lots.Select(l => l.Number));
        await SeriesAsync(
            db,
            StockOrders.Series,
            "orders at suppliers",
            await db.Set<StockOrder>().Select(o => o.Number).ToListAsync(ct)
        );
        await SeriesAsync(
            db,
            SawPlans.Series,
            "saw cards",
            await db.Set<SawPlan>().Select(p => p.Number).ToListAsync(ct)
        );
        return differences;

        Task SeriesAsync(ShopDbContext of, string series, string what, IEnumerable<string> numbers) =>
            NumberSeriesCheck.AddAsync(of, series, what, numbers, differences, ct);
    }
}
