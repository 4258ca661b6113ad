using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Quoting;
using ShopFloor.Application.Routing;
using ShopFloor.Data;
using ShopFloor.Domain.Changes;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Forecast;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Quoting;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Forecasting;

/// <summary>Jobs with what they were estimated to take, for looking ahead and for learning.</summary>
/// <param name="Hours">Expected hours by operation, approved changes included.</param>
/// <param name="Changed">Codes of operations whose hours an approved change altered: their logged time holds work that the quote's standards do not tell of.</param>
internal sealed record EstimatedJob(
    Job Job,
    PriceBook Book,
    IReadOnlyDictionary<string, decimal> Hours,
    IReadOnlySet<string> Changed
);

internal static class WorkHistory
{
    /// <summary>So many finished cars are looked back at, the newest.</summary>
    public const int MostCars = 200;

    /// <summary>Cars that were signed off, newest last.</summary>
    public static async Task<IReadOnlyList<EstimatedJob>> FinishedAsync(ShopDbContext db, CancellationToken ct)
    {
        var signed = await db.Set<SignOff>()
            .Where(s => s.WithdrawnAt == null)
            .OrderByDescending(s => s.SignedAt)
            .Take(MostCars)
            .Select(s => new { s.JobId, s.SignedAt })
            .ToListAsync(ct);
        var at = signed.DistinctBy(s => s.JobId).ToDictionary(s => s.JobId, s => s.SignedAt);
        var ids = at.Keys.ToList();
        var jobs = await db.JobsWhole().AsNoTracking().Where(j => ids.Contains(j.Id)).ToListAsync(ct);
        return await EstimatedAsync(db, [.. jobs.OrderBy(j => at[j.Id])], ct);
    }

    /// <summary>The same jobs, with their estimates.</summary>
    public static async Task<IReadOnlyList<EstimatedJob>> EstimatedAsync(
        ShopDbContext db,
        IReadOnlyList<Job> jobs,
        CancellationToken ct
    )
    {
        var (ids, quoteIds) = (jobs.Select(j => j.Id).ToList(), jobs.Select(j => j.QuoteId).ToList());
        var quotes = await db.Set<Quote>()
            .AsNoTracking()
            .Where(q => quoteIds.Contains(q.Id))
            .ToDictionaryAsync(q => q.Id, ct);
        var bookIds = quotes.Values.Select(q => q.PriceBookId).Distinct().ToList();
        var books = await db.Set<PriceBookEdition>()
            .AsNoTracking()
            .Where(b => bookIds.Contains(b.Id))
            .ToDictionaryAsync(b => b.Id, b => b.Book, ct);
        var changes = (
            await db.Set<ChangeOrder>()
                .AsNoTracking()
                .Where(c => ids.Contains(c.JobId) && c.State == ChangeState.Approved)
                .ToListAsync(ct)
        ).ToLookup(c => c.JobId);
        return
        [
            .. jobs.Select(j => new EstimatedJob(
                j,
                books[quotes[j.QuoteId].PriceBookId],
                Changes.ApprovedChanges.Hours(quotes[j.QuoteId], changes[j.Id]),
                changes[j.Id]
                    .SelectMany(c => c.Priced.Operations)
                    .Where(o => o.Hours != 0)
                    .Select(o => o.OperationCode)
                    .ToHashSet(StringComparer.Ordinal)
            )),
        ];
    }

    /// <summary>Stated log-spreads of a job's operations; empty where its book does not know the work any more: the usual one is then taken.</summary>
    public static IReadOnlyDictionary<string, double> Spreads(EstimatedJob job, IWorkContentSource work) =>
        WorkBreakdown
            .Of(job.Book, job.Job.Scope, work.For(job.Job.Scope))
            .Match(TaskSpread.ByOperation, _ => new Dictionary<string, double>());
}
