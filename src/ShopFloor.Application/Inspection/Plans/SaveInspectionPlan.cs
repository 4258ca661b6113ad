using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;

namespace ShopFloor.Application.Inspection.Plans;

/// <summary>The owner saves a changed plan as its next version: new jobs get it, running jobs keep theirs.</summary>
public sealed class SaveInspectionPlan(CommandRunner runner, InspectionPlanStore store) : IUseCase
{
    private const string Series = "plan";

    /// <param name="FromVersion">The version that was changed; refused where it is not the newest any more.</param>
    /// <param name="Note">Why, in a sentence.</param>
    /// <param name="Document">Code and version are set by the server.</param>
    public sealed record Request(int? FromVersion, string? Note, InspectionPlanDocument? Document);

    public Task<Outcome<InspectionPlanDocument>> RunAsync(
        string code,
        Request request,
        Envelope envelope,
        CancellationToken ct
    ) =>
        runner.RunAsync<InspectionPlanDocument>(
            Permission.DecideOnPlans,
            envelope,
            new { code, request },
            async scope =>
            {
                await scope.LockSeriesAsync(Series);
                if (await store.FindAsync(scope.Db, code, null, ct) is not { } newest)
                {
                    return Failure.Missing("inspection plan");
                }

                var errors = new FieldErrors();
                var note = TextRules.Required(
                    request.Note,
                    "note",
                    "Why the plan is changed",
                    TextRules.ShortText,
                    errors
                );
                errors
                    .AddIf(request.Document is null, "document", "Send the plan with its changes.")
                    .AddIf(request.FromVersion is null, "fromVersion", "Name the version that was changed.");
                if (errors.Any)
                {
                    return errors.ToFailure();
                }

                if (request.FromVersion != newest.Version)
                {
                    return Failure.Because(
                        "stale",
                        $"You changed version {request.FromVersion}; version {newest.Version} was saved meanwhile. Look at what it has otherwise and make your changes to it."
                    );
                }

                var next = request.Document! with { Code = code, Version = newest.Version + 1 };
                var changes = InspectionPlanDifferences.Between(newest.Document, next);
                if (changes.Count == 0)
                {
                    return Failure.Because("unchanged", $"Nothing differs from version {newest.Version}.");
                }

                var today = (await scope.ShopAsync()).LocalDay(scope.Now);
                var problems = await store.ProblemsAsync(scope.Db, next, today, ct);
                if (problems.Count > 0)
                {
                    return new Failure.Invalid(problems);
                }

                if (!InspectionPlan.From(next).TryGet(out var plan, out var failure))
                {
                    return failure;
                }

                if (!await scope.Db.Set<InspectionPlanVersion>().AnyAsync(v => v.PlanCode == code, ct))
                {
                    // A shop that did without the starter data: what it began from is kept with it.
                    InspectionPlanStarter.Add(scope, newest);
                }

                var version = InspectionPlanVersion.Save(
                    scope.NewId<InspectionPlanVersionId>(),
                    plan,
                    note,
                    scope.Now,
                    scope.Actor.Person
                );
                scope.Db.Add(version);
                scope.Record(
                    InspectionPlanStore.Event(
                        "inspectionPlan.saved",
                        version,
                        new { version = newest.Version },
                        changes.Select(c => c.Sentence)
                    )
                );
                await scope.SaveAsync();
                return plan.Document;
            },
            ct
        );
}
