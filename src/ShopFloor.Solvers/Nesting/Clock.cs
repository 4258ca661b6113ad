using System.Diagnostics;

namespace ShopFloor.Solvers.Nesting;

/// <summary>The time of one run.</summary>
internal sealed class Clock(double seconds, CancellationToken cancellation)
{
    private readonly Stopwatch watch = Stopwatch.StartNew();

    public CancellationToken Cancellation => cancellation;

    public double Left => seconds - watch.Elapsed.TotalSeconds;

    /// <summary>Time is up; throws when nobody waits any more.</summary>
    public bool IsUp
    {
        get
        {
            cancellation.ThrowIfCancellationRequested();
            return Left <= 0;
        }
    }

    /// <summary>A part of what is left, under the same cancellation.</summary>
    public Clock Part(double share, double mostSeconds) => new(Math.Min(Left * share, mostSeconds), cancellation);
}
