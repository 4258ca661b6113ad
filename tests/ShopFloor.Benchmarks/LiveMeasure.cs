using System.Diagnostics;
using System.Globalization;
using System.Security.Cryptography;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Application.Setup;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Benchmarks;

/// <summary>
/// From a tap to another screen: one device sends the tap; another, which shows the wall, hears of it and has read its page anew. Measured is everything between
/// sending the tap and the last byte of the other device's page. Goals: 100 ms at the 95th percentile on one server, 200 ms between two servers that share nothing
/// but PostgreSQL.
/// </summary>
internal static class LiveMeasure
{
    private const int Warm = 40;
    private const int Taps = 400;

    public static async Task RunAsync()
    {
        Say($"Yardstick: SHA-256 of 64 KiB takes {Yardstick():0.0} µs at the median.");
        using (var one = await LoadedAsync(null))
        {
            await MeasureAsync("one server, SQLite", one, one);
        }

        var database = await PostgresServer.NewDatabaseAsync();
        using var first = await LoadedAsync(database);
        await MeasureAsync("one server, PostgreSQL", first, first);
        using var second = LiveServer.Open(database);
        await MeasureAsync("two servers, PostgreSQL", first, second);
    }

    private static async Task<LiveServer> LoadedAsync(string? database)
    {
        var server = LiveServer.Open(database);
        await using var scope = server.Services.CreateAsyncScope();
        await scope.ServiceProvider.GetRequiredService<IDemoData>().LoadAsync(CancellationToken.None);
        return server;
    }

    private static async Task MeasureAsync(string name, LiveServer tapped, LiveServer watched)
    {
        using var screens = await LiveScreens.OpenAsync(tapped, watched);
        var (heard, shown) = (new List<double>(), new List<double>());
        for (var n = 0; n < Warm + Taps; n++)
        {
            await screens.RememberAsync(tapped);
            var times = await screens.TapAsync();
            if (n >= Warm)
            {
                heard.Add(times.Heard.TotalMilliseconds);
                shown.Add(times.Shown.TotalMilliseconds);
            }
        }

        Say(
            $"{name}: {Taps} taps; heard of after {At(heard, .5):0.0} ms (95th percentile {At(heard, .95):0.0}); shown after {At(shown, .5):0.0} ms (95th percentile {At(shown, .95):0.0}, worst {shown.Max():0.0})"
        );
    }

    private static void Say(FormattableString text) => Console.WriteLine(text.ToString(CultureInfo.InvariantCulture));

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
