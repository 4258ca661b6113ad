using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Files;
using ShopFloor.Application.Routing;
using ShopFloor.Data;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;

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
/// <param name="MarginMinor">What is left of it for the shop's own work, rent and profit; own hours are not taken off.</param>
/// <param name="Operations">Codes and titles of the job's operations, for the form.</param>
public sealed record JobCostsView(
    JobId JobId,
    string Currency,
    long AgreedNetMinor,
    long CostMinor,
    long MarginMinor,
    IReadOnlyList<CostView> Costs,
    IReadOnlyList<CostOperation> Operations
)
{
    internal static async Task<JobCostsView?> OfAsync(ShopDbContext db, JobId id, CancellationToken ct)
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
        return new JobCostsView(
            id,
            account.Currency.Code,
            agreed,
            cost,
            agreed - cost,
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

public sealed class ReadCosts(QueryRunner runner, IFileStore files) : IUseCase
{
    /// <summary>A job's costs and margin.</summary>
    public Task<Outcome<JobCostsView>> RunAsync(JobId job, Actor actor, CancellationToken ct) =>
        runner.RunAsync<JobCostsView>(
            Permission.KeepCosts,
            actor,
            async db => await JobCostsView.OfAsync(db, job, ct) is { } view ? view : Failure.Missing("job account"),
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
