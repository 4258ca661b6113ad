using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Stock;

namespace ShopFloor.Application.Stock;

/// <summary>Decides what is kept in store, when it is bought again, and from whom.</summary>
public sealed class KeepStockItems(CommandRunner runner) : IUseCase
{
    public Task<Outcome<StockItemView>> AddAsync(StockItem.Details details, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<StockItemView>(
            Permission.BuyStock,
            envelope,
            details,
            async scope =>
            {
                if (await scope.Db.Set<StockItem>().CountAsync(ct) >= StockItem.MostItems)
                {
                    return Failure.Because("tooMany", $"A shop keeps at most {StockItem.MostItems} different items.");
                }

                if (!StockItem.Add(scope.NewId<StockItemId>(), details).TryGet(out var item, out var failure))
                {
                    return failure;
                }

                scope.Db.Add(item);
                return await SaveAsync(scope, item, "stockItem.added");
            },
            ct
        );

    public Task<Outcome<StockItemView>> ChangeAsync(
        StockItemId id,
        StockItem.Details details,
        Envelope envelope,
        CancellationToken ct
    ) =>
        OneAsync(
            id,
            new { id, details },
            envelope,
            async (scope, item) => item.Change(details, await IsUsedAsync(scope, item)),
            "stockItem.changed",
            ct
        );

    public Task<Outcome<StockItemView>> RetireAsync(
        StockItemId id,
        bool isRetired,
        Envelope envelope,
        CancellationToken ct
    ) =>
        OneAsync(
            id,
            new { id, isRetired },
            envelope,
            async (scope, item) => item.Retire(isRetired, await StockLoading.StandingAsync(scope.Db, id, ct)),
            isRetired ? "stockItem.retired" : "stockItem.keptAgain",
            ct
        );

    /// <summary>Something is in store, set aside, ordered or on a cut list as what it is now.</summary>
    private static async Task<bool> IsUsedAsync(CommandScope scope, StockItem item)
    {
        var (db, ct) = (scope.Db, scope.Cancellation);
        return await db.Set<StockLot>().AnyAsync(l => l.ItemId == item.Id, ct)
            || await db.Set<StockReservation>().AnyAsync(r => r.ItemId == item.Id, ct)
            || (await StockLoading.StandingAsync(db, item.Id, ct)).OnOrder > 0
            || (
                item.IsTube
                && (await db.Set<CutList>().Select(c => c.Lines).ToListAsync(ct)).Exists(lines =>
                    lines.Any(l => l.ItemId == item.Id)
                )
            );
    }

    private Task<Outcome<StockItemView>> OneAsync(
        StockItemId id,
        object content,
        Envelope envelope,
        Func<CommandScope, StockItem, Task<Outcome<Done>>> act,
        string type,
        CancellationToken ct
    ) =>
        runner.RunAsync<StockItemView>(
            Permission.BuyStock,
            envelope,
            content,
            async scope =>
            {
                if (await scope.Db.Set<StockItem>().SingleOrDefaultAsync(i => i.Id == id, ct) is not { } item)
                {
                    return Failure.Missing("item");
                }

                if (scope.Stale(item) is { } stale)
                {
                    return stale;
                }

                return (await act(scope, item)).TryGet(out _, out var failure)
                    ? await SaveAsync(scope, item, type)
                    : failure;
            },
            ct
        );

    private static async Task<Outcome<StockItemView>> SaveAsync(CommandScope scope, StockItem item, string type)
    {
        var ct = scope.Cancellation;
        if (await scope.Db.Set<StockItem>().AnyAsync(i => i.Code == item.Code && i.Id != item.Id, ct))
        {
            return Failure.Field("code", $"There is an item {item.Code} already.");
        }

        string? supplier = null;
        if (item.SupplierId is { } by)
        {
            supplier = await scope
                .Db.Set<Supplier>()
                .Where(s => s.Id == by)
                .Select(s => s.Name)
                .SingleOrDefaultAsync(ct);
            if (supplier is null)
            {
                return Failure.Field("supplierId", "There is no such supplier.");
            }
        }

        scope.Record(
            new EventDraft(
                type,
                "stockItem",
                item.Id.Value,
                After: new
                {
                    item.Code,
                    item.Kind,
                    reorderLevel = LotChange.Said(item.ReorderLevel),
                    item.LastCostMinor,
                    item.IsRetired,
                }
            )
        );
        await scope.SaveAsync();
        return StockItemView.Of(item, await StockLoading.StandingAsync(scope.Db, item.Id, ct), supplier, scope.Actor);
    }
}

/// <summary>Whom the shop buys from. People's names do not go into the history.</summary>
public sealed class KeepSuppliers(CommandRunner runner, QueryRunner queries) : IUseCase
{
    public Task<Outcome<IReadOnlyList<SupplierView>>> ListAsync(Actor actor, CancellationToken ct) =>
        queries.RunAsync<IReadOnlyList<SupplierView>>(
            Permission.BuyStock,
            actor,
            async db => (await db.Set<Supplier>().OrderBy(s => s.Name).ToListAsync(ct)).ConvertAll(SupplierView.Of),
            ct
        );

    public Task<Outcome<SupplierView>> AddAsync(Supplier.Details details, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<SupplierView>(
            Permission.BuyStock,
            envelope,
            details,
            async scope =>
            {
                if (await scope.Db.Set<Supplier>().CountAsync(ct) >= Supplier.MostSuppliers)
                {
                    return Failure.Because("tooMany", $"At most {Supplier.MostSuppliers} suppliers are kept.");
                }

                if (!Supplier.Add(scope.NewId<SupplierId>(), details).TryGet(out var supplier, out var failure))
                {
                    return failure;
                }

                scope.Db.Add(supplier);
                return await SaveAsync(scope, supplier, "supplier.added");
            },
            ct
        );

    public Task<Outcome<SupplierView>> ChangeAsync(
        SupplierId id,
        Supplier.Details details,
        Envelope envelope,
        CancellationToken ct
    ) =>
        runner.RunAsync<SupplierView>(
            Permission.BuyStock,
            envelope,
            new { id, details },
            async scope =>
            {
                if (await scope.Db.Set<Supplier>().SingleOrDefaultAsync(s => s.Id == id, ct) is not { } supplier)
                {
                    return Failure.Missing("supplier");
                }

                if (scope.Stale(supplier) is { } stale)
                {
                    return stale;
                }

                return supplier.Change(details).TryGet(out _, out var failure)
                    ? await SaveAsync(scope, supplier, "supplier.changed")
                    : failure;
            },
            ct
        );

    private static async Task<Outcome<SupplierView>> SaveAsync(CommandScope scope, Supplier supplier, string type)
    {
        var isTwice = await scope
            .Db.Set<Supplier>()
            .AnyAsync(s => s.Name == supplier.Name && s.Id != supplier.Id, scope.Cancellation);
        if (isTwice)
        {
            return Failure.Field("name", $"{supplier.Name} is a supplier already.");
        }

        scope.Record(
            new EventDraft(type, "supplier", supplier.Id.Value, After: new { supplier.LeadDays, supplier.IsRetired })
        );
        await scope.SaveAsync();
        return SupplierView.Of(supplier);
    }
}

/// <summary>Sets stock aside for a job.</summary>
public sealed class ReserveStock(CommandRunner runner) : IUseCase
{
    /// <param name="Amount">In all for this job: mm of tube, else units; 0 lets go of it.</param>
    public sealed record Request(Guid? JobId = null, decimal? Amount = null);

    public Task<Outcome<StockItemView>> RunAsync(
        StockItemId id,
        Request request,
        Envelope envelope,
        CancellationToken ct
    ) =>
        runner.RunAsync<StockItemView>(
            Permission.KeepStock,
            envelope,
            new { id, request },
            async scope =>
            {
                if (await scope.Db.Set<StockItem>().SingleOrDefaultAsync(i => i.Id == id, ct) is not { } item)
                {
                    return Failure.Missing("item");
                }

                if (request.JobId is not { } named)
                {
                    return Failure.Field("jobId", "Say for which job it is set aside.");
                }

                var job = JobId.From(named);
                if (await Intake.OpenJobs.RefuseAsync(scope, job) is { } refused)
                {
                    return refused is Failure.NotFound ? Failure.Field("jobId", "There is no such job.") : refused;
                }

                var reserved = await scope
                    .Db.Set<StockReservation>()
                    .SingleOrDefaultAsync(r => r.JobId == job && r.ItemId == id, ct);
                var isNew = reserved is null;
                reserved ??= StockReservation.Of(job, id);
                var before = reserved.Amount;
                if (!reserved.Set(request.Amount, scope.Actor.Person, scope.OccurredAt).TryGet(out _, out var failure))
                {
                    return failure;
                }

                if (reserved.Amount == 0 && !isNew)
                {
                    scope.Db.Remove(reserved);
                }
                else if (isNew && reserved.Amount > 0)
                {
                    scope.Db.Add(reserved);
                }

                scope.Record(
                    new EventDraft(
                        "stock.setAside",
                        "stockItem",
                        id.Value,
                        job,
                        new { amount = LotChange.Said(before) },
                        new { amount = LotChange.Said(reserved.Amount) }
                    )
                );
                await scope.SaveAsync();
                return StockItemView.Of(item, await StockLoading.StandingAsync(scope.Db, id, ct), null, scope.Actor);
            },
            ct
        );
}
