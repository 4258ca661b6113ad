using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Routing;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Inspection.Plans;

/// <summary>What a job's move to another version of its plan is made of.</summary>
internal sealed record PlanMoveParts(
    JobInspection Inspection,
    BuiltPlan Before,
    BuiltPlan After,
    IReadOnlyList<Reason> TooLate
);

/// <summary>Gathers a move for its preview and for the move itself.</summary>
public sealed class PlanMoveLoader(InspectionPlanStore store, InspectionLibrary library) : IUseCase
{
    internal async Task<Outcome<PlanMoveParts>> LoadAsync(ShopDbContext db, Job job, int? version, CancellationToken ct)
    {
        if (await db.InspectionAsync(job.Id, ct) is not { } inspection)
        {
            return Failure.Missing("inspection of that job");
        }

        if (
            await store.FindAsync(db, inspection.PlanCode, inspection.PlanVersion, ct) is not { } own
            || await store.FindAsync(db, inspection.PlanCode, version, ct) is not { } other
        )
        {
            return Failure.Missing("version of this job's inspection plan");
        }

        var codes = job.Operations.Select(o => o.Code).ToList();
        var ordered = await OrderedTubes.OfAsync(db, job, ct);
        return library
            .LinesFor(job.Scope, codes, inspection.RuleSets, own, ordered)
            .Then(before =>
                library
                    .LinesFor(job.Scope, codes, inspection.RuleSets, other, ordered)
                    .Then<PlanMoveParts>(after => new PlanMoveParts(
                        inspection,
                        before,
                        after,
                        [.. InspectionPlanStore.TooLate(other, job), .. Passed(inspection, other, job)]
                    ))
            );
    }

    /// <summary>New lines whose work is hidden on this very car already.</summary>
    private static IEnumerable<Reason> Passed(JobInspection inspection, InspectionPlan plan, Job job)
    {
        var codes = job.Operations.Select(o => o.Code).ToHashSet(StringComparer.Ordinal);
        return InspectionPlanBuilder
            .LinesOf(plan, job.Scope, codes)
            .Where(l =>
                !inspection.Lines.Any(k =>
                    k.Code == l.Code || (l.PerDoor && k.Code.StartsWith(l.Code + "-", StringComparison.Ordinal))
                )
            )
            .SelectMany(l =>
                (l.HiddenBy ?? [])
                    .Select(job.Operation)
                    .OfType<Operation>()
                    .Where(o => o.BegunAt is not null)
                    .Take(1)
                    .Select(o => (Line: l, By: o))
            )
            .Select(p => new Reason(
                "hiddenAlready",
                $"{p.Line.What} is new, and {p.By.Code} ({p.By.Title}), which hides it, has begun on this car. Leave the job on its version, or have it looked at by a change order.",
                p.Line.Operation
            ));
    }
}

/// <summary>Looks at what a running job's move to another version of its plan would do; changes nothing.</summary>
public sealed class PreviewPlanMove(QueryRunner queries, PlanMoveLoader loader) : IUseCase
{
    /// <param name="version">Null for the newest.</param>
    public Task<Outcome<PlanMove>> RunAsync(JobId id, int? version, Actor actor, CancellationToken ct) =>
        queries.RunAsync<PlanMove>(
            Permission.DecideOnPlans,
            actor,
            async db =>
                await db.JobsWhole().SingleOrDefaultAsync(j => j.Id == id, ct) is not { } job ? Failure.Missing("job")
                : InspectionLoading.Over(job) is { } over ? over
                : (await loader.LoadAsync(db, job, version, ct)).Then<PlanMove>(p =>
                    p.Inspection.PreviewMove(p.Before, p.After, p.TooLate)
                ),
            ct
        );
}

/// <summary>Moves a running job to another version of its inspection plan; what was read stays as it was read.</summary>
public sealed class MoveJobPlan(JobChange change, PlanMoveLoader loader) : IUseCase
{
    /// <param name="Version">The version to go over to.</param>
    /// <param name="Reason">Why.</param>
    public sealed record Request(int? Version, string? Reason);

    public Task<Outcome<JobView>> RunAsync(JobId id, Request request, Envelope envelope, CancellationToken ct) =>
        change.RunAsync(
            Permission.DecideOnPlans,
            id,
            new { id, request },
            envelope,
            async (scope, job) =>
            {
                var errors = new FieldErrors();
                var reason = TextRules.Required(request.Reason, "reason", "The reason", TextRules.ShortText, errors);
                errors.AddIf(request.Version is null, "version", "Name the version to go over to.");
                if (errors.Any)
                {
                    return errors.ToFailure();
                }

                if (InspectionLoading.Over(job) is { } over)
                {
                    return over;
                }

                if (
                    !(await loader.LoadAsync(scope.Db, job, request.Version, ct)).TryGet(out var parts, out var failure)
                )
                {
                    return failure;
                }

                var inspection = parts.Inspection;
                var before = inspection.PlanVersion;
                var steps = inspection.PreviewMove(parts.Before, parts.After, parts.TooLate).Steps;
                if (
                    !inspection
                        .MoveTo(parts.Before, parts.After, parts.TooLate, scope.Now)
                        .TryGet(out var moved, out failure)
                )
                {
                    return failure;
                }

                scope.Db.AddRange(moved.Came);
                scope.Db.RemoveRange(moved.Went);
                scope.Db.Touch(inspection);
                return new EventDraft(
                    "inspection.planMoved",
                    "inspection",
                    job.Id.Value,
                    job.Id,
                    new { plan = inspection.PlanCode, version = before },
                    new
                    {
                        plan = inspection.PlanCode,
                        version = inspection.PlanVersion,
                        reason,
                        comes = Codes(steps, PlanStepKind.Comes),
                        changes = Codes(steps, PlanStepKind.Changes),
                        stays = Codes(steps, PlanStepKind.Stays),
                        goes = Codes(steps, PlanStepKind.Goes),
                    }
                );
            },
            ct
        );

    private static IEnumerable<string> Codes(IReadOnlyList<PlanStep> steps, PlanStepKind kind) =>
        steps.Where(s => s.Kind == kind).Select(s => s.Code);
}
