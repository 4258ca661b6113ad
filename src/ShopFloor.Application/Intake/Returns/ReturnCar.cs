using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Accounts;
using ShopFloor.Application.Common;
using ShopFloor.Application.HotWork;
using ShopFloor.Application.Intake.HandOvers;
using ShopFloor.Application.Removed;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Intake.Returns;

/// <summary>The car of a cancelled job goes back. A finished car goes by <see cref="HandOverCar"/>; nothing it asks of the work is asked here.</summary>
public sealed class ReturnCar(CommandRunner runner) : IUseCase
{
    public Task<Outcome<CarReturnView>> RunAsync(
        JobId jobId,
        CarReturnInput request,
        Envelope envelope,
        CancellationToken ct
    ) =>
        runner.RunAsync(
            Permission.BookIn,
            envelope,
            new { jobId, request },
            async scope =>
            {
                var job = await scope.Db.Set<Job>().SingleOrDefaultAsync(j => j.Id == jobId, ct);
                if (job is null)
                {
                    return Failure.Missing("job");
                }

                if (await RefuseAsync(scope, job) is { } refused)
                {
                    return refused;
                }

                var balance = await JobBalance.ReadAsync(scope.Db, jobId, ct);
                if (!(await RecordAsync(scope, jobId, request, balance)).TryGet(out var carReturn, out var failure))
                {
                    return failure;
                }

                if (await JobBalance.RefuseAsync(scope.Db, jobId, balance, ct) is { } due)
                {
                    return due;
                }

                if (balance.Minor < 0 && !request.SettleLater)
                {
                    return Failure.Field(
                        "settleLater",
                        $"The shop owes the customer {new Money(-balance.Minor, balance.Currency)}. Give the refund first, or say that it is settled later."
                    );
                }

                var car = await scope.Db.Set<Car>().SingleAsync(c => c.Id == job.CarId, ct);
                car.ReadOdometer(carReturn.OdometerKm);
                scope.Db.Add(carReturn);
                scope.Db.Touch(job);
                scope.Record(
                    new EventDraft(
                        "car.returned",
                        "carReturn",
                        carReturn.Id.Value,
                        jobId,
                        After: new
                        {
                            carReturn.OdometerKm,
                            carReturn.WarningLights,
                            carReturn.FuelPercent,
                            carReturn.KeysReturned,
                            looks = carReturn.Looks.Count,
                            differences = carReturn.Looks.Count(l => !l.IsSame),
                            partsBack = carReturn.PartsBack.Where(p => p.IsBack).Select(p => p.PartId),
                            partsKept = carReturn.PartsBack.Where(p => !p.IsBack).Select(p => p.PartId),
                            removedPartsFitted = Count(carReturn, RemovedPartPlace.Fitted),
                            removedPartsInBox = Count(carReturn, RemovedPartPlace.InBox),
                            carReturn.NoticeHash,
                            signature = carReturn.Signature.Kind,
                            carReturn.BalanceMinor,
                        }
                    )
                );
                await scope.SaveAsync();
                return Outcome<CarReturnView>.Success(CarReturnView.Of(carReturn));
            },
            ct
        );

    private static async Task<Failure?> RefuseAsync(CommandScope scope, Job job)
    {
        if (CarHere.Refuse(job) is { } noCar)
        {
            return noCar;
        }

        if (job.State == JobState.Open)
        {
            return Failure.Because(
                "notCancelled",
                "This job is still open: finish the car and hand it over, or cancel the job first."
            );
        }

        if (job.State == JobState.Closed)
        {
            return Failure.Because("closed", "This car was handed over already.");
        }

        var before = await scope
            .Db.Set<CarReturn>()
            .Where(r => r.JobId == job.Id)
            .Select(r => (DateTimeOffset?)r.ReturnedAt)
            .SingleOrDefaultAsync(scope.Cancellation);
        if (before is { } at)
        {
            var day = (await scope.ShopAsync()).LocalDay(at);
            return Failure.Because("returned", $"This car went back already, on {day:yyyy-MM-dd}.");
        }

        return await ObstaclesAsync(scope.Db, job.Id, scope.Cancellation) is { Count: > 0 } obstacles
            ? new Failure.Refused(obstacles)
            : scope.Stale(job);
    }

    /// <summary>What keeps the car here: fire watches, and removed parts of which nobody has said what became of them.</summary>
    internal static async Task<IReadOnlyList<Reason>> ObstaclesAsync(
        ShopDbContext db,
        JobId job,
        CancellationToken ct
    ) => [.. await HotWorkLoading.ObstaclesAsync(db, job, ct), .. await PartsAccount.ObstaclesAsync(db, job, ct)];

    private static async Task<Outcome<CarReturn>> RecordAsync(
        CommandScope scope,
        JobId jobId,
        CarReturnInput request,
        Money balance
    )
    {
        var ct = scope.Cancellation;
        var photos = await WalkRoundPhotos.OfIntakeAsync(scope, jobId, request.Looks);
        if (
            !photos.TryGet(out var intakePhotos, out var failure)
            || !request.Details().TryGet(out var details, out failure)
        )
        {
            return failure;
        }

        var dropOff = await scope.Db.Set<DropOff>().AsNoTracking().SingleOrDefaultAsync(d => d.JobId == jobId, ct);
        var brought = await scope
            .Db.Set<CustomerPart>()
            .Where(p => p.JobId == jobId && p.State == CustomerPartState.Arrived)
            .Select(p => p.Id)
            .ToListAsync(ct);
        return CarReturn.Record(
            scope.NewId<CarReturnId>(),
            jobId,
            dropOff,
            intakePhotos,
            brought,
            details,
            balance,
            scope.Now
        );
    }

    private static int Count(CarReturn carReturn, RemovedPartPlace place) =>
        carReturn.RemovedParts.Count(p => p.Place == place);
}
