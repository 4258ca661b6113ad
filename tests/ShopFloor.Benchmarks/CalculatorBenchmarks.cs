using BenchmarkDotNet.Attributes;
using BenchmarkDotNet.Columns;
using BenchmarkDotNet.Configs;
using BenchmarkDotNet.Jobs;
using BenchmarkDotNet.Toolchains.InProcess.NoEmit;

namespace ShopFloor.Benchmarks;

/// <summary>Every calculator by the API, key and JSON included, beside an endpoint that does nothing. Goal: 5 ms at the 95th percentile.</summary>
[Config(typeof(WithPercentile))]
public class CalculatorBenchmarks
{
    private RunningShop shop = null!;
    private HttpClient api = null!;
    private CalculatorCall call = null!;

    private sealed class WithPercentile : ManualConfig
    {
        public WithPercentile()
        {
            AddJob(
                Job.Default.WithToolchain(InProcessNoEmitToolchain.Instance)
                    .WithWarmupCount(3)
                    .WithIterationCount(30)
                    .WithInvocationCount(16)
                    .WithUnrollFactor(16)
            );
            AddColumn(StatisticColumn.P95);
        }
    }

    public static IEnumerable<string> Names => CalculatorCall.All.Select(c => c.Name);

    [ParamsSource(nameof(Names))]
    public string Calculator { get; set; } = "";

    [GlobalSetup]
    public void Prepare()
    {
        (shop, api) = RunningShop.OpenAsync().GetAwaiter().GetResult();
        call = CalculatorCall.All.Single(c => c.Name == Calculator);
    }

    [GlobalCleanup]
    public void Close()
    {
        api.Dispose();
        shop.Dispose();
    }

    [Benchmark(Baseline = true)]
    public Task Empty() => CalculatorCall.Empty.SendAsync(api);

    [Benchmark]
    public Task Asked() => call.SendAsync(api);
}
