using System.Diagnostics;
using Google.OrTools.Sat;
using ShopFloor.Domain.Planning.JobShop;
using ShopFloor.Domain.Solving;
using ShopFloor.Solvers.Common;

namespace ShopFloor.Solvers.JobShop;

/// <summary>The classical job shop: the dispatch rule's plan, made better by tabu search, then by CP-SAT, which also proves: one interval an operation, no overlap on a resource.</summary>
public sealed class CpSatJobShopSolver : IJobShopSolver
{
    /// <summary>What raised the bound soonest on two cores of those that were tried, with a good plan given; see the record on solvers.</summary>
    private const string Search =
        "subsolvers:\"objective_lb_search_no_lp\",subsolvers:\"quick_restart_no_lp\",use_dynamic_precedence_in_disjunctive:true";

    /// <summary>Of the time, at most, for the tabu search.</summary>
    private const double TabuShare = 0.25;

    public JobShopAnswer Solve(
        JobShopProblem problem,
        SolveLimits limits,
        IProgress<SolveProgress>? progress,
        CancellationToken cancellation
    ) => Solve(problem, limits, Search, progress, cancellation);

    /// <param name="search">Parameters of CP-SAT in its text form, for measuring.</param>
    internal static JobShopAnswer Solve(
        JobShopProblem problem,
        SolveLimits limits,
        string search,
        IProgress<SolveProgress>? progress,
        CancellationToken cancellation
    )
    {
        var watch = Stopwatch.StartNew();
        var answer = Answer(JobShopDispatch.Best(problem));
        if (!answer.IsProvenOptimal)
        {
            answer = QuietThread.Run(() =>
            {
                var enough = limits.Seconds * TabuShare;
                var better = Answer(
                    TabuSearch.Improve(
                        problem,
                        answer.Plan,
                        limits.Seed,
                        () => cancellation.IsCancellationRequested || watch.Elapsed.TotalSeconds > enough
                    )
                );
                return better.IsProvenOptimal
                    ? better
                    : Improve(
                        problem,
                        better,
                        limits,
                        search,
                        limits.Seconds - watch.Elapsed.TotalSeconds,
                        progress,
                        cancellation
                    );
            });
        }

        if (JobShopCheck.Faults(problem, answer.Plan) is [var fault, ..])
        {
            throw new InvalidOperationException($"The solver's plan does not hold: {fault}");
        }

        return answer;

        JobShopAnswer Answer(JobShopPlan plan)
        {
            var end = plan.Makespan(problem);
            progress?.Report(new SolveProgress(end, problem.LowerBound));
            return new JobShopAnswer(plan, end, problem.LowerBound);
        }
    }

    private static JobShopAnswer Improve(
        JobShopProblem problem,
        JobShopAnswer known,
        SolveLimits limits,
        string search,
        double seconds,
        IProgress<SolveProgress>? progress,
        CancellationToken cancellation
    )
    {
        var model = new CpModel();
        var makespan = model.NewIntVar(known.LowerBound, known.Makespan, "");
        var onResource = Enumerable.Range(0, problem.ResourceCount).Select(_ => new List<IntervalVar>()).ToArray();
        var starts = new IntVar[problem.Jobs.Count][];
        for (var j = 0; j < starts.Length; j++)
        {
            var steps = problem.Jobs[j].Steps;
            starts[j] = new IntVar[steps.Count];
            var left = steps.Sum(s => (long)s.Minutes);
            long before = 0;
            for (var i = 0; i < steps.Count; i++)
            {
                long minutes = steps[i].Minutes;
                starts[j][i] = model.NewIntVar(before, known.Makespan - left, "");
                onResource[problem.ResourceOf[j][i]].Add(model.NewFixedSizeIntervalVar(starts[j][i], minutes, ""));
                model.AddHint(starts[j][i], known.Plan.Starts[j][i]);
                if (i > 0)
                {
                    model.Add(starts[j][i] >= starts[j][i - 1] + steps[i - 1].Minutes);
                }

                before += minutes;
                left -= minutes;
            }

            if (steps.Count > 0)
            {
                model.Add(makespan >= starts[j][^1] + steps[^1].Minutes);
            }
        }

        foreach (var intervals in onResource.Where(o => o.Count > 1))
        {
            model.AddNoOverlap(intervals);
        }

        model.AddHint(makespan, known.Makespan);
        model.Minimize(makespan);
        using var run = new CpSatRun();
        var status = run.Solve(
            model,
            limits,
            seconds,
            search,
            progress is null ? null : (best, bound) => progress.Report(new(best ?? known.Makespan, bound)),
            cancellation
        );
        if (status is not (CpSolverStatus.Optimal or CpSolverStatus.Feasible))
        {
            // Not even the plan it was given was taken up in the time.
            return known;
        }

        var plan = new JobShopPlan([.. starts.Select(s => s.Select(run.Value).ToArray())]);
        var bound = Math.Max(known.LowerBound, (long)Math.Ceiling(run.Bound - 1e-6));
        var end = plan.Makespan(problem);
        return end <= known.Makespan
            ? new JobShopAnswer(plan, end, Math.Min(bound, end))
            : known with
            {
                LowerBound = Math.Min(bound, known.Makespan),
            };
    }
}
