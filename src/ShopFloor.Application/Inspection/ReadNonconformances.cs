using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Routing;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Inspection;

/// <summary>One fault in the owner's list.</summary>
public sealed record FaultRow(JobId JobId, string JobNumber, string Car, NonconformanceView Fault);

/// <summary>How often a cause came up in a month.</summary>
/// <param name="Cause">Null where nobody said it.</param>
public sealed record CauseCount(FaultCause? Cause, int Count);

/// <summary>A calendar month of the shop's zone.</summary>
public sealed record FaultMonth(int Year, int Month, int Total, IReadOnlyList<CauseCount> Causes);

/// <param name="Items">Newest first; those that were mistyped readings stand in the list but are not counted.</param>
/// <param name="Months">Oldest first; months without a fault too.</param>
/// <param name="Totals">Over all months, most frequent first.</param>
public sealed record FaultReport(
    DateOnly From,
    DateOnly Until,
    IReadOnlyList<FaultRow> Items,
    IReadOnlyList<FaultMonth> Months,
    IReadOnlyList<CauseCount> Totals
);

/// <summary>Nonconformances over time, for the owner.</summary>
public sealed class ReadNonconformances(QueryRunner queries, TimeProvider clock) : IUseCase
{
    public const int MostMonths = 36;

    /// <param name="months">Calendar months back, this one included.</param>
    public Task<Outcome<FaultReport>> RunAsync(int months, Actor actor, CancellationToken ct) =>
        queries.RunAsync<FaultReport>(
            Permission.SeeFigures,
            actor,
            async db =>
            {
                if (months is < 1 or > MostMonths)
                {
                    return Failure.Field("months", $"The months are 1 to {MostMonths}.");
                }

                var shop = await db.Shops.SingleAsync(ct);
                var today = shop.LocalDay(clock.GetUtcNow());
                var from = new DateOnly(today.Year, today.Month, 1).AddMonths(1 - months);
                var since = shop.StartOf(from);
                var faults = await db.Set<Nonconformance>()
                    .AsNoTracking()
                    .Where(n => n.OpenedAt >= since)
                    .OrderByDescending(n => n.OpenedAt)
                    .ToListAsync(ct);
                var ids = faults.Select(f => f.JobId).Distinct().ToList();
                var jobs = await db.Set<Job>().Where(j => ids.Contains(j.Id)).ToListAsync(ct);
                var cars = await JobSubject.CarsAsync(db, jobs, ct);
                var people = faults
                    .SelectMany(f => new[] { f.OpenedBy, f.DecidedBy, f.ClosedBy })
                    .OfType<PersonId>()
                    .Select(p => p.Value)
                    .ToHashSet();
                var names = await db
                    .Users.Where(u => people.Contains(u.Id))
                    .ToDictionaryAsync(u => u.Id, u => u.DisplayName, ct);
                var real = faults.FindAll(f => !f.WasMistyped);
                return new FaultReport(
                    from,
                    today,
                    [
                        .. faults.Select(f =>
                        {
                            var job = jobs.Single(j => j.Id == f.JobId);
                            return new FaultRow(
                                job.Id,
                                job.Number,
                                JobSubject.Title(job, cars.GetValueOrDefault(job.Id)),
                                NonconformanceViews.Of(f, names)
                            );
                        }),
                    ],
                    [
                        .. Enumerable
                            .Range(0, months)
                            .Select(i => from.AddMonths(i))
                            .Select(m => Month(m, real.Where(f => IsIn(shop.LocalDay(f.OpenedAt), m)))),
                    ],
                    Counted(real)
                );
            },
            ct
        );

    private static bool IsIn(DateOnly day, DateOnly month) => day.Year == month.Year && day.Month == month.Month;

    private static FaultMonth Month(DateOnly first, IEnumerable<Nonconformance> faults)
    {
        var counts = Counted(faults);
        return new(first.Year, first.Month, counts.Sum(c => c.Count), counts);
    }

    private static List<CauseCount> Counted(IEnumerable<Nonconformance> faults) =>
        [
            .. faults
                .GroupBy(f => f.Cause)
                .Select(g => new CauseCount(g.Key, g.Count()))
                .OrderByDescending(c => c.Count)
                .ThenBy(c => c.Cause),
        ];
}
