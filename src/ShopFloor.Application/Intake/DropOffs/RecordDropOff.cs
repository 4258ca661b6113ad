using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Intake.DropOffs;

/// <summary>Records the car as it came in, whole or in part; a later call replaces what was recorded until the customer has signed.</summary>
public sealed class RecordDropOff(CommandRunner runner) : IUseCase
{
    public Task<Outcome<DropOffView>> RunAsync(
        JobId jobId,
        DropOffInput request,
        Envelope envelope,
        CancellationToken ct
    ) =>
        runner.RunAsync(
            Permission.BookIn,
            envelope,
            request,
            async scope =>
            {
                if (await OpenJobs.RefuseAsync(scope, jobId) is { } refused)
                {
                    return refused;
                }

                var job = await scope.Db.Set<Job>().AsNoTracking().SingleAsync(j => j.Id == jobId, ct);
                if (!(await CarHere.FindAsync(scope.Db, job, ct)).TryGet(out var car, out var failure))
                {
                    return failure;
                }

                var (_, book) = await ConditionComparison.LoadAsync(scope.Db, job, ct);
                var errors = new FieldErrors();
                ConditionComparison.Check(book, request.ConditionFound, "conditionFound", errors);
                if (errors.Any)
                {
                    return errors.ToFailure();
                }

                var known = await scope.Db.Set<DropOff>().SingleOrDefaultAsync(d => d.JobId == jobId, ct);
                var applied = Apply(scope, jobId, request, known);
                if (!applied.TryGet(out var dropOff, out failure))
                {
                    return failure;
                }

                KeepCar(car, request);
                await scope.SaveAsync();
                return Outcome<DropOffView>.Success(DropOffView.Of(dropOff));
            },
            ct
        );

    private static Outcome<DropOff> Apply(CommandScope scope, JobId jobId, DropOffInput request, DropOff? known)
    {
        DropOffTrace? before = null;
        if (known is null)
        {
            if (
                !DropOff
                    .Begin(scope.NewId<DropOffId>(), jobId, request.Details, scope.OccurredAt)
                    .TryGet(out known, out var failure)
            )
            {
                return failure;
            }

            scope.Db.Add(known);
        }
        else
        {
            before = DropOffTrace.Of(known);
            if (scope.Stale(known) is { } stale)
            {
                return stale;
            }

            if (!known.Change(request.Details).TryGet(out _, out var failure))
            {
                return failure;
            }
        }

        scope.Record(
            new EventDraft(
                before is null ? "dropOff.begun" : "dropOff.changed",
                "dropOff",
                known.Id.Value,
                jobId,
                before,
                DropOffTrace.Of(known)
            )
        );
        return known;
    }

    /// <summary>What was seen at the counter is what the shop knows of the car from now on.</summary>
    private static void KeepCar(Car car, DropOffInput request)
    {
        if (request.Facts is { } seen)
        {
            car.TakeFacts(seen.Over(car.Facts));
        }

        if (request.OdometerKm is { } km)
        {
            car.ReadOdometer(km);
        }
    }
}
