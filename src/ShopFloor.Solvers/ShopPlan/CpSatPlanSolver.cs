using System.Globalization;
using Google.OrTools.Sat;
using ShopFloor.Domain.Planning;
using ShopFloor.Solvers.Common;

namespace ShopFloor.Solvers.ShopPlan;

/// <summary>The shop's plan by constraint programming (OR-Tools CP-SAT), aim after aim: lateness, then time in the bays, then moves.</summary>
public sealed class CpSatPlanSolver : IPlanSolver
{
    /// <summary>Least quarter hours beyond the end of the plan to start from in which a better one is looked for.</summary>
    private const int More = 64;

    public WorkPlan Improve(
        PlanProblem problem,
        IReadOnlyList<PlanEntry> start,
        IReadOnlyCollection<int> leftOut,
        TimeSpan limit,
        int seed,
        Action<PlanProgress>? report,
        CancellationToken cancel
    )
    {
        ArgumentNullException.ThrowIfNull(problem);
        ArgumentNullException.ThrowIfNull(start);
        ArgumentNullException.ThrowIfNull(leftOut);
        if (start.Count == 0)
        {
            return new WorkPlan(start, PlanMeasure.Of(problem, start), 0, 0);
        }

        return QuietThread.Run(() =>
            Improve(problem, start, leftOut, limit, seed, report, start.Max(e => e.End), cancel)
        );
    }

    private static WorkPlan Improve(
        PlanProblem problem,
        IReadOnlyList<PlanEntry> start,
        IReadOnlyCollection<int> leftOut,
        TimeSpan limit,
        int seed,
        Action<PlanProgress>? report,
        int end,
        CancellationToken cancel
    )
    {
        var horizon = Math.Min(problem.Axis.Slots, end + Math.Max(More, end / 2));
        var model = new ShopPlanModel(problem, leftOut, horizon);
        var search = new Search(problem, model, start, report, cancel) { Seed = seed };
        var lateBound = search.Minimise("fewest late hours", model.Late, m => m.LateSlots, limit * 0.45);
        model.Model.Add(model.Late <= search.Best.LateSlots);
        var bayBound = search.Minimise("least time in the bays", model.Bay, m => m.BaySlots, limit * 0.4);
        if (model.CanMove)
        {
            model.Model.Add(model.Bay <= search.Best.BaySlots);
            search.Minimise("fewest moves", model.Moved, m => m.Moved, limit * 0.15);
        }

        return new WorkPlan(search.Entries, search.Best, lateBound ?? 0, bayBound);
    }

    /// <summary>What has been found so far, over all aims.</summary>
    private sealed class Search(
        PlanProblem problem,
        ShopPlanModel model,
        IReadOnlyList<PlanEntry> start,
        Action<PlanProgress>? report,
        CancellationToken cancel
    )
    {
        public IReadOnlyList<PlanEntry> Entries { get; private set; } = start;

        public PlanMeasure Best { get; private set; } = PlanMeasure.Of(problem, start);

        public int Seed { get; init; }

        /// <summary>Minimises one aim from the best plan so far.</summary>
        /// <returns>No plan that keeps the aims before has less than this; null where nothing is known.</returns>
        public long? Minimise(string aim, LinearExpr expression, Func<PlanMeasure, long> measure, TimeSpan time)
        {
            report?.Invoke(new PlanProgress(aim, Best));
            if (measure(Best) == 0)
            {
                return 0;
            }

            if (cancel.IsCancellationRequested)
            {
                return null;
            }

            model.Model.Minimize(expression);
            model.Hint(Entries);
            using var solver = new CpSolver
            {
                StringParameters = string.Create(
                    CultureInfo.InvariantCulture,
                    $"num_workers:2,max_time_in_seconds:{time.TotalSeconds:0.###},random_seed:{Seed}"
                ),
            };
            using var watcher = new Watcher(this, aim);
            using var stop = new StopWhenCancelled(solver, cancel);
            var status = solver.Solve(model.Model, watcher);
            if (status is CpSolverStatus.Optimal or CpSolverStatus.Feasible)
            {
                Take(model.Read(v => solver.Value(v)));
            }
            else if (status is CpSolverStatus.Infeasible or CpSolverStatus.ModelInvalid)
            {
                throw new InvalidOperationException(
                    $"The plan to start from keeps the rules, and the model says {status}: {model.Model.Validate()}"
                );
            }

            return status == CpSolverStatus.Optimal ? measure(Best)
                : status == CpSolverStatus.Feasible || solver.BestObjectiveBound > 0
                    ? Math.Max(0, (long)Math.Ceiling(solver.BestObjectiveBound - 1e-6))
                : 0;
        }

        private void Take(IReadOnlyList<PlanEntry> entries)
        {
            var found = PlanMeasure.Of(problem, entries);
            if (found <= Best)
            {
                (Entries, Best) = (entries, found);
            }
        }

        private sealed class Watcher(Search search, string aim) : CpSolverSolutionCallback
        {
            public override void OnSolutionCallback()
            {
                search.Take(search.Model.Read(v => Value(v)));
                search.Report?.Invoke(new PlanProgress(aim, search.Best));
            }
        }

        private ShopPlanModel Model => model;

        private Action<PlanProgress>? Report => report;
    }
}
