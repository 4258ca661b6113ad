using ShopFloor.Application.Backups;

namespace ShopFloor.Web.Hosting;

/// <summary>Looks every minute, on each server, whether a backup is due; one of them makes it.</summary>
public sealed class BackupWorker(IServiceScopeFactory scopes, TimeProvider clock, ILogger<BackupWorker> log)
    : PeriodicWorker<MakeBackup>(scopes, clock, log, TimeSpan.FromMinutes(1), "The backup could not be made")
{
    protected override Task RunOnceAsync(MakeBackup use, CancellationToken stop) => use.RunIfDueAsync(stop);
}
