using ShopFloor.Domain.Solving;

namespace ShopFloor.Domain.Planning.JobShop;

/// <summary>Start minute by job and operation, in the order of the problem.</summary>
public sealed record JobShopPlan(IReadOnlyList<IReadOnlyList<long>> Starts)
{
    public long Makespan(JobShopProblem problem) =>
        problem
            .Jobs.Select((job, j) => job.Steps.Select((s, i) => Starts[j][i] + s.Minutes).DefaultIfEmpty(0).Max())
            .DefaultIfEmpty(0)
            .Max();
}

/// <param name="LowerBound">No plan ends before this minute; the plan is proven best only when it ends at it.</param>
public sealed record JobShopAnswer(JobShopPlan Plan, long Makespan, long LowerBound)
{
    public bool IsProvenOptimal => Makespan == LowerBound;
}

/// <summary>Finds a plan of a classical job shop and what no plan can beat.</summary>
public interface IJobShopSolver
{
    /// <summary>Always an answer: at least the plan by rule with the plain bound.</summary>
    /// <exception cref="OperationCanceledException">Nobody waits for it any more.</exception>
    JobShopAnswer Solve(
        JobShopProblem problem,
        SolveLimits limits,
        IProgress<SolveProgress>? progress,
        CancellationToken cancellation
    );
}
