using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Routing;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Forecast;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Forecasting;

/// <summary>Reads forecasts, and how good past ones were. Only the newest run counts: a car that it could say nothing of has no forecast, whatever an older one said.</summary>
public sealed class ReadForecasts(QueryRunner queries, TimeProvider clock) : IUseCase
{
    /// <summary>Past forecasts that are looked back at, the newest.</summary>
    private const int MostPast = 500;

    /// <summary>A forecast that is older is not told to a customer.</summary>
    private static readonly TimeSpan Fresh = TimeSpan.FromDays(1);

    /// <summary>The newest forecast of a job.</summary>
    public Task<Outcome<ForecastView>> OfJobAsync(JobId id, Actor actor, CancellationToken ct) =>
        queries.RunAsync<ForecastView>(
            Permission.SeeOffice,
            actor,
            async db =>
            {
                if (await db.Set<Job>().SingleOrDefaultAsync(j => j.Id == id, ct) is not { } job)
                {
                    return Failure.Missing("job");
                }

                var kept = await (await NewestAsync(db, ct)).SingleOrDefaultAsync(f => f.JobId == id, ct);
                return kept is null
                    ? new Failure.NotFound("The newest forecast says nothing of this job.")
                    : ForecastView.Of(kept, job.Number, JobSubject.Title(job, await JobSubject.CarAsync(db, job, ct)));
            },
            ct
        );

    public Task<Outcome<ForecastsView>> AllAsync(Actor actor, CancellationToken ct) =>
        queries.RunAsync<ForecastsView>(
            Permission.SeeOffice,
            actor,
            async db =>
            {
                var jobs = await db.Set<Job>().Where(j => j.State == JobState.Open).ToDictionaryAsync(j => j.Id, ct);
                var ids = jobs.Keys.ToList();
                var newest = await (await NewestAsync(db, ct)).Where(f => ids.Contains(f.JobId)).ToListAsync(ct);
                var cars = await JobSubject.CarsAsync(db, [.. jobs.Values], ct);
                var told = newest.Select(f => f.JobId).ToHashSet();
                var today = (await db.Shops.SingleAsync(ct)).LocalDay(clock.GetUtcNow());
                return new ForecastsView(
                    [
                        .. newest
                            .Select(f =>
                                ForecastView.Of(
                                    f,
                                    jobs[f.JobId].Number,
                                    JobSubject.Title(jobs[f.JobId], cars.GetValueOrDefault(f.JobId))
                                )
                            )
                            .OrderBy(f => f.P85 ?? DateOnly.MaxValue)
                            .ThenBy(f => f.Job, StringComparer.Ordinal),
                    ],
                    [
                        .. jobs
                            .Values.Where(j => !told.Contains(j.Id))
                            .Select(j => j.Number)
                            .Order(StringComparer.Ordinal),
                    ],
                    await CalibrationAsync(db, today, ct),
                    ForecastWords.TakenForGranted
                );
            },
            ct
        );

    /// <summary>What a customer may be told; null where nothing fresh can be said, or its day is over.</summary>
    internal static async Task<JobForecast?> ForCustomerAsync(
        ShopDbContext db,
        JobId job,
        DateOnly today,
        DateTimeOffset now,
        CancellationToken ct
    )
    {
        var kept = await (await NewestAsync(db, ct)).SingleOrDefaultAsync(f => f.JobId == job, ct);
        return kept is not null && now - kept.MadeAt < Fresh && kept.Said.P85 >= today ? kept.Said : null;
    }

    /// <summary>All that the newest run said.</summary>
    private static async Task<IQueryable<KeptForecast>> NewestAsync(ShopDbContext db, CancellationToken ct)
    {
        var last = await db.Set<KeptForecast>()
            .OrderByDescending(f => f.MadeAt)
            .Select(f => (DateTimeOffset?)f.MadeAt)
            .FirstOrDefaultAsync(ct);
        return db.Set<KeptForecast>().Where(f => f.MadeAt == last);
    }

    private static async Task<CalibrationView> CalibrationAsync(ShopDbContext db, DateOnly today, CancellationToken ct)
    {
        var shop = await db.Shops.SingleAsync(ct);
        var cancelled = db.Set<Job>().Where(j => j.State == JobState.Cancelled).Select(j => j.Id);
        var first = await db.Set<KeptForecast>()
            .Where(f =>
                f.On == db.Set<KeptForecast>().Where(o => o.JobId == f.JobId).Min(o => o.On)
                && !cancelled.Contains(f.JobId)
            )
            .OrderByDescending(f => f.MadeAt)
            .Take(MostPast)
            .ToListAsync(ct);
        var ids = first.ConvertAll(f => f.JobId);
        var signed = (
            await db.Set<SignOff>()
                .Where(s => s.WithdrawnAt == null && ids.Contains(s.JobId))
                .Select(s => new { s.JobId, s.SignedAt })
                .ToListAsync(ct)
        )
            .GroupBy(s => s.JobId)
            .ToDictionary(g => g.Key, g => shop.LocalDay(g.Max(s => s.SignedAt)));
        var calibration = Calibration.Of(
            first.Select(f => PastForecast.Of(f.Said, signed.TryGetValue(f.JobId, out var on) ? on : null)),
            today
        );
        return new CalibrationView(
            calibration.Cars,
            [
                KeptShareView.Of(calibration.P50),
                KeptShareView.Of(calibration.P85),
                KeptShareView.Of(calibration.OnPromise),
            ]
        );
    }
}
