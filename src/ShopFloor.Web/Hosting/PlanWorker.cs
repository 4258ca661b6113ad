using ShopFloor.Application.Planning;

namespace ShopFloor.Web.Hosting;

/// <summary>Makes the plans that were asked for at this server, one after another.</summary>
public sealed class PlanWorker(IServiceScopeFactory scopes, PlanQueue queue, ILogger<PlanWorker> log)
    : BackgroundService
{
    protected override Task ExecuteAsync(CancellationToken stoppingToken) =>
        queue.ServeAsync(
            async (id, cancel) =>
            {
                try
                {
                    await using var scope = scopes.CreateAsyncScope();
                    await scope.ServiceProvider.GetRequiredService<MakePlan>().RunAsync(id, cancel, stoppingToken);
                }
                catch (Exception exception) when (exception is not OperationCanceledException)
                {
                    // Not even its failure could be noted (the database is away): it counts as dead after a while, and the next one is taken.
                    log.LogError(exception, "A plan could not be noted as failed");
                }
            },
            stoppingToken
        );
}
