using System.Globalization;
using Google.OrTools.Sat;
using ShopFloor.Domain.Solving;

namespace ShopFloor.Solvers.Common;

/// <summary>One run of CP-SAT that stops with its caller and tells how far it has come.</summary>
internal sealed class CpSatRun : IDisposable
{
    private readonly CpSolver solver = new();

    /// <param name="seconds">Wall time that is left to it.</param>
    /// <param name="extra">Further parameters in the library's text form.</param>
    public CpSolverStatus Solve(
        CpModel model,
        SolveLimits limits,
        double seconds,
        string extra,
        Action<long?, long>? report,
        CancellationToken cancellation
    )
    {
        var time = Math.Max(0.01, seconds).ToString("0.###", CultureInfo.InvariantCulture);
        solver.StringParameters =
            $"num_workers:{limits.Workers},random_seed:{limits.Seed},max_time_in_seconds:{time},{extra}";
        using var callback = new Watch(report);
        if (report is not null)
        {
            solver.SetBestBoundCallback(b => callback.Bound(b));
        }

        cancellation.ThrowIfCancellationRequested();
        using var stop = new StopWhenCancelled(solver, cancellation);
        var status = solver.Solve(model, callback);
        cancellation.ThrowIfCancellationRequested();
        return status;
    }

    public long Value(IntVar variable) => solver.Value(variable);

    public double Bound => solver.BestObjectiveBound;

    public double Objective => solver.ObjectiveValue;

    public void Dispose()
    {
        solver.ClearBestBoundCallback();
        solver.Dispose();
    }

    private sealed class Watch(Action<long?, long>? report) : CpSolverSolutionCallback
    {
        private readonly Lock gate = new();
        private long? best;
        private long bound;

        public override void OnSolutionCallback()
        {
            lock (gate)
            {
                best = Rounded(ObjectiveValue());
                report?.Invoke(best, bound);
            }
        }

        public void Bound(double value)
        {
            lock (gate)
            {
                bound = double.IsFinite(value) ? Rounded(Math.Ceiling(value - 1e-6)) : bound;
                report?.Invoke(best, bound);
            }
        }

        private static long Rounded(double value) => (long)Math.Round(value);
    }
}
