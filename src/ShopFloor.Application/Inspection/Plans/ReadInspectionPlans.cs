using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Routing;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Inspection.Plans;

/// <summary>Reads inspection plans: the list, a version, the difference between two, and what a changed document would do.</summary>
public sealed class ReadInspectionPlans(
    QueryRunner queries,
    InspectionLibrary library,
    RouteLibrary routes,
    InspectionPlanStore store,
    TimeProvider clock
) : IUseCase
{
    public Task<Outcome<IReadOnlyList<InspectionPlanRow>>> ListAsync(Actor actor, CancellationToken ct) =>
        queries.RunAsync<IReadOnlyList<InspectionPlanRow>>(
            Permission.SeeFloor,
            actor,
            async db =>
            {
                await library.RefreshAsync(db, ct);
                var jobs = await (
                    from i in db.Set<JobInspection>()
                    join j in db.Set<Job>() on i.JobId equals j.Id
                    where j.State == JobState.Open
                    select new { i.PlanCode, i.PlanVersion }
                ).ToListAsync(ct);
                return Outcome<IReadOnlyList<InspectionPlanRow>>.Success([
                    .. library
                        .Plans.OrderBy(p => p.Document.Title, StringComparer.Ordinal)
                        .Select(p => new InspectionPlanRow(
                            p.Code,
                            p.Document.Title,
                            p.Version,
                            p.Document.Kits,
                            p.Document.Lines.Count,
                            p.Document.Lines.Count(l => l.Point == InspectionPoint.Hold),
                            p.Document.Lines.Count(l => l.Point == InspectionPoint.Witness),
                            jobs.Count(j => j.PlanCode == p.Code),
                            jobs.Count(j => j.PlanCode == p.Code && j.PlanVersion < p.Version)
                        )),
                ]);
            },
            ct
        );

    /// <summary>One version; the newest where none is named.</summary>
    public Task<Outcome<InspectionPlanView>> OneAsync(string code, int? version, Actor actor, CancellationToken ct) =>
        queries.RunAsync<InspectionPlanView>(
            Permission.SeeFloor,
            actor,
            async db =>
            {
                if (await store.FindAsync(db, code, version, ct) is not { } plan)
                {
                    return Failure.Missing(version is null ? "inspection plan" : "version of that inspection plan");
                }

                await routes.RefreshAsync(db, ct);
                var newest = await store.FindAsync(db, code, null, ct);
                return new InspectionPlanView(
                    plan.Document,
                    newest!.Version,
                    CanonicalJson.Sha256(InspectionPlanVersion.Canonical(plan.Document)),
                    await VersionsAsync(db, code, ct),
                    store.OperationsOf(plan.Document)
                );
            },
            ct
        );

    /// <summary>The difference between two versions, in sentences.</summary>
    public Task<Outcome<IReadOnlyList<RouteChange>>> CompareAsync(
        string code,
        int from,
        int to,
        Actor actor,
        CancellationToken ct
    ) =>
        queries.RunAsync<IReadOnlyList<RouteChange>>(
            Permission.SeeFloor,
            actor,
            async db =>
                await store.FindAsync(db, code, from, ct) is { } older
                && await store.FindAsync(db, code, to, ct) is { } newer
                    ? Outcome<IReadOnlyList<RouteChange>>.Success(
                        InspectionPlanDifferences.Between(older.Document, newer.Document)
                    )
                    : Failure.Missing("version of that inspection plan"),
            ct
        );

    /// <summary>What stands in the way of saving a document and what it would change; changes nothing. Without a document, of the newest version.</summary>
    public Task<Outcome<InspectionPlanCheck>> CheckAsync(
        string code,
        InspectionPlanDocument? document,
        Actor actor,
        CancellationToken ct
    ) =>
        queries.RunAsync<InspectionPlanCheck>(
            Permission.DecideOnPlans,
            actor,
            async db =>
            {
                if (await store.FindAsync(db, code, null, ct) is not { } newest)
                {
                    return Failure.Missing("inspection plan");
                }

                var next = (document ?? newest.Document) with { Code = code, Version = newest.Version + 1 };
                var today = (await db.Shops.SingleAsync(ct)).LocalDay(clock.GetUtcNow());
                return new InspectionPlanCheck(
                    newest.Version,
                    next,
                    await store.ProblemsAsync(db, next, today, ct),
                    InspectionPlanDifferences.Between(newest.Document, next),
                    await store.ChoicesAsync(db, next, today, ct)
                );
            },
            ct
        );

    private static async Task<IReadOnlyList<InspectionPlanVersionRow>> VersionsAsync(
        ShopDbContext db,
        string code,
        CancellationToken ct
    )
    {
        var names = await db.Users.ToDictionaryAsync(u => u.Id, u => u.DisplayName, ct);
        var jobs = await db.Set<JobInspection>()
            .Where(i => i.PlanCode == code)
            .GroupBy(i => i.PlanVersion)
            .Select(g => new { g.Key, Count = g.Count() })
            .ToDictionaryAsync(g => g.Key, g => g.Count, ct);
        var stored = await db.Set<InspectionPlanVersion>()
            .Where(v => v.PlanCode == code)
            .OrderByDescending(v => v.Number)
            .Select(v => new
            {
                v.Number,
                v.SavedAt,
                v.SavedBy,
                v.Note,
            })
            .ToListAsync(ct);
        return
        [
            .. stored.Select(v => new InspectionPlanVersionRow(
                v.Number,
                v.SavedAt,
                v.SavedBy is { } by ? names.GetValueOrDefault(by.Value, "Somebody who has left") : null,
                v.Note,
                jobs.GetValueOrDefault(v.Number)
            )),
        ];
    }
}
