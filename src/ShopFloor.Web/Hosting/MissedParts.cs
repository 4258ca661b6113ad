using ShopFloor.Application.Messages;

namespace ShopFloor.Web.Hosting;

/// <summary>Looks once a minute, on each server, which customers' parts the shop waits for now.</summary>
public sealed class MissedParts(IServiceScopeFactory scopes, TimeProvider clock, ILogger<MissedParts> log)
    : PeriodicWorker<MissCustomerParts>(
        scopes,
        clock,
        log,
        TimeSpan.FromMinutes(1),
        "Awaited parts could not be looked at"
    )
{
    protected override Task RunOnceAsync(MissCustomerParts use, CancellationToken stop) => use.RunOnceAsync(stop);
}
