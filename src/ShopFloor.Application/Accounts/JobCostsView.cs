using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Files;
using ShopFloor.Application.Routing;
using ShopFloor.Data;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;
using ShopFloor.Domain.Stock;

namespace ShopFloor.Application.Accounts;

/// <summary>A cost as shown.</summary>
public sealed record CostView(
    JobCostId Id,
    long Version,
    CostKind Kind,
    string Supplier,
    string? Description,
    long AmountMinor,
    long TaxMinor,
    DateOnly On,
    string? Reference,
    string? Operation,
    bool HasPaper,
    DateTimeOffset BookedAt,
    string? BookedBy,
    bool IsReversed,
    string? ReverseReason
);

/// <summary>A job's costs beside what is agreed with the customer.</summary>
/// <param name="AgreedNetMinor">Agreed with the customer, without tax.</param>
/// <param name="CostMinor">Booked costs without tax and without those taken back.</param>
/// <param name="StockMinor">What the job took from the store, at purchase cost.</param>
/// <param name="LabourMinor">The shop's own hours so far at cost, see <see cref="LabourAtCost"/>.</param>
/// <param name="MarginMinor">What is left of it after booked costs, stock and labour, for rent and profit.</param>
/// <param name="Labour">How the labour was worked out.</param>
/// <param name="LabourRemark">Names skills whose hours cost nothing because they have no rate; null where there are none.</param>
/// <param name="Operations">Codes and titles of the job's operations, for the form.</param>
public sealed record JobCostsView(
    JobId JobId,
    string Currency,
    long AgreedNetMinor,
    long CostMinor,
    long StockMinor,
    long LabourMinor,
    long LabourMinutes,
    long MarginMinor,
    Explanation Labour,
    string? LabourRemark,
    IReadOnlyList<CostView> Costs,
    IReadOnlyList<CostOperation> Operations
)
{
    internal static async Task<JobCostsView?> OfAsync(
        ShopDbContext db,
        JobId id,
        DateTimeOffset now,
        CancellationToken ct
    )
    {
        if (
            await JobAccounts.FindAsync(db, id, ct) is not { } account
            || await db.JobsWhole().AsNoTracking().SingleOrDefaultAsync(j => j.Id == id, ct) is not { } job
        )
        {
            return null;
        }

        var costs = await db.Set<JobCost>().AsNoTracking().Where(c => c.JobId == id).ToListAsync(ct);
        var people = costs.Select(c => c.BookedBy?.Value).OfType<Guid>().Distinct().ToList();
        var names = await db
            .Users.Where(u => people.Contains(u.Id))
            .ToDictionaryAsync(u => u.Id, u => u.DisplayName, ct);
        var agreed = account.Charges.Sum(c => c.Counted.TotalMinor - c.Counted.TaxMinor);
        var cost = costs.Where(c => c.Counts).Sum(c => c.AmountMinor);
        var stock = await db.Set<JobStock>().Where(u => u.JobId == id).SumAsync(u => u.ValueMinor, ct);
        var bookId = await db.Set<Quote>().Where(q => q.Id == job.QuoteId).Select(q => q.PriceBookId).SingleAsync(ct);
        var book = await db.Set<PriceBookEdition>().AsNoTracking().SingleAsync(b => b.Id == bookId, ct);
        var labour = LabourAtCost.Of(
            job.Operations.Select(o => new SkillMinutes(o.Skill, o.Minutes(now))),
            CostRates.Of(book.Book)
        );
        return new JobCostsView(
            id,
            account.Currency.Code,
            agreed,
            cost,
            stock,
            labour.Minor,
            labour.Minutes,
            agreed - cost - stock - labour.Minor,
            labour.Why,
            labour.Remark,
            [
                .. costs
                    .OrderBy(c => c.On)
                    .ThenBy(c => c.BookedAt)
                    .Select(c => new CostView(
                        c.Id,
                        c.Version,
                        c.Kind,
                        c.Supplier,
                        c.Description,
                        c.AmountMinor,
                        c.TaxMinor,
                        c.On,
                        c.Reference,
                        c.OperationCode,
                        c.PaperHash is not null,
                        c.BookedAt,
                        c.BookedBy is { } by ? names.GetValueOrDefault(by.Value) : null,
                        !c.Counts,
                        c.ReverseReason
                    )),
            ],
            [.. job.Operations.Select(o => new CostOperation(o.Code, o.Title))]
        );
    }
}

/// <summary>An operation that a cost can be booked to.</summary>
public sealed record CostOperation(string Code, string Title);

public sealed class ReadCosts(QueryRunner runner, IFileStore files, TimeProvider clock) : IUseCase
{
    /// <summary>A job's costs and margin.</summary>
    public Task<Outcome<JobCostsView>> RunAsync(JobId job, Actor actor, CancellationToken ct) =>
        runner.RunAsync<JobCostsView>(
            Permission.KeepCosts,
            actor,
            async db =>
                await JobCostsView.OfAsync(db, job, clock.GetUtcNow(), ct) is { } view
                    ? view
                    : Failure.Missing("job account"),
            ct
        );

    /// <summary>The bill that was put beside a cost.</summary>
    public async Task<Outcome<StoredFile>> PaperAsync(JobCostId id, Actor actor, CancellationToken ct)
    {
        var found = await runner.RunAsync<string>(
            Permission.KeepCosts,
            actor,
            async db =>
                await db.FindAsync<JobCost>([id], ct) is { PaperHash: { } hash } ? hash : Failure.Missing("bill"),
            ct
        );
        if (!found.TryGet(out var hash, out var failure))
        {
            return failure;
        }

        return await files.ReadAsync(hash, ct) is { } file ? file : Failure.Missing("bill");
    }
}
