using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Intake.Cars;
using ShopFloor.Application.Intake.DropOffs;
using ShopFloor.Application.Intake.Photos;
using ShopFloor.Application.Routing;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Intake.HandOvers;

/// <summary>What the hand-over page of a job needs.</summary>
/// <param name="NotReady">Why the car cannot go yet; empty where it can.</param>
/// <param name="BalanceMinor">What the customer owes, minor units; negative where the shop owes.</param>
/// <param name="DropOff">Null for a car that was entered half built.</param>
/// <param name="Photos">Walk-round and hand-over photos.</param>
/// <param name="HandOver">Null until the car is handed over.</param>
public sealed record HandOverSheet(
    JobId JobId,
    string JobNumber,
    JobState JobState,
    long JobVersion,
    CarView Car,
    IReadOnlyList<Warning> NotReady,
    long BalanceMinor,
    string Currency,
    DropOffView? DropOff,
    IReadOnlyList<PhotoView> Photos,
    HandOverView? HandOver
);

public sealed class GetHandOver(QueryRunner runner) : IUseCase
{
    public Task<Outcome<HandOverSheet>> RunAsync(JobId jobId, Actor actor, CancellationToken ct) =>
        runner.RunAsync<HandOverSheet>(
            Permission.BookIn,
            actor,
            async db =>
            {
                var job = await db.JobsWhole().SingleOrDefaultAsync(j => j.Id == jobId, ct);
                if (job is null)
                {
                    return Failure.Missing("job");
                }

                if (!(await CarHere.FindAsync(db, job, ct)).TryGet(out var car, out var failure))
                {
                    return failure;
                }

                var owner = await db.Set<Customer>().SingleAsync(c => c.Id == job.CustomerId, ct);
                var dropOff = await db.Set<DropOff>().SingleOrDefaultAsync(d => d.JobId == jobId, ct);
                var handOver = await db.Set<HandOver>().SingleOrDefaultAsync(h => h.JobId == jobId, ct);
                var photos = await WalkRoundPhotos.ToCompareAsync(db, jobId, ct);
                var obstacles = job.State == JobState.Open ? await Release.ObstaclesAsync(db, job, ct) : [];
                var balance = await JobBalance.ReadAsync(db, jobId, ct);
                return new HandOverSheet(
                    job.Id,
                    job.Number,
                    job.State,
                    job.Version,
                    CarView.Of(car, owner.Name),
                    [.. obstacles.Select(o => new Warning(o.Operation ?? o.Code, o.Text))],
                    balance.Minor,
                    balance.Currency.Code,
                    dropOff is null ? null : DropOffView.Of(dropOff),
                    photos,
                    handOver is null ? null : HandOverView.Of(handOver)
                );
            },
            ct
        );
}
