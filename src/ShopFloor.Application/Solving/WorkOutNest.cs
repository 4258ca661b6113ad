using ShopFloor.Application.Common;
using ShopFloor.Domain.Nesting;
using ShopFloor.Domain.Solving;

namespace ShopFloor.Application.Solving;

/// <summary>Lays pieces into bars as well as can be had in the time; nothing is stored.</summary>
public sealed class WorkOutNest(INestSolver solver, SolverRuns runs) : IUseCase
{
    public Task<SolverRun<NestResult>> RunAsync(
        NestProblem problem,
        SolveLimits limits,
        IProgress<SolveProgress>? progress,
        CancellationToken ct
    ) => runs.RunAsync(() => solver.Solve(problem, limits, progress, ct), ct);
}
