using System.Diagnostics;
using System.Globalization;
using System.Net.Http.Headers;
using System.Net.Http.Json;
using System.Net.Sockets;
using System.Text;
using System.Text.Json;

namespace ShopFloor.Benchmarks;

/// <summary>How much one server on SQLite holds: pages of the floor that stay connected, writes a second, and what others notice of slow and of flooding callers. The callers share the machine with it.</summary>
internal static class LoadMeasure
{
    private const int Calls = 200;
    private static readonly int[] Steps = [250, 500, 1_000];

    public static async Task RunAsync()
    {
        await using var server = await DemoProcess.StartAsync();
        using var device = await LiveServer.DeviceAsync(server.Url, "jonas@hollowlane.example.com");
        using var api = new HttpClient { BaseAddress = new Uri(server.Url) };
        api.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", await server.KeyAsync());
        var job = (await api.GetFromJsonAsync<JsonElement>(new Uri("/api/v1/jobs?pageSize=1", UriKind.Relative)))
            .GetProperty("items")[0]
            .GetProperty("id")
            .GetString();
        var page = new Uri($"/floor/jobs/{job}", UriKind.Relative);
        await TimesAsync(device, page);
        await WriteAsync(api, 1, TimeSpan.FromSeconds(3));
        await SayTimesAsync("nobody else", device, page);

        foreach (var clients in new[] { 1, 4, 16 })
        {
            var (rate, times) = await WriteAsync(api, clients, TimeSpan.FromSeconds(8));
            Say(
                $"writes, {clients} at once: {rate:0} a second; {At(times, .5):0.0} ms at the median, {At(times, .95):0.0} at the 95th percentile"
            );
        }

        var open = new List<HttpResponseMessage>();
        await Task.Delay(TimeSpan.FromSeconds(5));
        var before = server.ResidentMiB;
        Say($"memory with no page of the floor: {before:0} MiB");
        foreach (var wanted in Steps)
        {
            while (open.Count < wanted)
            {
                open.Add(
                    await device.GetAsync(
                        new Uri("/floor/changes", UriKind.Relative),
                        HttpCompletionOption.ResponseHeadersRead
                    )
                );
            }

            await Task.Delay(TimeSpan.FromSeconds(5));
            var now = server.ResidentMiB;
            Say($"{wanted} pages of the floor connected: {now:0} MiB, {(now - before) * 1024 / wanted:0} KiB each");
            await SayTimesAsync($"{wanted} connected", device, page);
        }

        var used = server.Processor;
        await Task.Delay(TimeSpan.FromSeconds(30));
        Say($"1,000 connected and nothing happening: {(server.Processor - used).TotalSeconds / 30:0.0%} of one core");
        await SlowReadersAsync(server, device, page);
        await FloodAsync(server, device, page);
        open.ForEach(o => o.Dispose());
    }

    /// <summary>Fifty who ask for a page and hardly read it.</summary>
    private static async Task SlowReadersAsync(DemoProcess server, HttpClient device, Uri page)
    {
        var address = new Uri(server.Url);
        var slow = new List<TcpClient>();
        for (var i = 0; i < 50; i++)
        {
            var client = new TcpClient { ReceiveBufferSize = 512 };
            await client.ConnectAsync(address.Host, address.Port);
            await client
                .GetStream()
                .WriteAsync(Encoding.ASCII.GetBytes($"GET /sign-in HTTP/1.1\r\nHost: {address.Authority}\r\n\r\n"));
            slow.Add(client);
        }

        await SayTimesAsync("50 who do not read their answers", device, page);
        slow.ForEach(s => s.Dispose());
    }

    /// <summary>Four who guess links as fast as they can.</summary>
    private static async Task FloodAsync(DemoProcess server, HttpClient device, Uri page)
    {
        using var stop = new CancellationTokenSource();
        var answered = 0;
        var flood = Enumerable
            .Range(0, 4)
            .Select(async n =>
            {
                using var client = new HttpClient { BaseAddress = new Uri(server.Url) };
                for (var i = 0; !stop.IsCancellationRequested; i++)
                {
                    var guess = $"/p/{n}{i}".PadRight(46, 'x');
                    using var answer = await client.GetAsync(new Uri(guess, UriKind.Relative));
                    Interlocked.Increment(ref answered);
                }
            })
            .ToList();
        var since = Stopwatch.GetTimestamp();
        await SayTimesAsync("4 who flood the links", device, page);
        var rate = answered / Stopwatch.GetElapsedTime(since).TotalSeconds;
        await stop.CancelAsync();
        await Task.WhenAll(flood);
        Say($"the flood was answered {rate:0} times a second");
    }

    private static async Task<(double Rate, List<double> Times)> WriteAsync(
        HttpClient api,
        int clients,
        TimeSpan length
    )
    {
        var since = Stopwatch.GetTimestamp();
        var times = await Task.WhenAll(
            Enumerable
                .Range(0, clients)
                .Select(async n =>
                {
                    var mine = new List<double>();
                    while (Stopwatch.GetElapsedTime(since) < length)
                    {
                        var began = Stopwatch.GetTimestamp();
                        using var answer = await api.PostAsJsonAsync(
                            new Uri("/api/v1/customers", UriKind.Relative),
                            new { name = $"Customer {n} {mine.Count}" }
                        );
                        answer.EnsureSuccessStatusCode();
                        mine.Add(Stopwatch.GetElapsedTime(began).TotalMilliseconds);
                    }

                    return mine;
                })
        );
        var all = times.SelectMany(t => t).ToList();
        return (all.Count / Stopwatch.GetElapsedTime(since).TotalSeconds, all);
    }

    private static async Task SayTimesAsync(string with, HttpClient device, Uri page)
    {
        var times = await TimesAsync(device, page);
        Say(
            $"a car's page on the floor, {with}: {At(times, .5):0.0} ms at the median, {At(times, .95):0.0} at the 95th percentile, {times.Max():0.0} at most"
        );
    }

    private static async Task<List<double>> TimesAsync(HttpClient device, Uri page)
    {
        var times = new List<double>();
        for (var i = 0; i < Calls; i++)
        {
            var began = Stopwatch.GetTimestamp();
            await device.GetByteArrayAsync(page);
            times.Add(Stopwatch.GetElapsedTime(began).TotalMilliseconds);
        }

        return times;
    }

    private static void Say(FormattableString text) => Console.WriteLine(text.ToString(CultureInfo.InvariantCulture));

    private static double At(List<double> times, double share) =>
        times.Order().ElementAt((int)Math.Ceiling(share * times.Count) - 1);
}
