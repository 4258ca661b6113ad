namespace ShopFloor.Application.Solving;

/// <summary>What became of a run that was asked for.</summary>
public abstract record SolverRun<T>
{
    private SolverRun() { }

    public sealed record Finished(T Value) : SolverRun<T>;

    /// <summary>As many runs as the server takes are under way.</summary>
    public sealed record Busy : SolverRun<T>;
}

/// <summary>Lets two solvers run at a time on this server, so that solving never takes the pages' breath; one instance for all.</summary>
public sealed class SolverRuns : IDisposable
{
    public const int AtOnce = 2;

    /// <summary>After so many seconds it is worth asking again.</summary>
    public const int RetryAfterSeconds = 10;

    public const string BusyText =
        "Two plans or nests are being worked out on this server just now. Try again in some seconds.";

    private readonly SemaphoreSlim free = new(AtOnce);

    /// <summary>Runs off the caller's thread; it does not wait for a turn.</summary>
    public async Task<SolverRun<T>> RunAsync<T>(Func<T> work, CancellationToken cancellation)
    {
        cancellation.ThrowIfCancellationRequested();
        if (!await free.WaitAsync(0, CancellationToken.None))
        {
            return new SolverRun<T>.Busy();
        }

        try
        {
            return new SolverRun<T>.Finished(
                await Task.Factory.StartNew(
                    work,
                    CancellationToken.None,
                    TaskCreationOptions.LongRunning,
                    TaskScheduler.Default
                )
            );
        }
        finally
        {
            free.Release();
        }
    }

    public void Dispose() => free.Dispose();
}
