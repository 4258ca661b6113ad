using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Quoting;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Intake.DropOffs;

/// <summary>Says what a condition as found would change in price and hours, before anything is recorded or taken out.</summary>
public sealed class CompareCondition(QueryRunner runner, QuotePricer pricer) : IUseCase
{
    /// <summary>The answers as found; what is left out counts as assumed.</summary>
    public sealed record Request(IReadOnlyDictionary<string, string?>? ConditionFound = null);

    public Task<Outcome<DifferenceView>> RunAsync(JobId jobId, Request request, Actor actor, CancellationToken ct) =>
        runner.RunAsync<DifferenceView>(
            Permission.SeeMoney,
            actor,
            async db =>
            {
                var job = await db.Set<Job>().SingleOrDefaultAsync(j => j.Id == jobId, ct);
                if (job is null)
                {
                    return Failure.Missing("job");
                }

                var (quote, book) = await ConditionComparison.LoadAsync(db, job, ct);
                var errors = new FieldErrors();
                ConditionComparison.Check(book, request.ConditionFound, "conditionFound", errors);
                return errors.Any
                    ? errors.ToFailure()
                    : await ConditionComparison.CompareAsync(pricer, db, quote, Known(request.ConditionFound), ct);
            },
            ct
        );

    private static Dictionary<string, string> Known(IReadOnlyDictionary<string, string?>? found) =>
        (found ?? new Dictionary<string, string?>())
            .Where(p => p.Value is not null)
            .ToDictionary(p => p.Key, p => p.Value!, StringComparer.Ordinal);
}
