using ShopFloor.Application.Throughput;

namespace ShopFloor.Web.Hosting;

/// <summary>Looks once a minute, on each server, whether it is time for anybody's week by mail; the outbox sends what was noted.</summary>
public sealed class WeekMailWorker(IServiceScopeFactory scopes, TimeProvider clock, ILogger<WeekMailWorker> log)
    : PeriodicWorker<NoteWeekMails>(
        scopes,
        clock,
        log,
        TimeSpan.FromMinutes(1),
        "The weeks by mail could not be looked at"
    )
{
    protected override Task RunOnceAsync(NoteWeekMails use, CancellationToken stop) => use.RunOnceAsync(stop);
}
