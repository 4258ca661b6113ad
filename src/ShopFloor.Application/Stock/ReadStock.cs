using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Data;
using ShopFloor.Data.Identity;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;
using ShopFloor.Domain.Stock;

namespace ShopFloor.Application.Stock;

/// <summary>Reads the store: items, lots, what to buy.</summary>
public sealed class ReadStock(QueryRunner queries) : IUseCase
{
    public const string NoSupplier = "No supplier chosen";

    /// <param name="Kind">Absent: all.</param>
    /// <param name="Search">In short name, title, material or place.</param>
    /// <param name="Retired">Those no longer kept too.</param>
    public sealed record Filter(StockKind? Kind = null, string? Search = null, bool Retired = false);

    public Task<Outcome<Page<StockItemView>>> ListAsync(
        Filter filter,
        PageRequest page,
        Actor actor,
        CancellationToken ct
    ) =>
        queries.RunAsync<Page<StockItemView>>(
            Permission.SeeStock,
            actor,
            async db =>
            {
                var query = db.Set<StockItem>().AsQueryable();
                if (filter.Kind is { } kind)
                {
                    query = query.Where(i => i.Kind == kind);
                }

                if (!filter.Retired)
                {
                    query = query.Where(i => !i.IsRetired);
                }

                if (!string.IsNullOrWhiteSpace(filter.Search))
                {
                    var words = filter.Search.Trim().ToUpperInvariant();
#pragma warning disable CA1862, CA1304, CA1311 // Translated to the database's own upper().
                    query = query.Where(i =>
                        i.Code.ToUpper().Contains(words)
                        || i.Title.ToUpper().Contains(words)
                        || (i.Material ?? "").ToUpper().Contains(words)
                        || (i.Location ?? "").ToUpper().Contains(words)
                    );
#pragma warning restore CA1862, CA1304, CA1311
                }

                var standings = await StockLoading.StandingsAsync(db, ct);
                var suppliers = await NamesAsync(db, ct);
                return await page.CutAsync(query.OrderBy(i => i.Code), i => ViewOf(i, standings, suppliers, actor), ct);
            },
            ct
        );

    /// <summary>All items that are kept, for choosing from; empty for those who may not see the store.</summary>
    public async Task<IReadOnlyList<StockItemView>> EverythingAsync(Actor actor, CancellationToken ct)
    {
        var all = new List<StockItemView>();
        for (var number = 1; ; number++)
        {
            var page = await ListAsync(new Filter(), new PageRequest(number, PageRequest.LargestSize), actor, ct);
            if (!page.TryGet(out var found, out _))
            {
                return all;
            }

            all.AddRange(found.Items);
            if (number >= found.LastNumber)
            {
                return all;
            }
        }
    }

    /// <summary>What the whole store cost.</summary>
    public Task<Outcome<StockValue>> ValueAsync(Actor actor, CancellationToken ct) =>
        queries.RunAsync<StockValue>(
            Permission.BuyStock,
            actor,
            async db =>
            {
                var shop = await db.Shops.SingleAsync(ct);
                return new StockValue(await db.Set<StockLot>().SumAsync(l => l.ValueMinor, ct), shop.Currency.Code);
            },
            ct
        );

    public Task<Outcome<StockItemDetail>> ItemAsync(StockItemId id, Actor actor, CancellationToken ct) =>
        queries.RunAsync<StockItemDetail>(
            Permission.SeeStock,
            actor,
            async db =>
            {
                if (await db.Set<StockItem>().SingleOrDefaultAsync(i => i.Id == id, ct) is not { } item)
                {
                    return Failure.Missing("item");
                }

                var standings = await StockLoading.StandingsAsync(db, ct, id);
                var suppliers = await NamesAsync(db, ct);
                var lots = await StockLoading.LotsAsync(db, id, ct);
                return new StockItemDetail(
                    ViewOf(item, standings, suppliers, actor),
                    await LotViewsAsync(db, lots, actor, ct),
                    await ReservationsAsync(db, r => r.Where(x => x.ItemId == id), ct)
                );
            },
            ct
        );

    public Task<Outcome<StockLotDetail>> LotAsync(StockLotId id, Actor actor, CancellationToken ct) =>
        queries.RunAsync<StockLotDetail>(
            Permission.SeeStock,
            actor,
            async db =>
            {
                if (await db.Set<StockLot>().SingleOrDefaultAsync(l => l.Id == id, ct) is not { } lot)
                {
                    return Failure.Missing("lot");
                }

                var movements = await db.Set<StockMovement>()
                    .Where(m => m.LotId == id)
                    .OrderByDescending(m => m.Number)
                    .Take(PageRequest.LargestSize)
                    .ToListAsync(ct);
                var uses = await db.Set<JobStock>().Where(u => u.LotId == id && u.What == null).ToListAsync(ct);
                var jobs = await JobNumbersAsync(
                    db,
                    [.. movements.Select(m => m.JobId).OfType<JobId>(), .. uses.Select(u => u.JobId)],
                    ct
                );
                var takers = uses.GroupBy(u => u.JobId)
                    .Select(g => new LotTaker(g.Key, jobs[g.Key], g.Sum(u => u.Amount) / (lot.LengthMm ?? 1)))
                    .Where(t => t.Pieces > 0)
                    .ToList();
                return new StockLotDetail(
                    (await LotViewsAsync(db, [lot], actor, ct))[0],
                    await MovementViewsAsync(db, movements, jobs, actor, ct),
                    takers
                );
            },
            ct
        );

    /// <summary>What is known under a label's number, as typed or scanned.</summary>
    public Task<Outcome<StockLotId>> FindLotAsync(string? number, Actor actor, CancellationToken ct) =>
        queries.RunAsync<StockLotId>(
            Permission.SeeStock,
            actor,
            async db =>
            {
                var text = (number ?? "").Trim().ToUpperInvariant();
                // A scanner types the whole address of the code.
                var scanned = Guid.TryParse(text.Split("/STOCK/LOTS/")[^1], out var id)
                    ? StockLotId.From(id)
                    : (StockLotId?)null;
                var found = await db.Set<StockLot>()
                    .Where(l => l.Number == text || l.Id == scanned)
                    .Select(l => (StockLotId?)l.Id)
                    .SingleOrDefaultAsync(ct);
                return found is { } lot
                    ? lot
                    : new Failure.NotFound(
                        $"No label in the store has the number “{(text.Length > TextRules.Code ? text[..TextRules.Code] + "…" : text)}”."
                    );
            },
            ct
        );

    /// <summary>All that happened in the store, newest first.</summary>
    public Task<Outcome<Page<StockMovementView>>> MovementsAsync(
        StockItemId? item,
        PageRequest page,
        Actor actor,
        CancellationToken ct
    ) =>
        queries.RunAsync<Page<StockMovementView>>(
            Permission.SeeStock,
            actor,
            async db =>
            {
                var rows = await page.CutAsync(
                    db.Set<StockMovement>()
                        .Where(m => item == null || m.ItemId == item)
                        .OrderByDescending(m => m.RecordedAt)
                        .ThenByDescending(m => m.Id),
                    m => m,
                    ct
                );
                var jobs = await JobNumbersAsync(db, [.. rows.Items.Select(m => m.JobId).OfType<JobId>()], ct);
                return new Page<StockMovementView>(
                    await MovementViewsAsync(db, rows.Items, jobs, actor, ct),
                    rows.PageNumber,
                    rows.PageSize,
                    rows.TotalCount
                );
            },
            ct
        );

    /// <summary>What to buy, by supplier, with why.</summary>
    public Task<Outcome<IReadOnlyList<ToBuyList>>> ToBuyAsync(Actor actor, CancellationToken ct) =>
        queries.RunAsync<IReadOnlyList<ToBuyList>>(
            Permission.BuyStock,
            actor,
            async db =>
            {
                var standings = await StockLoading.StandingsAsync(db, ct);
                var suppliers = await NamesAsync(db, ct);
                var items = await db.Set<StockItem>().Where(i => !i.IsRetired).OrderBy(i => i.Code).ToListAsync(ct);
                return items
                    .Select(i => (Item: i, Need: PurchaseRule.Of(i, Standing(standings, i))))
                    .Where(n => n.Need is not null)
                    .GroupBy(n => n.Item.SupplierId)
                    .Select(g => new ToBuyList(
                        g.Key,
                        g.Key is { } id ? suppliers[id] : NoSupplier,
                        [
                            .. g.Select(n => new ToBuyLine(
                                ViewOf(n.Item, standings, suppliers, actor),
                                n.Need!.Missing,
                                n.Need.Pieces,
                                n.Need.Explanation
                            )),
                        ]
                    ))
                    .OrderBy(l => l.SupplierId is null)
                    .ThenBy(l => l.Supplier, StringComparer.CurrentCultureIgnoreCase)
                    .ToList();
            },
            ct
        );

    /// <summary>Everything that lies in the store, by place: what a counting sheet lists.</summary>
    public Task<Outcome<IReadOnlyList<StockLotView>>> ShelvesAsync(
        string? location,
        Actor actor,
        CancellationToken ct
    ) =>
        queries.RunAsync<IReadOnlyList<StockLotView>>(
            Permission.SeeStock,
            actor,
            async db => Outcome<IReadOnlyList<StockLotView>>.Success(await ShelvesAsync(db, location, actor, ct)),
            ct
        );

    internal static async Task<IReadOnlyList<StockLotView>> ShelvesAsync(
        ShopDbContext db,
        string? location,
        Actor actor,
        CancellationToken ct
    )
    {
        var lots = await db.Set<StockLot>()
            .Where(l => !l.IsEmpty && (location == null || l.Location == location))
            .ToListAsync(ct);
        var views = await LotViewsAsync(db, lots, actor, ct);
        return
        [
            .. views
                .OrderBy(l => l.Location, StringComparer.OrdinalIgnoreCase)
                .ThenBy(l => l.Code, StringComparer.OrdinalIgnoreCase)
                .ThenBy(l => l.LengthMm)
                .ThenBy(l => l.Number, StringComparer.Ordinal),
        ];
    }

    internal static async Task<IReadOnlyList<StockLotView>> LotViewsAsync(
        ShopDbContext db,
        IReadOnlyList<StockLot> lots,
        Actor actor,
        CancellationToken ct
    )
    {
        var ids = lots.Select(l => l.ItemId).Distinct().ToList();
        var items = await db.Set<StockItem>().Where(i => ids.Contains(i.Id)).ToDictionaryAsync(i => i.Id, ct);
        var from = lots.Select(l => l.FromLotId).OfType<StockLotId>().Distinct().ToList();
        var numbers = await db.Set<StockLot>()
            .Where(l => from.Contains(l.Id))
            .ToDictionaryAsync(l => l.Id, l => l.Number, ct);
        var held = await StockLoading.HeldAsync(db, ct);
        return
        [
            .. lots.Select(l =>
                StockLotView.Of(
                    l,
                    items[l.ItemId],
                    held.GetValueOrDefault(l.Id),
                    l.FromLotId is { } f ? numbers[f] : null,
                    actor
                )
            ),
        ];
    }

    internal static async Task<IReadOnlyList<ReservationView>> ReservationsAsync(
        ShopDbContext db,
        Func<IQueryable<StockReservation>, IQueryable<StockReservation>> narrow,
        CancellationToken ct
    )
    {
        var rows = await narrow(StockLoading.Reservations(db)).ToListAsync(ct);
        var jobs = await JobNumbersAsync(db, [.. rows.Select(r => r.JobId)], ct);
        var ids = rows.Select(r => r.ItemId).Distinct().ToList();
        var items = await db.Set<StockItem>().Where(i => ids.Contains(i.Id)).ToDictionaryAsync(i => i.Id, ct);
        return
        [
            .. rows.Select(r =>
                {
                    var item = items[r.ItemId];
                    return new ReservationView(
                        r.JobId,
                        jobs[r.JobId],
                        r.ItemId,
                        item.Code,
                        item.Title,
                        item.Kind,
                        item.Measure,
                        r.Amount
                    );
                })
                .OrderBy(r => r.Job, StringComparer.Ordinal)
                .ThenBy(r => r.Code, StringComparer.Ordinal),
        ];
    }

    internal static async Task<IReadOnlyDictionary<JobId, string>> JobNumbersAsync(
        ShopDbContext db,
        IReadOnlyCollection<JobId> jobs,
        CancellationToken ct
    )
    {
        var ids = jobs.Distinct().ToList();
        return await db.Set<Job>().Where(j => ids.Contains(j.Id)).ToDictionaryAsync(j => j.Id, j => j.Number, ct);
    }

    private static async Task<List<StockMovementView>> MovementViewsAsync(
        ShopDbContext db,
        IReadOnlyList<StockMovement> movements,
        IReadOnlyDictionary<JobId, string> jobs,
        Actor actor,
        CancellationToken ct
    )
    {
        var people = movements.Select(m => m.By).OfType<PersonId>().Select(p => p.Value).Distinct().ToList();
        var names = await db
            .Users.Where(u => people.Contains(u.Id))
            .ToDictionaryAsync(u => u.Id, u => u.DisplayName, ct);
        var lots = movements.Select(m => m.LotId).Distinct().ToList();
        var numbers = await db.Set<StockLot>()
            .Where(l => lots.Contains(l.Id))
            .ToDictionaryAsync(l => l.Id, l => l.Number, ct);
        return
        [
            .. movements.Select(m => new StockMovementView(
                m.Id,
                numbers[m.LotId],
                m.LotId,
                m.Number,
                m.Move,
                m.Pieces,
                m.PiecesAfter,
                actor.May(Permission.SeeMoney) ? m.ValueMinor : null,
                m.Location,
                m.JobId,
                m.JobId is { } job ? jobs[job] : null,
                m.SawPlanId,
                m.OrderId,
                m.Reason,
                m.By is { } by ? names.GetValueOrDefault(by.Value) : null,
                m.At
            )),
        ];
    }

    private static StockStanding Standing(IReadOnlyDictionary<StockItemId, StockStanding> standings, StockItem item) =>
        standings.GetValueOrDefault(item.Id) ?? StockStanding.None;

    private static StockItemView ViewOf(
        StockItem item,
        IReadOnlyDictionary<StockItemId, StockStanding> standings,
        IReadOnlyDictionary<SupplierId, string> suppliers,
        Actor actor
    ) => StockItemView.Of(item, Standing(standings, item), item.SupplierId is { } by ? suppliers[by] : null, actor);

    private static async Task<IReadOnlyDictionary<SupplierId, string>> NamesAsync(
        ShopDbContext db,
        CancellationToken ct
    ) => await db.Set<Supplier>().ToDictionaryAsync(s => s.Id, s => s.Name, ct);
}
