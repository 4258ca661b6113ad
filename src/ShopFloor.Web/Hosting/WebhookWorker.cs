using ShopFloor.Application.Integrations;

namespace ShopFloor.Web.Hosting;

/// <summary>Tells other programs of new lines of the history every few seconds, on each server; which server sends which is decided in the database.</summary>
public sealed class WebhookWorker(IServiceScopeFactory scopes, TimeProvider clock, ILogger<WebhookWorker> log)
    : PeriodicWorker<SendWebhooks>(scopes, clock, log, TimeSpan.FromSeconds(2), "Webhooks could not be sent")
{
    /// <summary>Turns between two looks for what the list need not remember: some six hours.</summary>
    private const int Forgetting = 10_000;
    private int turns;

    protected override async Task RunOnceAsync(SendWebhooks use, CancellationToken stop)
    {
        await use.RunOnceAsync(stop);
        if (turns++ % Forgetting == 0)
        {
            await use.ForgetAsync(stop);
        }
    }
}
