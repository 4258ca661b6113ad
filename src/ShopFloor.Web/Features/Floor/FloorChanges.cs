using System.Globalization;
using ShopFloor.Application.Common;

namespace ShopFloor.Web.Features.Floor;

/// <summary>Tells open floor pages that something changed, by server-sent events: the number of the event and the job, nothing more; the page reads the rest anew.</summary>
internal static class FloorChanges
{
    private static readonly TimeSpan Heartbeat = TimeSpan.FromSeconds(15);

    public static async Task StreamAsync(HttpContext http, IChangeNotices changes, IHostApplicationLifetime life)
    {
        using var ending = CancellationTokenSource.CreateLinkedTokenSource(
            http.RequestAborted,
            life.ApplicationStopping
        );
        var ct = ending.Token;
        http.Response.ContentType = "text/event-stream";
        http.Response.Headers.CacheControl = "no-store";
        http.Response.Headers["X-Accel-Buffering"] = "no";
        try
        {
            using var writing = new SemaphoreSlim(1);
            var beating = BeatAsync(http, writing, ct);
            await WriteAsync(http, "retry: 2000\n\n", writing, ct);
            await foreach (var notice in changes.ListenAsync(ct))
            {
                await WriteAsync(
                    http,
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"id: {notice.Sequence}\ndata: {{\"job\":\"{notice.JobId}\"}}\n\n"
                    ),
                    writing,
                    ct
                );
            }

            await ending.CancelAsync();
            await beating;
        }
        catch (OperationCanceledException)
        {
            // The page was closed, or the server stops.
        }
    }

    /// <summary>A word now and then, so that a dead connection is noticed by both sides.</summary>
    private static async Task BeatAsync(HttpContext http, SemaphoreSlim writing, CancellationToken ct)
    {
        using var timer = new PeriodicTimer(Heartbeat);
        while (await timer.WaitForNextTickAsync(ct))
        {
            await WriteAsync(http, "event: beat\ndata: -\n\n", writing, ct);
        }
    }

    private static async Task WriteAsync(HttpContext http, string text, SemaphoreSlim writing, CancellationToken ct)
    {
        await writing.WaitAsync(ct);
        try
        {
            await http.Response.WriteAsync(text, ct);
            await http.Response.Body.FlushAsync(ct);
        }
        finally
        {
            writing.Release();
        }
    }
}
