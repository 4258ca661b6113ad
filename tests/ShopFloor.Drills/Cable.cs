using System.Collections.Concurrent;
using System.Net;
using System.Net.Sockets;

namespace ShopFloor.Drills;

/// <summary>The cable between a program and its database, which can be pulled and plugged in again.</summary>
internal sealed class Cable : IAsyncDisposable
{
    private readonly TcpListener listener = new(IPAddress.Loopback, 0);
    private readonly ConcurrentDictionary<TcpClient, byte> ends = new();
    private readonly CancellationTokenSource closing = new();
    private readonly int to;
    private readonly Task serving;
    private volatile bool isCut;

    /// <param name="to">The port of the database on this machine.</param>
    public Cable(int to)
    {
        this.to = to;
        listener.Start();
        serving = ServeAsync();
    }

    public int Port => ((IPEndPoint)listener.LocalEndpoint).Port;

    /// <summary>Every connection breaks, and new ones break at once.</summary>
    public void Cut()
    {
        isCut = true;
        foreach (var end in ends.Keys)
        {
            end.Dispose();
        }
    }

    public void Mend() => isCut = false;

    private async Task ServeAsync()
    {
        while (!closing.IsCancellationRequested)
        {
            try
            {
                _ = CarryAsync(await listener.AcceptTcpClientAsync(closing.Token));
            }
            catch (OperationCanceledException)
            {
                return;
            }
        }
    }

    private async Task CarryAsync(TcpClient near)
    {
        using var far = new TcpClient();
        using (near)
        {
            if (isCut)
            {
                return;
            }

            ends.TryAdd(near, 0);
            ends.TryAdd(far, 0);
            try
            {
                await far.ConnectAsync(IPAddress.Loopback, to, closing.Token);
                await Task.WhenAny(
                    near.GetStream().CopyToAsync(far.GetStream(), closing.Token),
                    far.GetStream().CopyToAsync(near.GetStream(), closing.Token)
                );
            }
            catch (Exception broken)
                when (broken
                        is IOException
                            or SocketException
                            or ObjectDisposedException
                            or OperationCanceledException
                            or InvalidOperationException
                )
            {
                // Cut while it carried.
            }
            finally
            {
                ends.TryRemove(near, out _);
                ends.TryRemove(far, out _);
            }
        }
    }

    public async ValueTask DisposeAsync()
    {
        await closing.CancelAsync();
        Cut();
        listener.Dispose();
        await serving;
        closing.Dispose();
    }
}
