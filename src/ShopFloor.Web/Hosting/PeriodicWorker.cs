namespace ShopFloor.Web.Hosting;

/// <summary>Does one thing again and again, on each server; that two servers do not do it twice is the thing's own care. A turn that fails is told by the kind of its fault only, because the text of one may hold an address, and the next turn tries again.</summary>
/// <typeparam name="T">The use case, made anew for each turn.</typeparam>
public abstract class PeriodicWorker<T>(
    IServiceScopeFactory scopes,
    TimeProvider clock,
    ILogger log,
    TimeSpan pause,
    string failed
) : BackgroundService
    where T : notnull
{
    protected abstract Task RunOnceAsync(T use, CancellationToken stop);

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        using var timer = new PeriodicTimer(pause, clock);
        while (await timer.WaitForNextTickAsync(stoppingToken))
        {
            try
            {
                await using var scope = scopes.CreateAsyncScope();
                await RunOnceAsync(scope.ServiceProvider.GetRequiredService<T>(), stoppingToken);
            }
            catch (Exception exception) when (exception is not OperationCanceledException)
            {
                log.LogWarning("{Failed}: {Exception}; trying again later.", failed, exception.GetType().Name);
            }
        }
    }
}
