using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Inspection;
using ShopFloor.Application.Inspection.Plans;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Routing;

/// <summary>Looks at what a running job's move to another edition of its route would do; changes nothing.</summary>
public sealed class PreviewRouteMove(QueryRunner queries, RouteTemplateStore store) : IUseCase
{
    /// <param name="edition">Null for the edition in force.</param>
    public Task<Outcome<RouteMove>> RunAsync(JobId id, int? edition, Actor actor, CancellationToken ct) =>
        queries.RunAsync<RouteMove>(
            Permission.DecideOnRoutes,
            actor,
            async db =>
                await db.JobsWhole().SingleOrDefaultAsync(j => j.Id == id, ct) is not { } job ? Failure.Missing("job")
                : await store.InForceAsync(db, job.TemplateCode, edition, ct) is { } template
                    ? job.PreviewMove(RouteBuilder.Build(template, job.Scope))
                : Failure.Missing("edition of this job's route"),
            ct
        );
}

/// <summary>Moves a running job to another edition of its route: done work is kept, new operations get their inspection lines.</summary>
public sealed class MoveJobRoute(
    JobChange change,
    RouteTemplateStore store,
    InspectionLibrary inspections,
    InspectionPlanStore plans
) : IUseCase
{
    /// <param name="Edition">The edition to go over to.</param>
    /// <param name="Reason">Why.</param>
    public sealed record Request(int? Edition, string? Reason);

    public Task<Outcome<JobView>> RunAsync(JobId id, Request request, Envelope envelope, CancellationToken ct) =>
        change.RunAsync(
            Permission.DecideOnRoutes,
            id,
            new { id, request },
            envelope,
            async (scope, job) =>
            {
                var errors = new FieldErrors();
                var reason = TextRules.Required(request.Reason, "reason", "The reason", TextRules.ShortText, errors);
                errors.AddIf(request.Edition is null, "edition", "Name the edition to go over to.");
                if (errors.Any)
                {
                    return errors.ToFailure();
                }

                if (await store.InForceAsync(scope.Db, job.TemplateCode, request.Edition, ct) is not { } template)
                {
                    return Failure.Field("edition", $"There is no edition {request.Edition} of {job.TemplateCode}.");
                }

                var before = job.TemplateEdition;
                var steps = job.PreviewMove(RouteBuilder.Build(template, job.Scope)).Steps;
                var moved = job.MoveTo(
                    RouteBuilder.Build(template, job.Scope),
                    Worker.Of(scope.Actor),
                    scope.Now,
                    scope.NewId<OperationId>
                );
                if (!moved.TryGet(out var added, out var refused))
                {
                    return refused;
                }

                scope.Db.AddRange(added);
                if (await InspectAsync(scope, job, added) is { } failure)
                {
                    return failure;
                }

                return new EventDraft(
                    "job.routeMoved",
                    "job",
                    job.Id.Value,
                    job.Id,
                    new { template = job.TemplateCode, edition = before },
                    new
                    {
                        template = job.TemplateCode,
                        edition = job.TemplateEdition,
                        reason,
                        comes = Codes(steps, RouteStepKind.Comes),
                        goes = Codes(steps, RouteStepKind.Goes),
                        changes = Codes(steps, RouteStepKind.Changes),
                    }
                );
            },
            ct
        );

    private async Task<Failure?> InspectAsync(CommandScope scope, Job job, IReadOnlyList<Operation> added)
    {
        var codes = added.Select(o => o.Code).ToHashSet(StringComparer.Ordinal);
        if (codes.Count == 0 || await scope.Db.InspectionAsync(job.Id, scope.Cancellation) is not { } inspection)
        {
            return null;
        }

        await inspections.RefreshAsync(scope.Db, scope.Cancellation);
        var version = await plans.OfJobAsync(scope.Db, job.Id, scope.Cancellation);
        if (version is not null && InspectionPlanStore.TooLate(version, job) is { Count: > 0 } late)
        {
            return new Failure.Refused(late);
        }

        if (
            !inspections
                .LinesFor(
                    job.Scope,
                    job.Operations.Select(o => o.Code),
                    inspection.RuleSets,
                    version,
                    await OrderedTubes.OfAsync(scope.Db, job, scope.Cancellation)
                )
                .TryGet(out var plan, out var failure)
        )
        {
            return failure;
        }

        var has = inspection.Lines.Select(l => l.Code).ToHashSet(StringComparer.Ordinal);
        var lines = plan.Lines.Where(l => codes.Contains(l.OperationCode) && !has.Contains(l.Code)).ToList();
        if (lines.Count == 0)
        {
            return null;
        }

        if (!inspection.Add(lines, scope.Now).TryGet(out var made, out var refused))
        {
            return refused;
        }

        scope.Db.AddRange(made);
        scope.Db.Touch(inspection);
        scope.Record(
            new EventDraft(
                "inspection.linesAdded",
                "inspection",
                job.Id.Value,
                job.Id,
                After: new { edition = job.TemplateEdition, lines = made.Select(l => l.Code) }
            )
        );
        return null;
    }

    private static IEnumerable<string> Codes(IReadOnlyList<RouteStep> steps, RouteStepKind kind) =>
        steps.Where(s => s.Kind == kind).Select(s => s.Code);
}
