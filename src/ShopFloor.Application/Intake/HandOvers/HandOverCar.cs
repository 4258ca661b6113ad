using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Routing;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Application.Intake.HandOvers;

/// <summary>The car goes back to its owner, and the job is closed with it.</summary>
public sealed class HandOverCar(CommandRunner runner) : IUseCase
{
    public Task<Outcome<HandOverView>> RunAsync(
        JobId jobId,
        HandOverInput request,
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

                var job = await scope.Db.JobsWhole().SingleAsync(j => j.Id == jobId, ct);
                if (scope.Stale(job) is { } stale)
                {
                    return stale;
                }

                if (!(await CarHere.FindAsync(scope.Db, job, ct)).TryGet(out var car, out var failure))
                {
                    return failure;
                }

                if (await Release.ObstaclesAsync(scope.Db, job, ct) is { Count: > 0 } obstacles)
                {
                    return new Failure.Refused([.. obstacles.Take(10)]);
                }

                if (!job.Close(scope.Now).TryGet(out _, out failure))
                {
                    return failure;
                }

                var balance = await JobBalance.ReadAsync(scope.Db, jobId, ct);
                var recorded = await RecordAsync(scope, jobId, request, balance);
                if (!recorded.TryGet(out var handOver, out failure))
                {
                    return failure;
                }

                if (await JobBalance.RefuseAsync(scope.Db, jobId, balance, ct) is { } due)
                {
                    return due;
                }

                car.ReadOdometer(handOver.OdometerKm);
                scope.Db.Add(handOver);
                scope.Record(
                    new EventDraft(
                        "car.handedOver",
                        "handOver",
                        handOver.Id.Value,
                        jobId,
                        After: new
                        {
                            handOver.OdometerKm,
                            handOver.WarningLights,
                            handOver.KeysReturned,
                            looks = handOver.Looks.Count,
                            differences = handOver.Looks.Count(l => !l.IsSame),
                            signature = handOver.Signature.Kind,
                            handOver.BalanceMinor,
                        }
                    )
                );
                scope.Record(new EventDraft("job.closed", "job", jobId.Value, jobId));
                await scope.SaveAsync();
                return Outcome<HandOverView>.Success(HandOverView.Of(handOver));
            },
            ct
        );

    private static async Task<Outcome<HandOver>> RecordAsync(
        CommandScope scope,
        JobId jobId,
        HandOverInput request,
        Money balance
    )
    {
        var ct = scope.Cancellation;
        var dropOff = await scope.Db.Set<DropOff>().AsNoTracking().SingleOrDefaultAsync(d => d.JobId == jobId, ct);
        var photos = await WalkRoundPhotos.OfIntakeAsync(scope, jobId, request.Looks);
        return !photos.TryGet(out var intakePhotos, out var failure)
            ? failure
            : HandOver.Record(
                scope.NewId<HandOverId>(),
                jobId,
                dropOff,
                intakePhotos,
                request.Details,
                balance,
                scope.Now
            );
    }
}
