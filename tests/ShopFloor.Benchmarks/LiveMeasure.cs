using System.Diagnostics;
using System.Globalization;
using System.Net.Http.Json;
using System.Security.Cryptography;
using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Application.Setup;
using ShopFloor.Data;
using ShopFloor.Domain.Routing;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Benchmarks;

/// <summary>
/// From a tap to another screen: the tap is sent by one device; another, which shows the wall, hears of it and has read its page anew.
/// What is measured is everything between sending the tap and the last byte of the other device's page. Goals: 100 ms at the 95th percentile
/// on one server, 200 ms between two servers that share nothing but PostgreSQL.
/// </summary>
internal static class LiveMeasure
{
    private const int Warm = 40;
    private const int Taps = 400;
    private const string Fabricator = "jonas@hollowlane.example.com";
    private const string Owner = "rosa@hollowlane.example.com";

    public static async Task RunAsync()
    {
        Console.WriteLine(
            $"Yardstick: SHA-256 of 64 KiB {Yardstick().ToString("0.0", CultureInfo.InvariantCulture)} µs at the median"
        );
        using (var one = new LiveServer(null))
        {
            await LoadAsync(one);
            await MeasureAsync("one server, SQLite", one, one);
        }

        var database = await PostgresServer.NewDatabaseAsync();
        using var first = new LiveServer(database);
        await LoadAsync(first);
        await MeasureAsync("one server, PostgreSQL", first, first);
        using var second = new LiveServer(database);
        await MeasureAsync("two servers, PostgreSQL", first, second);
    }

    private static async Task LoadAsync(LiveServer server)
    {
        await using var scope = server.Services.CreateAsyncScope();
        await scope.ServiceProvider.GetRequiredService<IDemoData>().LoadAsync(CancellationToken.None);
    }

    private static async Task MeasureAsync(string name, LiveServer tapped, LiveServer watched)
    {
        using var tablet = await tapped.DeviceAsync(Fabricator);
        using var wall = await watched.DeviceAsync(Owner);
        var (job, code) = await ReadyAsync(tapped);
        var session = await tablet.GetFromJsonAsync<JsonElement>(new Uri("/floor/session", UriKind.Relative));
        tablet.DefaultRequestHeaders.Add("X-CSRF-TOKEN", session.GetProperty("token").GetString());
        using var stream = await wall.GetAsync(
            new Uri("/floor/changes", UriKind.Relative),
            HttpCompletionOption.ResponseHeadersRead
        );
        using var reader = new StreamReader(await stream.Content.ReadAsStreamAsync());
        await reader.ReadLineAsync();
        var heard = new List<double>();
        var shown = new List<double>();
        for (var n = 0; n < Warm + Taps; n++)
        {
            var since = Stopwatch.GetTimestamp();
            var tap = TapAsync(tablet, job, code, n % 2 == 0 ? "start" : "stop");
            await NoticeAsync(reader);
            var notice = Stopwatch.GetElapsedTime(since).TotalMilliseconds;
            await wall.GetStringAsync(new Uri("/floor", UriKind.Relative));
            var page = Stopwatch.GetElapsedTime(since).TotalMilliseconds;
            await tap;
            if (n >= Warm)
            {
                heard.Add(notice);
                shown.Add(page);
            }
        }

        Console.WriteLine(
            string.Create(
                CultureInfo.InvariantCulture,
                $"{name}: {Taps} taps; notice p50 {At(heard, .5):0.0} ms, p95 {At(heard, .95):0.0} ms; page shown p50 {At(shown, .5):0.0} ms, p95 {At(shown, .95):0.0} ms, worst {shown.Max():0.0} ms"
            )
        );
    }

    private static async Task TapAsync(HttpClient tablet, string job, string code, string tap)
    {
        using var request = new HttpRequestMessage(HttpMethod.Post, $"/floor/jobs/{job}/operations/{code}/{tap}");
        request.Content = JsonContent.Create(new { });
        request.Headers.Add("Idempotency-Key", Guid.CreateVersion7().ToString("N"));
        using var answer = await tablet.SendAsync(request);
        if (!answer.IsSuccessStatusCode)
        {
            throw new InvalidOperationException($"The {tap} was refused: {await answer.Content.ReadAsStringAsync()}");
        }
    }

    /// <summary>Waits for the notice of one change.</summary>
    private static async Task NoticeAsync(StreamReader reader)
    {
        while (await reader.ReadLineAsync() is { } line)
        {
            if (line.StartsWith("data: {", StringComparison.Ordinal))
            {
                return;
            }
        }

        throw new InvalidOperationException("The stream of changes ended.");
    }

    /// <summary>An operation that can be started, is neither hot nor paint, and on which nobody is.</summary>
    private static async Task<(string Job, string Code)> ReadyAsync(LiveServer server)
    {
        using var device = await server.DeviceAsync(Fabricator);
        await using var db = await server
            .Services.GetRequiredService<IDbContextFactory<ShopDbContext>>()
            .CreateDbContextAsync();
        foreach (
            var job in await db.Set<Job>().Where(j => j.State == JobState.Open).OrderBy(j => j.Number).ToListAsync()
        )
        {
            var page = await device.GetStringAsync(new Uri($"/floor/jobs/{job.Id}", UriKind.Relative));
            const string Mark = "data-tap=\"start\" data-code=\"";
            for (
                var at = page.IndexOf(Mark, StringComparison.Ordinal);
                at >= 0;
                at = page.IndexOf(Mark, at + 1, StringComparison.Ordinal)
            )
            {
                var from = at + Mark.Length;
                var code = page[from..page.IndexOf('"', from)];
                var operation = await db.Set<Operation>().SingleAsync(o => o.JobId == job.Id && o.Code == code);
                if (
                    operation is
                    { Progress: not OperationProgress.InWork, Route: { HotWork: false, PaintOrSolvent: false } }
                )
                {
                    return (job.Id.ToString(), code);
                }
            }
        }

        throw new InvalidOperationException("Nothing can be started in the demo shop.");
    }

    private static double Yardstick()
    {
        var block = new byte[64 * 1024];
        var times = new List<double>();
        for (var n = 0; n < 2_000; n++)
        {
            var since = Stopwatch.GetTimestamp();
            SHA256.HashData(block);
            times.Add(Stopwatch.GetElapsedTime(since).TotalMicroseconds);
        }

        return At(times, .5);
    }

    private static double At(List<double> times, double share) =>
        times.Order().ElementAt((int)Math.Ceiling(share * times.Count) - 1);
}
