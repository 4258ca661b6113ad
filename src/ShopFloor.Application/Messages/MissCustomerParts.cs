using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Routing;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Messages;

/// <summary>Notices which parts of customers the shop waits for now, once for each; the event tells the customer.</summary>
public sealed class MissCustomerParts(
    CommandRunner runner,
    IDbContextFactory<ShopDbContext> contexts,
    TimeProvider clock
) : IUseCase
{
    internal const string Missed = "customerPart.missed";

    /// <summary>Looks at every part that is awaited and was not missed before; how many are missed from now on. Several servers may do so: the part's version lets one of them write.</summary>
    public async Task<int> RunOnceAsync(CancellationToken ct)
    {
        var missed = 0;
        foreach (var (job, part) in await CandidatesAsync(ct))
        {
            var outcome = await runner.RunAsync<bool>(
                Permission.RunShop,
                Envelope.Of(Actor.System),
                null,
                async scope => await MissAsync(scope, job, part),
                ct
            );
            missed += outcome is { IsSuccess: true, Value: true } ? 1 : 0;
        }

        return missed;
    }

    /// <summary>Without a transaction: mostly there is nothing to write.</summary>
    private async Task<List<(JobId Job, CustomerPartId Part)>> CandidatesAsync(CancellationToken ct)
    {
        var now = clock.GetUtcNow();
        await using var db = await contexts.CreateDbContextAsync(ct);
        if (await db.Shops.AsNoTracking().SingleOrDefaultAsync(ct) is not { } shop)
        {
            return [];
        }

        var today = shop.LocalDay(now);
        var open = db.Set<Job>().Where(j => j.State == JobState.Open).Select(j => j.Id);
        var parts = await db.Set<CustomerPart>()
            .AsNoTracking()
            .Where(p => p.State == CustomerPartState.Awaited && p.MissedAt == null && open.Contains(p.JobId))
            .ToListAsync(ct);
        var coded = parts.Where(p => p.Code is not null && !p.IsLate(today)).Select(p => p.JobId).Distinct().ToList();
        var jobs = await db.JobsWhole().AsNoTracking().Where(j => coded.Contains(j.Id)).ToListAsync(ct);
        var facts = await JobFacts.OfAsync(db, jobs, shop, now, ct);
        return
        [
            .. parts
                .Where(p =>
                    p.IsLate(today)
                    || jobs.Find(j => j.Id == p.JobId) is { } job && job.StandsStillFor(p.Code!, facts[job.Id])
                )
                .Select(p => (p.JobId, p.Id)),
        ];
    }

    private static async Task<Outcome<bool>> MissAsync(CommandScope scope, JobId id, CustomerPartId partId)
    {
        var ct = scope.Cancellation;
        var job = await scope.Db.JobsWhole().SingleAsync(j => j.Id == id, ct);
        var part = await scope.Db.Set<CustomerPart>().SingleAsync(p => p.Id == partId, ct);
        var shop = await scope.ShopAsync();
        var facts = await JobFacts.OfAsync(scope.Db, job, shop, scope.Now, ct);
        var isStandingStill = part.Code is { } code && job.StandsStillFor(code, facts);
        if (job.State != JobState.Open || !part.Miss(isStandingStill, shop.LocalDay(scope.Now), scope.Now))
        {
            return false;
        }

        scope.Record(
            new EventDraft(
                Missed,
                "customerPart",
                part.Id.Value,
                id,
                After: new { dueOn = part.DueOn, isStandingStill }
            )
        );
        return true;
    }
}
