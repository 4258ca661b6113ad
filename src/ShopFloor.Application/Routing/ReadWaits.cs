using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Routing;

/// <summary>One thing the shop waits for.</summary>
/// <param name="IsOverdue">Its due day has passed.</param>
/// <param name="Days">Whole days since it is waited for.</param>
public sealed record WaitView(
    JobId JobId,
    string Number,
    string Car,
    string Customer,
    string Kind,
    string Whom,
    string Text,
    IReadOnlyList<string> Operations,
    DateTimeOffset Since,
    int Days,
    DateOnly? DueOn,
    bool IsOverdue,
    DateOnly? PromisedOn
);

/// <summary>Everything that open jobs wait for: from whom, since when, the longest first.</summary>
public sealed class ReadWaits(QueryRunner queries, TimeProvider clock) : IUseCase
{
    /// <summary>Most open jobs looked at, those promised first.</summary>
    public const int MostJobs = 500;

    public Task<Outcome<Page<WaitView>>> RunAsync(PageRequest page, Actor actor, CancellationToken ct) =>
        queries.RunAsync<Page<WaitView>>(
            Permission.SeeOffice,
            actor,
            async db =>
            {
                var now = clock.GetUtcNow();
                var shop = await db.Shops.SingleAsync(ct);
                var jobs = await db.JobsWhole()
                    .Where(j => j.State == JobState.Open)
                    .OrderBy(j => j.PromisedOn == null)
                    .ThenBy(j => j.PromisedOn)
                    .ThenBy(j => j.Id)
                    .Take(MostJobs)
                    .ToListAsync(ct);
                var facts = await JobFacts.OfAsync(db, jobs, shop, now, ct);
                var cars = await JobSubject.CarsAsync(db, jobs, ct);
                var ids = jobs.Select(j => j.CustomerId).ToList();
                var customers = await db.Set<Customer>()
                    .Where(c => ids.Contains(c.Id))
                    .ToDictionaryAsync(c => c.Id, c => c.Name, ct);
                var today = shop.LocalDay(now);
                var all = jobs.SelectMany(job =>
                        JobWaits
                            .Of(job, facts[job.Id])
                            .Select(w => new WaitView(
                                job.Id,
                                job.Number,
                                JobSubject.Title(job, cars.GetValueOrDefault(job.Id)),
                                customers[job.CustomerId],
                                w.Kind,
                                w.Whom,
                                w.Text,
                                w.Operations,
                                w.Since,
                                Math.Max(0, (int)(now - w.Since).TotalDays),
                                w.DueOn,
                                w.DueOn < today,
                                job.PromisedOn
                            ))
                    )
                    .OrderBy(w => w.Since)
                    .ThenBy(w => w.Number, StringComparer.Ordinal)
                    .ToList();
                return new Page<WaitView>(
                    [.. all.Skip((page.Number - 1) * page.Size).Take(page.Size)],
                    page.Number,
                    page.Size,
                    all.Count
                );
            },
            ct
        );
}
