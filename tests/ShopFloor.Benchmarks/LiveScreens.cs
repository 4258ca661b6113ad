using System.Diagnostics;
using System.Globalization;
using System.Net.Http.Json;
using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Data;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Benchmarks;

/// <summary>A tablet on which somebody starts and stops an operation by turns, and a wall on another device that follows.</summary>
internal sealed class LiveScreens : IDisposable
{
    private const string Fabricator = "jonas@hollowlane.example.com";
    private const string Owner = "rosa@hollowlane.example.com";
    private readonly HttpClient tablet;
    private readonly HttpClient wall;
    private readonly HttpResponseMessage changes;
    private readonly StreamReader notices;
    private readonly string operation;
    private bool isRunning;
    private long last;

    private LiveScreens(
        HttpClient tablet,
        HttpClient wall,
        HttpResponseMessage changes,
        StreamReader notices,
        string operation
    )
    {
        (this.tablet, this.wall, this.changes) = (tablet, wall, changes);
        (this.notices, this.operation) = (notices, operation);
    }

    public static async Task<LiveScreens> OpenAsync(LiveServer tapped, LiveServer watched)
    {
        var tablet = await tapped.DeviceAsync(Fabricator);
        var operation = await ReadyAsync(tapped, tablet);
        var session = await tablet.GetFromJsonAsync<JsonElement>(new Uri("/floor/session", UriKind.Relative));
        tablet.DefaultRequestHeaders.Add("X-CSRF-TOKEN", session.GetProperty("token").GetString());
        var wall = await watched.DeviceAsync(Owner);
        var changes = await wall.GetAsync(
            new Uri("/floor/changes", UriKind.Relative),
            HttpCompletionOption.ResponseHeadersRead
        );
        var notices = new StreamReader(await changes.Content.ReadAsStreamAsync());
        await notices.ReadLineAsync();
        return new LiveScreens(tablet, wall, changes, notices, operation);
    }

    /// <summary>Notes the last event so far: only a later one tells of the tap that comes.</summary>
    public async Task RememberAsync(LiveServer server)
    {
        await using var db = await server
            .Services.GetRequiredService<IDbContextFactory<ShopDbContext>>()
            .CreateDbContextAsync();
        last = await db.Events.MaxAsync(e => e.Sequence);
    }

    /// <summary>One tap: after how long the wall has heard of it, and after how long it shows it.</summary>
    public async Task<(TimeSpan Heard, TimeSpan Shown)> TapAsync()
    {
        var since = Stopwatch.GetTimestamp();
        var tap = SendAsync(isRunning ? "stop" : "start");
        await NoticeAsync();
        var heard = Stopwatch.GetElapsedTime(since);
        await wall.GetStringAsync(new Uri("/floor", UriKind.Relative));
        var shown = Stopwatch.GetElapsedTime(since);
        await tap;
        isRunning = !isRunning;
        return (heard, shown);
    }

    public void Dispose()
    {
        notices.Dispose();
        changes.Dispose();
        tablet.Dispose();
        wall.Dispose();
    }

    private async Task SendAsync(string tap)
    {
        using var request = new HttpRequestMessage(HttpMethod.Post, $"{operation}/{tap}");
        request.Content = JsonContent.Create(new { });
        request.Headers.Add("Idempotency-Key", Guid.CreateVersion7().ToString("N"));
        using var answer = await tablet.SendAsync(request);
        if (!answer.IsSuccessStatusCode)
        {
            throw new InvalidOperationException($"The {tap} was refused: {await answer.Content.ReadAsStringAsync()}");
        }
    }

    private async Task NoticeAsync()
    {
        while (await notices.ReadLineAsync() is { } line)
        {
            if (
                line.StartsWith("id: ", StringComparison.Ordinal)
                && long.Parse(line.AsSpan(4), NumberStyles.None, CultureInfo.InvariantCulture) > last
            )
            {
                return;
            }
        }

        throw new InvalidOperationException("The stream of changes ended.");
    }

    /// <summary>The address of an operation that can be started, is neither hot nor paint, and on which nobody is.</summary>
    private static async Task<string> ReadyAsync(LiveServer server, HttpClient tablet)
    {
        const string Mark = "data-tap=\"start\" data-code=\"";
        await using var db = await server
            .Services.GetRequiredService<IDbContextFactory<ShopDbContext>>()
            .CreateDbContextAsync();
        var open = await db.Set<Job>().Where(j => j.State == JobState.Open).OrderBy(j => j.Number).ToListAsync();
        foreach (var job in open)
        {
            var page = await tablet.GetStringAsync(new Uri($"/floor/jobs/{job.Id}", UriKind.Relative));
            foreach (var card in page.Split(Mark).Skip(1))
            {
                var code = card[..card.IndexOf('"', StringComparison.Ordinal)];
                var operation = await db.Set<Operation>().SingleAsync(o => o.JobId == job.Id && o.Code == code);
                if (
                    operation is
                    { Progress: not OperationProgress.InWork, Route: { HotWork: false, PaintOrSolvent: false } }
                )
                {
                    return $"/floor/jobs/{job.Id}/operations/{code}";
                }
            }
        }

        throw new InvalidOperationException("Nothing can be started in the demo shop.");
    }
}
