using ShopFloor.Application.Common;

namespace ShopFloor.Web.Features.Shared;

/// <summary>Tells an open page without a circuit that something changed, by server-sent events; the page reads the rest anew.</summary>
internal static class ChangeStream
{
    private static readonly TimeSpan Heartbeat = TimeSpan.FromSeconds(15);

    /// <summary>Runs until the page is closed, the server stops, or <paramref name="longest"/> is over; the page then connects again.</summary>
    /// <param name="say">What a notice is told as, an <c>id:</c> line included where the page counts; null leaves it out.</param>
    /// <param name="longest">Null for as long as the page is open.</param>
    /// <param name="missed">Asked once the stream listens: what to tell at once of changes made before that; null for nothing.</param>
    public static async Task RunAsync(
        HttpContext http,
        IChangeNotices changes,
        IHostApplicationLifetime life,
        Func<ChangeNotice, string?> say,
        TimeSpan? longest = null,
        Func<CancellationToken, Task<string?>>? missed = null
    )
    {
        using var ending = CancellationTokenSource.CreateLinkedTokenSource(
            http.RequestAborted,
            life.ApplicationStopping
        );
        if (longest is { } span)
        {
            ending.CancelAfter(span);
        }

        var ct = ending.Token;
        http.Response.ContentType = "text/event-stream";
        http.Response.Headers.CacheControl = "no-store";
        http.Response.Headers["X-Accel-Buffering"] = "no";
        try
        {
            using var writing = new SemaphoreSlim(1);
            var beating = BeatAsync(http, writing, ct);
            await WriteAsync(http, "retry: 2000\n\n", writing, ct);
            await using var notices = changes.ListenAsync(ct).GetAsyncEnumerator(ct);
            // The stream listens from here on: nothing falls between what was missed and what is told.
            var next = notices.MoveNextAsync();
            if (missed is not null && await missed(ct) is { } before)
            {
                await WriteAsync(http, before + "\n\n", writing, ct);
            }

            while (await next)
            {
                if (say(notices.Current) is { } text)
                {
                    await WriteAsync(http, text + "\n\n", writing, ct);
                }

                next = notices.MoveNextAsync();
            }

            await ending.CancelAsync();
            await beating;
        }
        catch (OperationCanceledException)
        {
            // The page was closed, the server stops, or the time is over.
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
