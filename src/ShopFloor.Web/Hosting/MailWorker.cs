using ShopFloor.Application.Messages;

namespace ShopFloor.Web.Hosting;

/// <summary>Sends due messages every few seconds, on each server; which server sends which message is decided in the database.</summary>
public sealed class MailWorker(IServiceScopeFactory scopes, TimeProvider clock, ILogger<MailWorker> log)
    : BackgroundService
{
    private static readonly TimeSpan Pause = TimeSpan.FromSeconds(3);

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        using var timer = new PeriodicTimer(Pause, clock);
        while (await timer.WaitForNextTickAsync(stoppingToken))
        {
            try
            {
                await using var scope = scopes.CreateAsyncScope();
                await scope.ServiceProvider.GetRequiredService<SendMessages>().RunOnceAsync(stoppingToken);
            }
            catch (Exception exception) when (exception is not OperationCanceledException)
            {
                // Its kind only: the text of an exception may hold an address. The next tick tries again.
                log.LogWarning("Messages could not be sent: {Exception}", exception.GetType().Name);
            }
        }
    }
}
