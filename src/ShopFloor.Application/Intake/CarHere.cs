using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Intake;

/// <summary>The car that is in the shop for a job.</summary>
internal static class CarHere
{
    /// <summary>The refusal where a job is for goods or a part: no car is dropped off or handed over. Null where one is.</summary>
    public static Failure? Refuse(Job job) =>
        job.HasCarHere
            ? null
            : Failure.Because(
                "noCar",
                $"{job.Number} is for a {job.Scope.Kind.Thing()}, not for a car in the shop. Record how the {job.Scope.Kind.Thing()} goes out instead."
            );

    /// <summary>The car, or <see cref="Refuse"/>.</summary>
    public static async Task<Outcome<Car>> FindAsync(ShopDbContext db, Job job, CancellationToken ct) =>
        Refuse(job) is { } refused ? refused : await db.Set<Car>().SingleAsync(c => c.Id == job.CarId, ct);
}
