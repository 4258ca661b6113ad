using ShopFloor.Application.Common;
using ShopFloor.Application.Solving;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Planning.JobShop;
using ShopFloor.Domain.Solving;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Calculators;

/// <summary>The classical job shop as a calculator: nothing is stored.</summary>
public sealed class PlanEndpoint : IApiEndpoints
{
    public sealed record OperationBody(string? Resource, int? DurationMinutes);

    public sealed record JobBody(string? Id, IReadOnlyList<OperationBody?>? Operations);

    public sealed record PlanBody(
        [property: AtMost(JobShopProblem.MostJobs)] IReadOnlyList<JobBody?>? Jobs,
        int? TimeLimitSeconds
    );

    public sealed record PlannedOperation(string Job, int Index, string Resource, long StartMinute, long EndMinute);

    public sealed record PlanAnswer(
        long MakespanMinutes,
        long LowerBoundMinutes,
        bool IsProvenOptimal,
        IReadOnlyList<PlannedOperation> Operations
    );

    public static void Map(RouteGroupBuilder api) =>
        api.MapPost("/calculators/plan", RunAsync)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("The earliest end of all jobs, one operation at a time on each resource; nothing is stored.")
            .Produces<PlanAnswer>();

    private static async Task<IResult> RunAsync(
        ApiCall call,
        Body<PlanBody> body,
        WorkOutJobShop use,
        HttpContext context
    )
    {
        var limits = new SolveLimits(body.Value.TimeLimitSeconds ?? SolveLimits.UsualSeconds);
        if (!Read(body.Value, limits).TryGet(out var problem, out var failure))
        {
            return failure.ToProblem();
        }

        var run = await use.RunAsync(problem, limits, call.Cancellation);
        return run.ToHttp(context, answer => Results.Ok(View(problem, answer)));
    }

    private static Outcome<JobShopProblem> Read(PlanBody body, SolveLimits limits)
    {
        var errors = new FieldErrors();
        errors.AddIf(body.Jobs is null, "jobs", "Name the jobs; an empty list means none.");
        SolveLimits.CheckSeconds(limits.Seconds, "timeLimitSeconds", errors);
        var jobs = (body.Jobs ?? []).Take(JobShopProblem.MostJobs + 1).Select((j, n) => Job(j, $"jobs[{n}]", errors));
        List<JobShopJob> read = [.. jobs];
        return errors.Any ? errors.ToFailure() : JobShopProblem.Create(read);
    }

    private static JobShopJob Job(JobBody? job, string path, FieldErrors errors)
    {
        errors.AddIf(job?.Id is null, path + ".id", "The job's id is needed.");
        errors.AddIf(
            job?.Operations is null,
            path + ".operations",
            "Name the job's operations in their order; an empty list means none."
        );
        var steps = (job?.Operations ?? [])
            .Take(JobShopProblem.MostOperations + 1)
            .Select(
                (o, i) =>
                {
                    errors.AddIf(
                        o?.Resource is null,
                        $"{path}.operations[{i}].resource",
                        "The resource that does it is needed."
                    );
                    errors.AddIf(
                        o?.DurationMinutes is null,
                        $"{path}.operations[{i}].durationMinutes",
                        "The duration in whole minutes is needed."
                    );
                    return new JobShopStep(o?.Resource ?? "", o?.DurationMinutes ?? 0);
                }
            );
        return new JobShopJob(job?.Id ?? "", [.. steps]);
    }

    private static PlanAnswer View(JobShopProblem problem, JobShopAnswer answer) =>
        new(
            answer.Makespan,
            answer.LowerBound,
            answer.IsProvenOptimal,
            [
                .. problem.Jobs.SelectMany(
                    (job, j) =>
                        job.Steps.Select(
                            (step, i) =>
                            {
                                var start = answer.Plan.Starts[j][i];
                                return new PlannedOperation(job.Id, i, step.Resource, start, start + step.Minutes);
                            }
                        )
                ),
            ]
        );
}
