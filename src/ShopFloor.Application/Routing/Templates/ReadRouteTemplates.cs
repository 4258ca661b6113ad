using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Routing;

/// <summary>Reads route templates: the list, an edition, the draft, the difference between two editions.</summary>
public sealed class ReadRouteTemplates(
    QueryRunner queries,
    RouteLibrary library,
    RouteTemplateStore store,
    TimeProvider clock
) : IUseCase
{
    public Task<Outcome<IReadOnlyList<RouteTemplateRow>>> ListAsync(Actor actor, CancellationToken ct) =>
        queries.RunAsync<IReadOnlyList<RouteTemplateRow>>(
            Permission.SeeFloor,
            actor,
            async db =>
            {
                await library.RefreshAsync(db, ct);
                var drafts = await db.Set<RouteEdition>()
                    .Where(e => e.State == RouteEditionState.Draft)
                    .Select(e => new { e.TemplateCode, e.Edition })
                    .ToDictionaryAsync(e => e.TemplateCode, e => e.Edition, ct);
                var jobs = await db.Set<Job>()
                    .Where(j => j.State == JobState.Open)
                    .GroupBy(j => j.TemplateCode)
                    .Select(g => new { g.Key, Count = g.Count() })
                    .ToDictionaryAsync(g => g.Key, g => g.Count, ct);
                return Outcome<IReadOnlyList<RouteTemplateRow>>.Success([
                    .. library
                        .Templates.OrderBy(t => t.Title, StringComparer.Ordinal)
                        .Select(t => new RouteTemplateRow(
                            t.Code,
                            t.Title,
                            t.Edition,
                            t.Operations.Count,
                            t.Kits,
                            drafts.TryGetValue(t.Code, out var draft) ? draft : null,
                            jobs.GetValueOrDefault(t.Code)
                        )),
                ]);
            },
            ct
        );

    /// <summary>One edition in force; the newest where none is named.</summary>
    public Task<Outcome<RouteTemplateView>> OneAsync(string code, int? edition, Actor actor, CancellationToken ct) =>
        queries.RunAsync<RouteTemplateView>(
            Permission.SeeFloor,
            actor,
            async db =>
            {
                if (await store.InForceAsync(db, code, edition, ct) is not { } template)
                {
                    return Failure.Missing(edition is null ? "route template" : "edition of that route template");
                }

                var editions = await EditionsAsync(db, code, ct);
                var row = editions.FirstOrDefault(e => e.Edition == template.Edition);
                return new RouteTemplateView(
                    template,
                    editions.FirstOrDefault(e => e.State == "inForce")?.Edition == template.Edition || row is null
                        ? "inForce"
                        : "past",
                    row?.At ?? default,
                    row?.ByName,
                    editions,
                    store.LinesOf(template),
                    SequenceCheck.Run(RouteTemplateCheck.PlanOf(template.Ways, template.Operations)).Order
                );
            },
            ct
        );

    /// <summary>The route that a job of this scope would get now.</summary>
    public Task<Outcome<BuiltRoute>> RouteOfAsync(JobScope scope, Actor actor, CancellationToken ct) =>
        queries.RunAsync<BuiltRoute>(
            Permission.SeeFloor,
            actor,
            async db =>
            {
                await library.RefreshAsync(db, ct);
                return library.RouteOf(scope) is { } route ? route : Failure.Missing($"route for {scope.RouteKey}");
            },
            ct
        );

    public Task<Outcome<RouteDraftView>> DraftAsync(string code, Actor actor, CancellationToken ct) =>
        queries.RunAsync<RouteDraftView>(
            Permission.DecideOnRoutes,
            actor,
            async db =>
                await RouteTemplateStore.DraftAsync(db, code, ct) is { } draft
                    ? await ViewAsync(db, draft, clock.GetUtcNow(), ct)
                    : NoDraft(),
            ct
        );

    /// <summary>Says what a document would change in the draft; changes nothing.</summary>
    public Task<Outcome<RouteImportPreview>> PreviewAsync(
        string code,
        string document,
        Actor actor,
        CancellationToken ct
    ) =>
        queries.RunAsync<RouteImportPreview>(
            Permission.DecideOnRoutes,
            actor,
            async db =>
            {
                if (await RouteTemplateStore.DraftAsync(db, code, ct) is not { } draft)
                {
                    return NoDraft();
                }

                if (!RouteTemplateJson.Parse(document).TryGet(out var template, out var failure))
                {
                    return failure;
                }

                var taken = template with { Code = code, Edition = draft.Edition };
                var today = (await db.Shops.SingleAsync(ct)).LocalDay(clock.GetUtcNow());
                return new RouteImportPreview(
                    draft.Version,
                    RouteDifferences.Between(draft.Template, taken),
                    await store.ProblemsAsync(db, taken, today, ct)
                );
            },
            ct
        );

    /// <summary>The difference between two editions in force, in sentences.</summary>
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
                await store.InForceAsync(db, code, from, ct) is { } older
                && await store.InForceAsync(db, code, to, ct) is { } newer
                    ? Outcome<IReadOnlyList<RouteChange>>.Success(RouteDifferences.Between(older, newer))
                    : Failure.Missing("edition of that route template"),
            ct
        );

    internal static Failure NoDraft() =>
        new Failure.NotFound("There is no draft of this route. Begin one from the edition in force.");

    internal async Task<RouteDraftView> ViewAsync(
        ShopDbContext db,
        RouteEdition draft,
        DateTimeOffset now,
        CancellationToken ct
    )
    {
        var today = (await db.Shops.SingleAsync(ct)).LocalDay(now);
        var names = await db.Users.ToDictionaryAsync(u => u.Id, u => u.DisplayName, ct);
        var before = await store.InForceAsync(db, draft.TemplateCode, draft.FromEdition, ct);
        return new RouteDraftView(
            draft.Version,
            draft.FromEdition ?? 0,
            draft.BegunAt,
            NameOf(draft.BegunBy, names),
            draft.ChangedAt,
            NameOf(draft.ChangedBy, names),
            draft.Template,
            await store.ProblemsAsync(db, draft.Template, today, ct),
            before is null ? [] : RouteDifferences.Between(before with { Edition = draft.Edition }, draft.Template),
            store.LinesOf(draft.Template),
            await RouteTemplateStore.ChoicesAsync(db, draft.Template, today, ct)
        );
    }

    private static async Task<IReadOnlyList<RouteEditionRow>> EditionsAsync(
        ShopDbContext db,
        string code,
        CancellationToken ct
    )
    {
        var names = await db.Users.ToDictionaryAsync(u => u.Id, u => u.DisplayName, ct);
        var jobs = await db.Set<Job>()
            .Where(j => j.TemplateCode == code)
            .GroupBy(j => j.TemplateEdition)
            .Select(g => new { g.Key, Count = g.Count() })
            .ToDictionaryAsync(g => g.Key, g => g.Count, ct);
        var stored = await db.Set<RouteEdition>()
            .Where(e => e.TemplateCode == code)
            .OrderByDescending(e => e.Edition)
            .Select(e => new
            {
                e.Edition,
                e.State,
                e.AdoptedAt,
                e.AdoptedBy,
                e.BegunAt,
                e.BegunBy,
            })
            .ToListAsync(ct);
        var newest = stored.Find(e => e.State == RouteEditionState.InForce)?.Edition;
        return
        [
            .. stored.Select(e => new RouteEditionRow(
                e.Edition,
                e.State == RouteEditionState.Draft ? "draft"
                    : e.Edition == newest ? "inForce"
                    : "past",
                e.AdoptedAt ?? e.BegunAt,
                NameOf(e.State == RouteEditionState.Draft ? e.BegunBy : e.AdoptedBy, names),
                jobs.GetValueOrDefault(e.Edition)
            )),
        ];
    }

    private static string? NameOf(PersonId? person, Dictionary<Guid, string> names) =>
        person is { } id ? names.GetValueOrDefault(id.Value, "Somebody who has left") : null;
}
