using Google.OrTools.Sat;

namespace ShopFloor.Solvers.Common;

/// <summary>Stops a search when its caller gives up. It asks again and again: a search that is only about to begin does not hear a single call.</summary>
internal sealed class StopWhenCancelled : IDisposable
{
    private static readonly TimeSpan Pause = TimeSpan.FromMilliseconds(100);
    private readonly Timer timer;

    public StopWhenCancelled(CpSolver solver, CancellationToken cancellation) =>
        timer = new Timer(
            _ =>
            {
                if (cancellation.IsCancellationRequested)
                {
                    solver.StopSearch();
                }
            },
            null,
            Pause,
            Pause
        );

    /// <summary>Waits for a call that is on its way: the search must not be asked once it is gone.</summary>
    public void Dispose()
    {
        using var done = new ManualResetEvent(false);
        if (timer.Dispose(done))
        {
            done.WaitOne();
        }
    }
}
