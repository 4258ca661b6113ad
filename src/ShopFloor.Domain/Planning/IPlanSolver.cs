namespace ShopFloor.Domain.Planning;

/// <summary>What a solver says while it works.</summary>
/// <param name="Aim">Which aim it is at, in words.</param>
/// <param name="Best">The best plan so far.</param>
public sealed record PlanProgress(string Aim, PlanMeasure Best);

/// <summary>Improves a plan that keeps the rules.</summary>
public interface IPlanSolver
{
    /// <summary>The best plan found: first as few late quarter hours as possible, then as short a time in the bays, then as few moves.</summary>
    /// <param name="start">A plan of the same problem that keeps the rules.</param>
    /// <param name="leftOut">Jobs that the plan leaves out.</param>
    /// <param name="limit">Time for all aims together.</param>
    /// <param name="seed">The same seed, one worker and no time limit reached: the same plan.</param>
    /// <remarks>When cancelled it gives the best plan found so far.</remarks>
    WorkPlan Improve(
        PlanProblem problem,
        IReadOnlyList<PlanEntry> start,
        IReadOnlyCollection<int> leftOut,
        TimeSpan limit,
        int seed,
        Action<PlanProgress>? report,
        CancellationToken cancel
    );
}
