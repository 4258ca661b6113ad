using System.Globalization;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Intake;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Stock;

namespace ShopFloor.Application.Stock;

/// <summary>What everything that happens to a lot has in common: loaded, judged against what is held, its history written.</summary>
public sealed class LotChange(CommandRunner runner) : IUseCase
{
    internal sealed record Open(CommandScope Scope, StockLot Lot, StockItem Item, decimal Held);

    internal Task<Outcome<StockLotView>> RunAsync(
        StockLotId id,
        object content,
        Envelope envelope,
        Func<Open, Task<Outcome<StockLot>>> act,
        CancellationToken ct
    ) =>
        runner.RunAsync<StockLotView>(
            Permission.KeepStock,
            envelope,
            new { id, content },
            async scope =>
            {
                if (await scope.Db.Set<StockLot>().SingleOrDefaultAsync(l => l.Id == id, ct) is not { } lot)
                {
                    return Failure.Missing("lot");
                }

                if (scope.Stale(lot) is { } stale)
                {
                    return stale;
                }

                var item = await scope.Db.Set<StockItem>().SingleAsync(i => i.Id == lot.ItemId, ct);
                var held = await StockLoading.HeldAsync(scope.Db, id, ct);
                if (!(await act(new Open(scope, lot, item, held))).TryGet(out var shown, out var failure))
                {
                    return failure;
                }

                Write(scope, lot);
                if (shown != lot)
                {
                    Write(scope, shown);
                }

                await scope.SaveAsync();
                var isSame = shown == lot;
                return StockLotView.Of(shown, item, isSame ? held : 0, isSame ? null : lot.Number, scope.Actor);
            },
            ct
        );

    /// <summary>Adds what happened to a lot to its history and to the shop's.</summary>
    internal static void Write(CommandScope scope, StockLot lot)
    {
        foreach (var movement in lot.DrainMovements())
        {
            scope.Db.Add(movement);
            scope.Record(
                new EventDraft(
                    "stock." + char.ToLowerInvariant(movement.Move.ToString()[0]) + movement.Move.ToString()[1..],
                    "stockLot",
                    lot.Id.Value,
                    movement.JobId,
                    After: new
                    {
                        lot = lot.Number,
                        number = movement.Number,
                        pieces = Said(movement.Pieces),
                        left = Said(movement.PiecesAfter),
                        lengthMm = lot.LengthMm is { } mm ? Said(mm) : null,
                        valueMinor = movement.ValueMinor,
                        movement.Location,
                    }
                )
            );
        }
    }

    internal static string Said(decimal value) => value.ToString("0.######", CultureInfo.InvariantCulture);
}

/// <summary>Takes out of a lot, puts back, counts, moves, scraps, sends back.</summary>
public sealed class KeepLots(LotChange change) : IUseCase
{
    /// <param name="Pieces">Pieces of tube, else units of the item's measure.</param>
    /// <param name="JobId">The job that takes it or gives it back.</param>
    public sealed record Request(
        decimal? Pieces = null,
        Guid? JobId = null,
        string? Reason = null,
        string? Location = null
    );

    /// <summary>Into a job; what was set aside for it lessens by as much.</summary>
    public Task<Outcome<StockLotView>> UseAsync(
        StockLotId id,
        Request request,
        Envelope envelope,
        CancellationToken ct
    ) =>
        change.RunAsync(
            id,
            new { use = request },
            envelope,
            async open =>
            {
                var (scope, lot, item, held) = open;
                if (request.JobId is not { } named)
                {
                    return Failure.Field("jobId", "Say for which job it is.");
                }

                var job = JobId.From(named);
                if (await OpenJobs.RefuseAsync(scope, job) is { } refused)
                {
                    return refused is Failure.NotFound ? Failure.Field("jobId", "There is no such job.") : refused;
                }

                var errors = new FieldErrors();
                var reason = TextRules.Optional(request.Reason, "reason", "The note", TextRules.ShortText, errors);
                if (errors.Any)
                {
                    return errors.ToFailure();
                }

                var hand = scope.Hand();
                var taken = lot.Take(request.Pieces, item, held, StockMove.Used, hand, new StockCause(reason, job));
                if (!taken.TryGet(out var value, out var failure))
                {
                    return failure;
                }

                var amount = item.AmountOf(request.Pieces!.Value, lot.LengthMm);
                scope.Db.Add(JobStock.Of(job, lot, amount, value, null, hand));
                await LessenAsync(scope, job, item.Id, amount);
                return lot;
            },
            ct
        );

    /// <summary>Back from a job, at what the job paid.</summary>
    public Task<Outcome<StockLotView>> PutBackAsync(
        StockLotId id,
        Request request,
        Envelope envelope,
        CancellationToken ct
    ) =>
        change.RunAsync(
            id,
            new { back = request },
            envelope,
            async open =>
            {
                var (scope, lot, item, _) = open;
                if (request.JobId is not { } named)
                {
                    return Failure.Field("jobId", "Say from which job it comes back.");
                }

                var job = JobId.From(named);
                var uses = await scope
                    .Db.Set<JobStock>()
                    .Where(u => u.JobId == job && u.LotId == id && u.What == null)
                    .ToListAsync(ct);
                var hand = scope.Hand();
                var back = lot.PutBack(
                    request.Pieces,
                    item,
                    (uses.Sum(u => u.Amount), uses.Sum(u => u.ValueMinor)),
                    hand,
                    new StockCause(null, job)
                );
                if (!back.TryGet(out var value, out var failure))
                {
                    return failure;
                }

                var amount = item.AmountOf(request.Pieces!.Value, lot.LengthMm);
                scope.Db.Add(JobStock.Of(job, lot, -amount, -value, null, hand));
                return lot;
            },
            ct
        );

    /// <summary>Thrown away, with its reason.</summary>
    public Task<Outcome<StockLotView>> ScrapAsync(
        StockLotId id,
        Request request,
        Envelope envelope,
        CancellationToken ct
    ) => OutAsync(id, request, StockMove.Scrapped, envelope, ct);

    /// <summary>Back to the supplier, with its reason.</summary>
    public Task<Outcome<StockLotView>> SendBackAsync(
        StockLotId id,
        Request request,
        Envelope envelope,
        CancellationToken ct
    ) => OutAsync(id, request, StockMove.ToSupplier, envelope, ct);

    /// <summary>Counted: a difference is written down with its reason.</summary>
    public Task<Outcome<StockLotView>> CountAsync(
        StockLotId id,
        decimal? counted,
        string? reason,
        Envelope envelope,
        CancellationToken ct
    ) =>
        change.RunAsync(
            id,
            new { counted, reason },
            envelope,
            open =>
                Task.FromResult(
                    open.Lot.Count(counted, open.Item, reason, open.Scope.Hand()).Then<StockLot>(_ => open.Lot)
                ),
            ct
        );

    /// <summary>Elsewhere: all of it, or some, which becomes a lot of its own.</summary>
    public Task<Outcome<StockLotView>> MoveAsync(
        StockLotId id,
        Request request,
        Envelope envelope,
        CancellationToken ct
    ) =>
        change.RunAsync(
            id,
            new { move = request },
            envelope,
            async open =>
            {
                var (scope, lot, item, held) = open;
                if (request.Pieces is null || request.Pieces == lot.Pieces)
                {
                    return lot.MoveTo(request.Location, scope.Hand()).Then<StockLot>(_ => lot);
                }

                var parted = lot.Part(
                    scope.NewId<StockLotId>(),
                    await scope.NextNumberAsync(ReceiveStock.LotSeries),
                    request.Pieces,
                    item,
                    held,
                    request.Location,
                    scope.Hand()
                );
                if (parted.IsSuccess)
                {
                    scope.Db.Add(parted.Value);
                }

                return parted;
            },
            ct
        );

    internal static async Task LessenAsync(CommandScope scope, JobId job, StockItemId item, decimal amount)
    {
        var reserved = await scope
            .Db.Set<StockReservation>()
            .SingleOrDefaultAsync(r => r.JobId == job && r.ItemId == item, scope.Cancellation);
        reserved?.Taken(amount);
        if (reserved is { Amount: 0 })
        {
            scope.Db.Remove(reserved);
        }
    }

    private Task<Outcome<StockLotView>> OutAsync(
        StockLotId id,
        Request request,
        StockMove move,
        Envelope envelope,
        CancellationToken ct
    ) =>
        change.RunAsync(
            id,
            new { move, request },
            envelope,
            open =>
            {
                var errors = new FieldErrors();
                var reason = TextRules.Required(request.Reason, "reason", "The reason", TextRules.ShortText, errors);
                Outcome<StockLot> outcome = errors.Any
                    ? errors.ToFailure()
                    : open
                        .Lot.Take(request.Pieces, open.Item, open.Held, move, open.Scope.Hand(), new StockCause(reason))
                        .Then<StockLot>(_ => open.Lot);
                return Task.FromResult(outcome);
            },
            ct
        );
}
