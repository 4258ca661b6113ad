using System.Collections.Concurrent;
using System.Threading.Channels;
using ShopFloor.Domain.Common;

namespace ShopFloor.Application.Planning;

/// <summary>Plans that were asked for at this server, one after another.</summary>
public sealed class PlanQueue : IDisposable
{
    private readonly Channel<PlanRunId> asked = Channel.CreateUnbounded<PlanRunId>();
    private readonly ConcurrentDictionary<PlanRunId, CancellationTokenSource> running = new();

    public void Add(PlanRunId id)
    {
        var source = new CancellationTokenSource();
        if (running.TryAdd(id, source))
        {
            asked.Writer.TryWrite(id);
        }
        else
        {
            // Asked for twice: an answer was repeated.
            source.Dispose();
        }
    }

    /// <summary>Stops it where it runs here; where it runs at another server, that one reads it in the database.</summary>
    public void Cancel(PlanRunId id)
    {
        if (running.TryGetValue(id, out var source))
        {
            source.Cancel();
        }
    }

    /// <summary>Takes one plan after another until stopped.</summary>
    public async Task ServeAsync(Func<PlanRunId, CancellationToken, Task> make, CancellationToken stop)
    {
        ArgumentNullException.ThrowIfNull(make);
        await foreach (var id in asked.Reader.ReadAllAsync(stop))
        {
            await make(id, running[id].Token);
            if (running.TryRemove(id, out var source))
            {
                source.Dispose();
            }
        }
    }

    public void Dispose()
    {
        foreach (var source in running.Values)
        {
            source.Dispose();
        }
    }
}
