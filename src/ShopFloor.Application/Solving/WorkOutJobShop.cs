using ShopFloor.Application.Common;
using ShopFloor.Domain.Planning.JobShop;
using ShopFloor.Domain.Solving;

namespace ShopFloor.Application.Solving;

/// <summary>Plans a classical job shop as well as can be had in the time; nothing is stored.</summary>
public sealed class WorkOutJobShop(IJobShopSolver solver, SolverRuns runs) : IUseCase
{
    public Task<SolverRun<JobShopAnswer>> RunAsync(JobShopProblem problem, SolveLimits limits, CancellationToken ct) =>
        runs.RunAsync(() => solver.Solve(problem, limits, null, ct), ct);
}
