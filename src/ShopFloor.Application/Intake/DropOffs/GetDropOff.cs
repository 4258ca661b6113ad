using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Intake.Cars;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Intake.DropOffs;

/// <summary>What the drop-off page of a job needs: the car, the questions with what was assumed, and the record so far.</summary>
/// <param name="DropOff">Null until something was recorded.</param>
public sealed record DropOffSheet(
    JobId JobId,
    string JobNumber,
    JobState JobState,
    CarView Car,
    IReadOnlyList<AssumedAnswer> Questions,
    DropOffView? DropOff
);

public sealed class GetDropOff(QueryRunner runner) : IUseCase
{
    public Task<Outcome<DropOffSheet>> RunAsync(JobId jobId, Actor actor, CancellationToken ct) =>
        runner.RunAsync<DropOffSheet>(
            Permission.SeeFloor,
            actor,
            async db =>
            {
                var job = await db.Set<Job>().SingleOrDefaultAsync(j => j.Id == jobId, ct);
                if (job is null)
                {
                    return Failure.Missing("job");
                }

                if (!(await CarHere.FindAsync(db, job, ct)).TryGet(out var car, out var failure))
                {
                    return failure;
                }

                var owner = await db.Set<Customer>().SingleAsync(c => c.Id == job.CustomerId, ct);
                var (quote, book) = await ConditionComparison.LoadAsync(db, job, ct);
                var dropOff = await db.Set<DropOff>().SingleOrDefaultAsync(d => d.JobId == jobId, ct);
                return new DropOffSheet(
                    job.Id,
                    job.Number,
                    job.State,
                    CarView.Of(car, owner.Name),
                    ConditionComparison.Assumed(quote, book),
                    dropOff is null ? null : DropOffView.Of(dropOff)
                );
            },
            ct
        );
}
