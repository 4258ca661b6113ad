using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Routing;

/// <summary>Which jobs a list shows.</summary>
/// <param name="State">open (also when absent), closed, cancelled or all.</param>
/// <param name="DueBy">Promised on or before this local day.</param>
/// <param name="Search">Anywhere in the job's number, the customer or the car.</param>
/// <param name="Car">Only jobs on this car.</param>
public sealed record JobFilter(string? State = null, DateOnly? DueBy = null, string? Search = null, CarId? Car = null);

/// <summary>Reads jobs: one whole, or a list with route strips.</summary>
public sealed class ReadJobs(QueryRunner queries, TimeProvider clock) : IUseCase
{
    private const int LongestWall = 60;

    public Task<Outcome<JobView>> OneAsync(JobId id, Actor actor, CancellationToken ct) =>
        queries.RunAsync<JobView>(
            Permission.SeeFloor,
            actor,
            async db =>
                await db.JobsWhole().SingleOrDefaultAsync(j => j.Id == id, ct) is { } job
                    ? await JobReader.ViewAsync(db, job, actor, clock.GetUtcNow(), ct)
                    : Failure.Missing("job"),
            ct
        );

    /// <summary>Ordered by promised day (those without one last), then by number.</summary>
    public Task<Outcome<Page<JobListItem>>> ListAsync(
        JobFilter filter,
        PageRequest page,
        Actor actor,
        CancellationToken ct
    ) =>
        queries.RunAsync<Page<JobListItem>>(
            Permission.SeeFloor,
            actor,
            async db =>
            {
                if (!Wanted(db, filter).TryGet(out var query, out var failure))
                {
                    return failure;
                }

                var total = await query.CountAsync(ct);
                var ids = await query
                    .OrderBy(j => j.PromisedOn == null)
                    .ThenBy(j => j.PromisedOn)
                    .ThenBy(j => j.Number)
                    .Skip((page.Number - 1) * page.Size)
                    .Take(page.Size)
                    .Select(j => j.Id)
                    .ToListAsync(ct);
                return new Page<JobListItem>(await ItemsAsync(db, ids, ct), page.Number, page.Size, total);
            },
            ct
        );

    /// <summary>Every open car for the wall; the longest promised first, at most 60.</summary>
    public async Task<Outcome<IReadOnlyList<JobListItem>>> WallAsync(Actor actor, CancellationToken ct) =>
        (await ListAsync(new JobFilter(), new PageRequest(1, LongestWall), actor, ct)).Then(p =>
            Outcome<IReadOnlyList<JobListItem>>.Success(p.Items)
        );

    private static Outcome<IQueryable<Job>> Wanted(ShopDbContext db, JobFilter filter)
    {
        IQueryable<Job> query = db.Set<Job>();
        JobState? state = filter.State switch
        {
            null or "" or "open" => JobState.Open,
            "closed" => JobState.Closed,
            "cancelled" => JobState.Cancelled,
            _ => null,
        };
        if (state is null && filter.State != "all")
        {
            return Failure.Field("state", "The state is open, closed, cancelled or all.");
        }

        if (state is { } wanted)
        {
            query = query.Where(j => j.State == wanted);
        }

        if (filter.Car is { } car)
        {
            query = query.Where(j => j.CarId == car);
        }

        if (filter.DueBy is { } day)
        {
            query = query.Where(j => j.PromisedOn <= day);
        }

        var term = TextRules.SearchForm(filter.Search);
        if (term.Length > TextRules.ShortText)
        {
            return Failure.Field("search", $"A search has at most {TextRules.ShortText} characters.");
        }

        if (term.Length > 0)
        {
            query = query.Where(j =>
                j.Number.Contains(term)
                || db.Set<Customer>().Any(c => c.Id == j.CustomerId && c.SearchText.Contains(term))
                || db.Set<Car>().Any(c => c.Id == j.CarId && c.SearchText.Contains(term))
            );
        }

        return Outcome<IQueryable<Job>>.Success(query);
    }

    private async Task<IReadOnlyList<JobListItem>> ItemsAsync(ShopDbContext db, List<JobId> ids, CancellationToken ct)
    {
        var now = clock.GetUtcNow();
        var shop = await db.Shops.SingleAsync(ct);
        var jobs = await db.JobsWhole().Where(j => ids.Contains(j.Id)).ToDictionaryAsync(j => j.Id, ct);
        var facts = await JobFacts.OfAsync(db, jobs.Values, shop, now, ct);
        var customerIds = jobs.Values.Select(j => j.CustomerId).ToList();
        var customers = await db.Set<Customer>()
            .Where(c => customerIds.Contains(c.Id))
            .ToDictionaryAsync(c => c.Id, c => c.Name, ct);
        var cars = await JobSubject.CarsAsync(db, jobs.Values, ct);
        return
        [
            .. ids.Select(id => jobs[id])
                .Select(job => new JobListItem(
                    job.Id,
                    job.Number,
                    job.State,
                    job.CustomerId,
                    customers[job.CustomerId],
                    job.CarId,
                    JobSubject.Title(job, cars.GetValueOrDefault(job.Id)),
                    cars.GetValueOrDefault(job.Id)?.Registration,
                    job.Scope.Kind,
                    job.Scope.RouteKey,
                    job.CurrentPhase.Title(),
                    job.PromisedOn,
                    JobReader.IsLate(job, shop.LocalDay(now)),
                    JobViews.WaitsFor(job, facts[job.Id]),
                    JobViews.Strip(job, facts[job.Id])
                )),
        ];
    }
}
