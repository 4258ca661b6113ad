using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Routing;

/// <summary>The owner's work on a route template: begin a draft, save it, throw it away, put it in force.</summary>
public sealed class ChangeRouteTemplates(CommandRunner runner, ReadRouteTemplates read, RouteTemplateStore store)
    : IUseCase
{
    /// <param name="FromEdition">Null for the edition in force.</param>
    public sealed record BeginRequest(int? FromEdition = null);

    public Task<Outcome<RouteDraftView>> BeginAsync(
        string code,
        BeginRequest request,
        Envelope envelope,
        CancellationToken ct
    ) =>
        runner.RunAsync<RouteDraftView>(
            Permission.DecideOnRoutes,
            envelope,
            new { code, request },
            async scope =>
            {
                if (await RouteTemplateStore.DraftAsync(scope.Db, code, ct) is not null)
                {
                    return Failure.Because(
                        "draftExists",
                        "There is a draft of this route already. Go on with it, put it in force or discard it."
                    );
                }

                if (await store.InForceAsync(scope.Db, code, request.FromEdition, ct) is not { } template)
                {
                    return Failure.Missing(request.FromEdition is null ? "route template" : "edition");
                }

                var last = await scope
                    .Db.Set<RouteEdition>()
                    .Where(e => e.TemplateCode == code)
                    .Select(e => (int?)e.Edition)
                    .MaxAsync(ct);
                if (last is null)
                {
                    // A shop that did without the starter data, or a template of a later program: the draft's origin is kept with it.
                    scope.Db.Add(RouteEdition.Shipped(scope.NewId<RouteEditionId>(), template, scope.Now));
                    last = template.Edition;
                }

                var draft = RouteEdition.Begin(
                    scope.NewId<RouteEditionId>(),
                    template,
                    last.Value + 1,
                    scope.Now,
                    scope.Actor.Person
                );
                scope.Db.Add(draft);
                scope.Record(RouteTemplateStore.Event("routeTemplate.draftBegun", draft));
                await scope.SaveAsync();
                return await read.ViewAsync(scope.Db, draft, scope.Now, ct);
            },
            ct
        );

    /// <summary>Saves the draft as it was changed, finished or not.</summary>
    public Task<Outcome<RouteDraftView>> SaveAsync(
        string code,
        RouteTemplate template,
        Envelope envelope,
        CancellationToken ct
    ) =>
        WithDraftAsync<RouteDraftView>(
            code,
            new { code, template },
            envelope,
            async (scope, draft) =>
            {
                var before = draft.Template;
                if (draft.Change(template, scope.Now, scope.Actor.Person).Failure is { } failure)
                {
                    return failure;
                }

                scope.Record(
                    RouteTemplateStore.Event(
                        "routeTemplate.draftChanged",
                        draft,
                        new { operations = before.Operations.Select(o => o.Code) }
                    )
                );
                await scope.SaveAsync();
                return await read.ViewAsync(scope.Db, draft, scope.Now, ct);
            },
            ct
        );

    /// <summary>Takes a document into the draft.</summary>
    public Task<Outcome<RouteDraftView>> ImportAsync(
        string code,
        string document,
        Envelope envelope,
        CancellationToken ct
    ) =>
        RouteTemplateJson.Parse(document).TryGet(out var template, out var failure)
            ? SaveAsync(code, template, envelope, ct)
            : Task.FromResult<Outcome<RouteDraftView>>(failure);

    public Task<Outcome<Done>> DiscardAsync(string code, Envelope envelope, CancellationToken ct) =>
        WithDraftAsync<Done>(
            code,
            new { code },
            envelope,
            (scope, draft) =>
            {
                scope.Db.Remove(draft);
                scope.Record(RouteTemplateStore.Event("routeTemplate.draftDiscarded", draft));
                return Task.FromResult(Outcome.Ok);
            },
            ct
        );

    /// <summary>Puts the draft in force: new jobs use it, running jobs keep theirs.</summary>
    public Task<Outcome<RouteTemplate>> PutInForceAsync(string code, Envelope envelope, CancellationToken ct) =>
        WithDraftAsync<RouteTemplate>(
            code,
            new { code, put = true },
            envelope,
            async (scope, draft) =>
            {
                var today = (await scope.ShopAsync()).LocalDay(scope.Now);
                var problems = await store.ProblemsAsync(scope.Db, draft.Template, today, ct);
                if (draft.PutInForce(problems, scope.Now, scope.Actor.Person).Failure is { } failure)
                {
                    return failure;
                }

                scope.Record(
                    RouteTemplateStore.Event("routeTemplate.putInForce", draft, new { edition = draft.FromEdition })
                );
                await scope.SaveAsync();
                return draft.Template;
            },
            ct
        );

    private Task<Outcome<T>> WithDraftAsync<T>(
        string code,
        object content,
        Envelope envelope,
        Func<CommandScope, RouteEdition, Task<Outcome<T>>> act,
        CancellationToken ct
    ) =>
        runner.RunAsync<T>(
            Permission.DecideOnRoutes,
            envelope,
            content,
            async scope =>
                await RouteTemplateStore.DraftAsync(scope.Db, code, ct) is not { } draft ? ReadRouteTemplates.NoDraft()
                : scope.Stale(draft) is { } stale ? stale
                : await act(scope, draft),
            ct
        );
}
