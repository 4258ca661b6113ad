using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Routing;

/// <summary>What jobs are about: a car, or what is sold without one.</summary>
internal static class JobSubject
{
    /// <summary>Year, make and model; for goods and parts what is sold, with the car it is for where that is known.</summary>
    public static string Title(Job job, Car? car) => TitleOf(job.Scope, car);

    public static string TitleOf(JobScope scope, Car? car) =>
        car is null ? scope.Kind.Title()
        : scope.Kind.HasCarHere() ? car.Title
        : $"{scope.Kind.Title()} for {car.Title}";

    /// <summary>The job's car; null where it is for goods or a part without one.</summary>
    public static async Task<Car?> CarAsync(ShopDbContext db, Job job, CancellationToken ct) =>
        job.CarId is { } id ? await db.Set<Car>().AsNoTracking().SingleAsync(c => c.Id == id, ct) : null;

    /// <summary>The car of each job that has one.</summary>
    public static async Task<IReadOnlyDictionary<JobId, Car>> CarsAsync(
        ShopDbContext db,
        IReadOnlyCollection<Job> jobs,
        CancellationToken ct
    )
    {
        var ids = jobs.Select(j => j.CarId).OfType<CarId>().Distinct().ToList();
        var cars = await db.Set<Car>().AsNoTracking().Where(c => ids.Contains(c.Id)).ToDictionaryAsync(c => c.Id, ct);
        return jobs.Where(j => j.CarId is not null).ToDictionary(j => j.Id, j => cars[j.CarId!.Value]);
    }
}
