using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Stock;

namespace ShopFloor.Application.Stock;

/// <summary>Orders at suppliers, and what comes of them.</summary>
public sealed class StockOrders(CommandRunner runner, QueryRunner queries, TimeProvider clock) : IUseCase
{
    internal const string Series = "PO";

    public sealed record PlaceRequest(
        Guid? SupplierId = null,
        IReadOnlyList<StockOrder.LineDetails>? Lines = null,
        DateOnly? ExpectedOn = null,
        string? Note = null
    );

    /// <param name="Line">Number of the order's line.</param>
    /// <param name="Pieces">What came now.</param>
    /// <param name="Mark">Heat or lot number on it.</param>
    /// <param name="Location">Absent: where the item usually lies.</param>
    public sealed record ReceiveRequest(
        int? Line = null,
        decimal? Pieces = null,
        string? Mark = null,
        string? Location = null
    );

    /// <param name="ExpectedOn">Another day of delivery.</param>
    /// <param name="CloseReason">Why the rest is not awaited any more.</param>
    public sealed record ChangeRequest(DateOnly? ExpectedOn = null, string? CloseReason = null);

    public Task<Outcome<Page<StockOrderView>>> ListAsync(
        bool onlyOpen,
        PageRequest page,
        Actor actor,
        CancellationToken ct
    ) =>
        queries.RunAsync<Page<StockOrderView>>(
            Permission.BuyStock,
            actor,
            async db =>
            {
                var today = (await db.Shops.SingleAsync(ct)).LocalDay(clock.GetUtcNow());
                var names = await db.Set<Supplier>().ToDictionaryAsync(s => s.Id, s => s.Name, ct);
                return await page.CutAsync(
                    db.Set<StockOrder>()
                        .Where(o => !onlyOpen || o.State != StockOrderState.Closed)
                        .OrderByDescending(o => o.Number),
                    o => StockOrderView.Of(o, names[o.SupplierId], today),
                    ct
                );
            },
            ct
        );

    public Task<Outcome<StockOrderView>> ReadAsync(StockOrderId id, Actor actor, CancellationToken ct) =>
        queries.RunAsync<StockOrderView>(
            Permission.BuyStock,
            actor,
            async db =>
                await db.Set<StockOrder>().SingleOrDefaultAsync(o => o.Id == id, ct) is { } order
                    ? await ViewAsync(db, order, clock.GetUtcNow(), ct)
                    : Failure.Missing("order"),
            ct
        );

    public Task<Outcome<StockOrderView>> PlaceAsync(PlaceRequest request, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<StockOrderView>(
            Permission.BuyStock,
            envelope,
            request,
            async scope =>
            {
                var wanted = SupplierId.From(request.SupplierId ?? Guid.Empty);
                if (await scope.Db.Set<Supplier>().SingleOrDefaultAsync(s => s.Id == wanted, ct) is not { } supplier)
                {
                    return Failure.Field("supplierId", "Choose the supplier.");
                }

                var lines = request.Lines ?? [];
                if (lines.Count > StockOrder.MostLines)
                {
                    return Failure.Field("lines", $"An order has at most {StockOrder.MostLines} lines.");
                }

                if (lines.Any(l => l is null))
                {
                    return Failure.Field("lines", "A line is missing in the list.");
                }

                var ids = lines.Select(l => StockItemId.From(l.ItemId ?? Guid.Empty)).Distinct().ToList();
                var items = await scope
                    .Db.Set<StockItem>()
                    .Where(i => ids.Contains(i.Id))
                    .ToDictionaryAsync(i => i.Id, ct);
                var placed = StockOrder.Place(
                    scope.NewId<StockOrderId>(),
                    await scope.NextNumberAsync(Series),
                    supplier,
                    lines,
                    items,
                    request.ExpectedOn,
                    request.Note,
                    scope.Actor.Person,
                    (await scope.ShopAsync()).LocalDay(scope.Now)
                );
                if (!placed.TryGet(out var order, out var failure))
                {
                    return failure;
                }

                scope.Db.Add(order);
                return await SaveAsync(scope, order, "stockOrder.placed");
            },
            ct
        );

    /// <summary>Some of a line has come: it lies in the store with a label of its own.</summary>
    public Task<Outcome<StockLotView>> ReceiveAsync(
        StockOrderId id,
        ReceiveRequest request,
        Envelope envelope,
        CancellationToken ct
    ) =>
        OneAsync<StockLotView>(
            id,
            new { id, receive = request },
            envelope,
            async (scope, order) =>
            {
                if (!order.Receive(request.Line ?? 0, request.Pieces, scope.Now).TryGet(out var come, out var failure))
                {
                    return failure;
                }

                var item = await scope.Db.Set<StockItem>().SingleAsync(i => i.Id == come.Line.ItemId, ct);
                var opened = StockLot.Open(
                    scope.NewId<StockLotId>(),
                    await scope.NextNumberAsync(ReceiveStock.LotSeries),
                    item,
                    new StockLot.Details(
                        request.Pieces,
                        come.Line.LengthMm,
                        request.Mark,
                        request.Location,
                        come.ValueMinor
                    ),
                    StockMove.Received,
                    order.SupplierId,
                    scope.Hand(),
                    new StockCause(Order: id)
                );
                if (!opened.TryGet(out var lot, out failure))
                {
                    return failure;
                }

                item.Bought(come.Line.UnitCostMinor);
                scope.Db.Add(lot);
                LotChange.Write(scope, lot);
                await SaveAsync(scope, order, "stockOrder.received");
                return StockLotView.Of(lot, item, 0, null, scope.Actor);
            },
            ct
        );

    /// <summary>Another day of delivery, or the rest is not awaited any more.</summary>
    public Task<Outcome<StockOrderView>> ChangeAsync(
        StockOrderId id,
        ChangeRequest request,
        Envelope envelope,
        CancellationToken ct
    ) =>
        OneAsync<StockOrderView>(
            id,
            new { id, request },
            envelope,
            async (scope, order) =>
            {
                var changed = request.CloseReason is not null
                    ? order.Close(request.CloseReason, scope.Now)
                    : order.Expect(request.ExpectedOn, (await scope.ShopAsync()).LocalDay(scope.Now));
                return changed.TryGet(out _, out var failure)
                    ? await SaveAsync(scope, order, "stockOrder.changed")
                    : failure;
            },
            ct
        );

    private Task<Outcome<T>> OneAsync<T>(
        StockOrderId id,
        object content,
        Envelope envelope,
        Func<CommandScope, StockOrder, Task<Outcome<T>>> act,
        CancellationToken ct
    ) =>
        runner.RunAsync<T>(
            Permission.BuyStock,
            envelope,
            content,
            async scope =>
            {
                if (await scope.Db.Set<StockOrder>().SingleOrDefaultAsync(o => o.Id == id, ct) is not { } order)
                {
                    return Failure.Missing("order");
                }

                return scope.Stale(order) is { } stale ? stale : await act(scope, order);
            },
            ct
        );

    private static async Task<Outcome<StockOrderView>> SaveAsync(CommandScope scope, StockOrder order, string type)
    {
        scope.Record(
            new EventDraft(
                type,
                "stockOrder",
                order.Id.Value,
                After: new
                {
                    order.Number,
                    order.State,
                    order.ExpectedOn,
                    lines = order.Lines.Select(l => new
                    {
                        l.Number,
                        l.Code,
                        pieces = LotChange.Said(l.Pieces),
                        received = LotChange.Said(l.Received),
                        l.UnitCostMinor,
                    }),
                }
            )
        );
        await scope.SaveAsync();
        return await ViewAsync(scope.Db, order, scope.Now, scope.Cancellation);
    }

    private static async Task<StockOrderView> ViewAsync(
        ShopDbContext db,
        StockOrder order,
        DateTimeOffset now,
        CancellationToken ct
    )
    {
        var supplier = await db.Set<Supplier>()
            .Where(s => s.Id == order.SupplierId)
            .Select(s => s.Name)
            .SingleAsync(ct);
        return StockOrderView.Of(order, supplier, (await db.Shops.SingleAsync(ct)).LocalDay(now));
    }
}
