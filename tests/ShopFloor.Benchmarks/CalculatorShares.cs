using System.Diagnostics;
using System.Globalization;

namespace ShopFloor.Benchmarks;

/// <summary>Each calculator's call by turns with an empty one, so that whatever else the machine does falls on both alike: what a call costs in times of an empty one, its 95th percentile, and its share of processor time.</summary>
internal static class CalculatorShares
{
    /// <summary>Times that each call is made first: the runtime compiles a method well once it was used often.</summary>
    private const int Warm = 300;
    private const int Pairs = 400;

    /// <summary>A table in Markdown.</summary>
    public static async Task WriteAsync(TextWriter to)
    {
        var (shop, api) = await RunningShop.OpenAsync();
        using (shop)
        using (api)
        {
            foreach (var call in CalculatorCall.All.Append(CalculatorCall.Empty))
            {
                for (var i = 0; i < Warm; i++)
                {
                    await call.SendAsync(api);
                }
            }

            await to.WriteLineAsync(
                "| call | ratio of medians | median ms | 95th percentile ms | of the empty one, ms | processor ms |"
            );
            await to.WriteLineAsync("|---|---|---|---|---|---|");
            foreach (var call in CalculatorCall.All)
            {
                await to.WriteLineAsync(await RowAsync(api, call));
            }
        }
    }

    private static async Task<string> RowAsync(HttpClient api, CalculatorCall call)
    {
        var (empty, asked) = (new double[Pairs], new double[Pairs]);
        for (var i = 0; i < Pairs; i++)
        {
            empty[i] = await MillisecondsAsync(api, CalculatorCall.Empty);
            asked[i] = await MillisecondsAsync(api, call);
        }

        var before = Process.GetCurrentProcess().TotalProcessorTime;
        for (var i = 0; i < Pairs; i++)
        {
            await call.SendAsync(api);
        }

        var processor = (Process.GetCurrentProcess().TotalProcessorTime - before).TotalMilliseconds / Pairs;
        Array.Sort(empty);
        Array.Sort(asked);
        return string.Create(
            CultureInfo.InvariantCulture,
            $"| {call.Name} | {At(asked, 0.5) / At(empty, 0.5):0.0} | {At(asked, 0.5):0.00} | {At(asked, 0.95):0.00} | {At(empty, 0.5):0.00} / {At(empty, 0.95):0.00} | {processor:0.00} |"
        );
    }

    private static async Task<double> MillisecondsAsync(HttpClient api, CalculatorCall call)
    {
        var begin = Stopwatch.GetTimestamp();
        await call.SendAsync(api);
        return Stopwatch.GetElapsedTime(begin).TotalMilliseconds;
    }

    private static double At(double[] sorted, double share) => sorted[(int)(share * (sorted.Length - 1))];
}
