using ShopFloor.Application.Messages;

namespace ShopFloor.Web.Hosting;

/// <summary>Sends due messages every few seconds, on each server; which server sends which message is decided in the database.</summary>
public sealed class MailWorker(IServiceScopeFactory scopes, TimeProvider clock, ILogger<MailWorker> log)
    : PeriodicWorker<SendMessages>(scopes, clock, log, TimeSpan.FromSeconds(3), "Messages could not be sent")
{
    protected override Task RunOnceAsync(SendMessages use, CancellationToken stop) => use.RunOnceAsync(stop);
}
