using System.Collections.Concurrent;
using System.Threading.Channels;

namespace ShopFloor.Application.Common;

/// <summary>Tells open pages that something changed, after it was committed.</summary>
public interface IChangeNotices
{
    /// <summary>False while it may miss what other servers change; what was read before must then be read anew.</summary>
    bool IsUp { get; }

    /// <summary>Called by the runner after a commit.</summary>
    Task PublishAsync(IReadOnlyList<ChangeNotice> notices, CancellationToken ct);

    /// <summary>Notices from now on, until cancelled. A slow reader loses the oldest, never slows the others; it should read the state anew anyway.</summary>
    IAsyncEnumerable<ChangeNotice> ListenAsync(CancellationToken ct);
}

/// <summary>Notices within this process.</summary>
public sealed class ChangeHub : IChangeNotices
{
    private readonly ConcurrentDictionary<Guid, Channel<ChangeNotice>> listeners = new();

    public int Listeners => listeners.Count;

    public bool IsUp => true;

    /// <summary>Called for every notice before anybody who listens gets it, and by the server that made the change before anybody hears of it; perhaps twice. Must be quick and not throw.</summary>
    public event Action<ChangeNotice>? Heard;

    /// <summary>Tells those who keep something in memory, and nobody else.</summary>
    public void Announce(IReadOnlyList<ChangeNotice> notices)
    {
        foreach (var notice in notices)
        {
            Heard?.Invoke(notice);
        }
    }

    public Task PublishAsync(IReadOnlyList<ChangeNotice> notices, CancellationToken ct)
    {
        foreach (var notice in notices)
        {
            Deliver(notice);
        }

        return Task.CompletedTask;
    }

    public void Deliver(ChangeNotice notice)
    {
        Heard?.Invoke(notice);
        foreach (var listener in listeners.Values)
        {
            listener.Writer.TryWrite(notice);
        }
    }

    public async IAsyncEnumerable<ChangeNotice> ListenAsync(
        [System.Runtime.CompilerServices.EnumeratorCancellation] CancellationToken ct
    )
    {
        var id = Guid.CreateVersion7();
        var channel = Channel.CreateBounded<ChangeNotice>(
            new BoundedChannelOptions(256) { FullMode = BoundedChannelFullMode.DropOldest, SingleReader = true }
        );
        listeners[id] = channel;
        try
        {
            await foreach (var notice in channel.Reader.ReadAllAsync(ct))
            {
                yield return notice;
            }
        }
        finally
        {
            listeners.TryRemove(id, out _);
        }
    }
}
