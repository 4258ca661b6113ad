using System.Collections.Concurrent;
using ShopFloor.Application.Progress;
using ShopFloor.Domain.Common;

namespace ShopFloor.Web.Features.Progress;

/// <summary>Counts in memory how often links are opened, and writes that down every half minute and when the server stops; also lets old counts of wrong links go.</summary>
public sealed class ProgressUses(IServiceScopeFactory scopes, TimeProvider clock, ILogger<ProgressUses> log)
    : BackgroundService
{
    private static readonly TimeSpan Pause = TimeSpan.FromSeconds(30);
    private static readonly TimeSpan BetweenForgetting = TimeSpan.FromHours(1);

    private readonly ConcurrentDictionary<ProgressLinkId, (long Times, DateTimeOffset Last)> uses = new();
    private DateTimeOffset forgotten;

    public void Count(ProgressLinkId link) => Add(new LinkUse(link, 1, clock.GetUtcNow()));

    /// <summary>Writes down what was counted so far.</summary>
    public async Task FlushAsync(CancellationToken ct)
    {
        // Nothing to write: a server that was stopped and taken apart already is not asked for its services.
        if (uses.IsEmpty)
        {
            return;
        }

        await using var scope = scopes.CreateAsyncScope();
        var write = scope.ServiceProvider.GetRequiredService<CountUses>();
        foreach (var link in uses.Keys)
        {
            if (!uses.TryRemove(link, out var use))
            {
                continue;
            }

            var counted = new LinkUse(link, use.Times, use.Last);
            try
            {
                await write.RunAsync(counted, ct);
            }
            catch (Exception exception) when (exception is System.Data.Common.DbException or OperationCanceledException)
            {
                Add(counted);
                throw;
            }
        }
    }

    public override async Task StopAsync(CancellationToken cancellationToken)
    {
        await base.StopAsync(cancellationToken);
        try
        {
            await TryAsync(() => FlushAsync(cancellationToken));
        }
        catch (ObjectDisposedException)
        {
            // A host that was taken apart before it was stopped has no services left to write with.
        }
    }

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        forgotten = clock.GetUtcNow();
        using var timer = new PeriodicTimer(Pause, clock);
        while (await timer.WaitForNextTickAsync(stoppingToken))
        {
            await TryAsync(() => FlushAsync(stoppingToken));
            if (clock.GetUtcNow() - forgotten >= BetweenForgetting)
            {
                forgotten = clock.GetUtcNow();
                await TryAsync(() => ForgetAsync(stoppingToken));
            }
        }
    }

    private async Task ForgetAsync(CancellationToken ct)
    {
        await using var scope = scopes.CreateAsyncScope();
        await scope.ServiceProvider.GetRequiredService<LinkDoor>().ForgetAsync(ct);
    }

    private async Task TryAsync(Func<Task> act)
    {
        try
        {
            await act();
        }
        catch (System.Data.Common.DbException exception)
        {
            log.LogWarning(exception, "Openings of customers' links could not be written down; trying again.");
        }
        catch (OperationCanceledException)
        {
            // The server stops; it is tried once more then.
        }
    }

    private void Add(LinkUse use) =>
        uses.AddOrUpdate(
            use.Link,
            (use.Times, use.Last),
            (_, old) => (old.Times + use.Times, old.Last > use.Last ? old.Last : use.Last)
        );
}

public static class ProgressSetup
{
    public static void AddProgressPage(this IServiceCollection services)
    {
        services.AddSingleton<ProgressCache>();
        services.AddSingleton<ProgressUses>();
        services.AddHostedService(s => s.GetRequiredService<ProgressUses>());
    }
}
