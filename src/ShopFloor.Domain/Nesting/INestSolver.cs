using ShopFloor.Domain.Solving;

namespace ShopFloor.Domain.Nesting;

/// <summary>What a run came to.</summary>
public abstract record NestResult
{
    private NestResult() { }

    public sealed record Found(NestAnswer Answer) : NestResult;

    /// <summary>Proven: the limited stock cannot hold the pieces.</summary>
    public sealed record Impossible : NestResult;

    /// <summary>Neither a nest nor a proof that there is none came in the time.</summary>
    public sealed record NotInTime : NestResult;
}

/// <summary>Lays pieces into bars: least stock length, among those fewest bars.</summary>
public interface INestSolver
{
    /// <param name="progress">Stock length in whole millimetres: the best so far and the bound, both rounded down.</param>
    /// <exception cref="OperationCanceledException">Nobody waits for it any more.</exception>
    NestResult Solve(
        NestProblem problem,
        SolveLimits limits,
        IProgress<SolveProgress>? progress,
        CancellationToken cancellation
    );
}
