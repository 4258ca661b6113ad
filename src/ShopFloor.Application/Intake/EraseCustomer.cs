using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Accounts;
using ShopFloor.Application.Changes;
using ShopFloor.Application.Common;
using ShopFloor.Application.Decisions;
using ShopFloor.Application.Diary;
using ShopFloor.Application.Inspection.Packs;
using ShopFloor.Application.Intake.Photos;
using ShopFloor.Application.Messages;
using ShopFloor.Application.Planning;
using ShopFloor.Application.Progress;
using ShopFloor.Application.Quoting;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Intake;

/// <summary>Forgets a customer: names, contacts, signatures, registration plates, messages, and on request the photos of the car from outside. Events, papers and hashes stay valid, because they hold ids only.</summary>
public sealed class EraseCustomer(CommandRunner runner, PhotoContent content) : IUseCase
{
    /// <param name="RemovePhotos">Also deletes walk-round and hand-over photos, which show plates and what was in the car. Photos of the work stay with the inspection record.</param>
    public sealed record Request(bool RemovePhotos = false);

    /// <param name="Photos">Photos whose pictures were deleted.</param>
    public sealed record Result(CustomerView Customer, IReadOnlyList<PhotoId> Photos);

    public async Task<Outcome<CustomerView>> RunAsync(
        CustomerId id,
        Request request,
        Envelope envelope,
        CancellationToken ct
    )
    {
        var erased = await runner.RunAsync<Result>(
            Permission.ErasePersonalData,
            envelope,
            request,
            scope => EraseAsync(scope, id, request),
            ct
        );
        if (!erased.TryGet(out var result, out var failure))
        {
            return failure;
        }

        await content.DeleteUnusedAsync(result.Photos, CancellationToken.None);
        return result.Customer;
    }

    private static async Task<Outcome<Result>> EraseAsync(CommandScope scope, CustomerId id, Request request)
    {
        var ct = scope.Cancellation;
        var customer = await scope.Db.Set<Customer>().SingleOrDefaultAsync(c => c.Id == id, ct);
        if (customer is null)
        {
            return Failure.Missing("customer");
        }

        if (scope.Stale(customer) is { } stale)
        {
            return stale;
        }

        var jobs = await scope.Db.Set<Job>().Where(j => j.CustomerId == id).ToListAsync(ct);
        if (jobs.Where(j => j.State == JobState.Open).ToList() is { Count: > 0 } open)
        {
            return Failure.Because(
                "openJob",
                $"{string.Join(", ", open.Select(j => j.Number))} is still open: finish it and let it go, or cancel the job first."
            );
        }

        if (!customer.Erase(scope.Now).TryGet(out _, out var failure))
        {
            return failure;
        }

        var photos = await ForgetAroundAsync(scope, id, [.. jobs.Select(j => j.Id)], request.RemovePhotos);
        await ForgetRepliesAsync(scope, id);
        scope.Record(
            new EventDraft("customer.erased", "customer", id.Value, After: new { photosRemoved = photos.Count })
        );
        await scope.SaveAsync();
        return new Result(CustomerView.Of(customer), photos);
    }

    private static async Task<IReadOnlyList<PhotoId>> ForgetAroundAsync(
        CommandScope scope,
        CustomerId id,
        JobId[] jobs,
        bool removePhotos
    )
    {
        var ct = scope.Cancellation;
        await foreach (
            var car in scope.Db.Set<Car>().Where(c => c.CustomerId == id).AsAsyncEnumerable().WithCancellation(ct)
        )
        {
            car.EraseRegistration();
        }

        await QuoteErasure.EraseAsync(scope, id);
        await ChangeErasure.EraseAsync(scope, id);
        await MoneyErasure.EraseAsync(scope, id);
        await PackErasure.EraseAsync(scope, id, jobs);
        await DecisionErasure.EraseAsync(scope, id);
        await MessageErasure.EraseAsync(scope, id, jobs);
        await ProgressErasure.EraseAsync(scope, jobs);
        await PlanErasure.EraseAsync(scope, jobs);
        await DiaryErasure.EraseAsync(scope, id, jobs);

        foreach (var dropOff in await scope.Db.Set<DropOff>().Where(d => jobs.Contains(d.JobId)).ToListAsync(ct))
        {
            dropOff.ErasePersonalData();
        }

        foreach (var handOver in await scope.Db.Set<HandOver>().Where(h => jobs.Contains(h.JobId)).ToListAsync(ct))
        {
            handOver.ErasePersonalData();
        }

        foreach (var back in await scope.Db.Set<CarReturn>().Where(r => jobs.Contains(r.JobId)).ToListAsync(ct))
        {
            back.ErasePersonalData();
        }

        foreach (var goods in await scope.Db.Set<GoodsOut>().Where(g => jobs.Contains(g.JobId)).ToListAsync(ct))
        {
            goods.ErasePersonalData();
        }

        foreach (var part in await scope.Db.Set<CustomerPart>().Where(p => jobs.Contains(p.JobId)).ToListAsync(ct))
        {
            part.ErasePersonalData();
        }

        var photos = await scope
            .Db.Set<Photo>()
            .Where(p =>
                jobs.Contains(p.JobId)
                && p.RemovedAt == null
                && (p.Kind == PhotoKind.WalkRound || p.Kind == PhotoKind.HandOver)
            )
            .ToListAsync(ct);
        photos.ForEach(p => p.ErasePersonalData());
        if (!removePhotos)
        {
            return [];
        }

        // A photo that proves a reading stays with the inspection record.
        var removed = photos.Where(p => p.ReadingId is null).ToList();
        removed.ForEach(p => p.Remove(scope.Now));
        return [.. removed.Select(p => p.Id)];
    }

    /// <summary>Remembered answers to repeated commands hold what was typed; those about this customer go.</summary>
    private static Task<int> ForgetRepliesAsync(CommandScope scope, CustomerId id)
    {
        var text = id.Value.ToString();
        return scope
            .Db.IdempotencyRecords.Where(r => r.Result != null && r.Result.Contains(text))
            .ExecuteDeleteAsync(scope.Cancellation);
    }
}
