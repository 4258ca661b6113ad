using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Intake.Cars;
using ShopFloor.Application.Intake.DropOffs;
using ShopFloor.Application.Intake.HandOvers;
using ShopFloor.Application.Intake.Parts;
using ShopFloor.Application.Intake.Photos;
using ShopFloor.Application.Routing;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Intake.Returns;

/// <summary>What the page needs on which the car of a cancelled job goes back.</summary>
/// <param name="WorkBegun">What was begun or done on the car: it says where metal may be cut or open.</param>
/// <param name="BalanceMinor">What the customer owes, minor units; negative where the shop owes.</param>
/// <param name="DropOff">Null where none was recorded.</param>
/// <param name="Photos">Walk-round and hand-over photos.</param>
/// <param name="Parts">Parts that the customer brought.</param>
/// <param name="Notice">What whoever collects reads before signing.</param>
/// <param name="Obstacles">What keeps the car here, a sentence each.</param>
/// <param name="Return">Null until the car is back with its owner.</param>
public sealed record CarReturnSheet(
    JobId JobId,
    string JobNumber,
    JobState JobState,
    long JobVersion,
    string? CancelReason,
    CarView Car,
    IReadOnlyList<WorkSoFar> WorkBegun,
    long BalanceMinor,
    string Currency,
    DropOffView? DropOff,
    IReadOnlyList<PhotoView> Photos,
    IReadOnlyList<CustomerPartView> Parts,
    ReturnNotice Notice,
    CarReturnView? Return,
    IReadOnlyList<Reason> Obstacles
);

/// <summary>An operation that was begun.</summary>
public sealed record WorkSoFar(string Code, string Title, bool IsDone);

public sealed class GetCarReturn(QueryRunner runner, TimeProvider clock) : IUseCase
{
    public Task<Outcome<CarReturnSheet>> RunAsync(JobId jobId, Actor actor, CancellationToken ct) =>
        runner.RunAsync<CarReturnSheet>(
            Permission.BookIn,
            actor,
            async db =>
            {
                var job = await db.JobsWhole().SingleOrDefaultAsync(j => j.Id == jobId, ct);
                if (job is null)
                {
                    return Failure.Missing("job");
                }

                var today = (await db.Shops.SingleAsync(ct)).LocalDay(clock.GetUtcNow());
                if (!(await CarHere.FindAsync(db, job, ct)).TryGet(out var car, out var failure))
                {
                    return failure;
                }

                var owner = await db.Set<Customer>().SingleAsync(c => c.Id == job.CustomerId, ct);
                var dropOff = await db.Set<DropOff>().SingleOrDefaultAsync(d => d.JobId == jobId, ct);
                var carReturn = await db.Set<CarReturn>().SingleOrDefaultAsync(r => r.JobId == jobId, ct);
                var photos = await WalkRoundPhotos.ToCompareAsync(db, jobId, ct);
                var parts = await db.Set<CustomerPart>()
                    .Where(p => p.JobId == jobId && p.State == CustomerPartState.Arrived)
                    .OrderBy(p => p.ArrivedAt)
                    .ToListAsync(ct);
                var balance = await JobBalance.ReadAsync(db, jobId, ct);
                return new CarReturnSheet(
                    job.Id,
                    job.Number,
                    job.State,
                    job.Version,
                    job.CancelReason,
                    CarView.Of(car, owner.Name),
                    [
                        .. job
                            .Operations.Where(o => o.BegunAt is not null)
                            .Select(o => new WorkSoFar(o.Code, o.Title, o.Progress == OperationProgress.Done)),
                    ],
                    balance.Minor,
                    balance.Currency.Code,
                    dropOff is null ? null : DropOffView.Of(dropOff),
                    photos,
                    [.. parts.Select(p => CustomerPartView.Of(p, today))],
                    ReturnNotice.Current,
                    carReturn is null ? null : CarReturnView.Of(carReturn),
                    carReturn is null && job.State == JobState.Cancelled
                        ? await ReturnCar.ObstaclesAsync(db, jobId, ct)
                        : []
                );
            },
            ct
        );
}
