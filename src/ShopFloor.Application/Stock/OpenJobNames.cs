using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Routing;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Stock;

/// <summary>An open job to choose from.</summary>
public sealed record OpenJobName(JobId Id, string Number, string Car);

/// <summary>Names the jobs that stock can be taken for.</summary>
public sealed class OpenJobNames(QueryRunner queries) : IUseCase
{
    public const int Most = 200;

    public Task<Outcome<IReadOnlyList<OpenJobName>>> ListAsync(Actor actor, CancellationToken ct) =>
        queries.RunAsync<IReadOnlyList<OpenJobName>>(
            Permission.SeeStock,
            actor,
            async db =>
            {
                var jobs = await db.Set<Job>()
                    .Where(j => j.State == JobState.Open)
                    .OrderByDescending(j => j.Number)
                    .Take(Most)
                    .ToListAsync(ct);
                var cars = await JobSubject.CarsAsync(db, jobs, ct);
                return jobs.ConvertAll(j => new OpenJobName(
                    j.Id,
                    j.Number,
                    JobSubject.Title(j, cars.GetValueOrDefault(j.Id))
                ));
            },
            ct
        );
}
