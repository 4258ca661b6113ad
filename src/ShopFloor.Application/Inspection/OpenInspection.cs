using ShopFloor.Application.Common;
using ShopFloor.Application.Inspection.Plans;
using ShopFloor.Application.Routing;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Quoting;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Inspection;

/// <summary>A new job gets its inspection lines, from the plan for its kit, its rule sets and its route.</summary>
public sealed class OpenInspection(InspectionLibrary library) : IJobOpening
{
    public async Task<Outcome<Done>> AddAsync(CommandScope scope, Job job, Quote quote)
    {
        ArgumentNullException.ThrowIfNull(scope);
        ArgumentNullException.ThrowIfNull(job);
        await library.RefreshAsync(scope.Db, scope.Cancellation);
        if (
            library.PlanFor(job.Scope.RouteKey) is { } chosen
            && InspectionPlanStore.TooLate(chosen, job) is { Count: > 0 } late
        )
        {
            return new Failure.Refused(late);
        }

        return library
            .LinesFor(
                job.Scope,
                job.Operations.Select(o => o.Code),
                ordered: await OrderedTubes.OfAsync(scope.Db, quote, scope.Cancellation)
            )
            .Then(plan =>
            {
                scope.Db.Add(JobInspection.Open(job.Id, plan, scope.Now));
                scope.Record(
                    new EventDraft(
                        "inspection.opened",
                        "inspection",
                        job.Id.Value,
                        job.Id,
                        After: new
                        {
                            plan = plan.PlanCode,
                            planVersion = plan.PlanVersion,
                            ruleSets = plan.RuleSets.Select(r => new { r.Code, r.Version }),
                            lines = plan.Lines.Select(l => l.Code),
                        }
                    )
                );
                return Outcome.Ok;
            });
    }
}
