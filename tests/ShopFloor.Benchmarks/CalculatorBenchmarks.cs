using System.Globalization;
using System.Text;
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
    private const string Notch =
        "\"branchOutsideDiameterMm\": 44.45, \"branchWallMm\": 2.413, \"headerOutsideDiameterMm\": 44.45, \"angleDegrees\": 52, \"offsetMm\": 0";
    private RunningShop shop = null!;
    private HttpClient api = null!;
    private string longPath = "";

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

    [GlobalSetup]
    public void Prepare()
    {
        (shop, api) = RunningShop.OpenAsync().GetAwaiter().GetResult();
        var points = Enumerable
            .Range(0, 100)
            .Select(i =>
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"{{\"xMm\": {i * 500}, \"yMm\": {i % 2 * 300}, \"zMm\": {i % 3 * 200}}}"
                )
            );
        longPath =
            $"{{\"outsideDiameterMm\": 40, \"wallMm\": 2, \"centrelineRadiusMm\": 120, \"points\": [{string.Join(',', points)}]}}";
    }

    [GlobalCleanup]
    public void Close()
    {
        api.Dispose();
        shop.Dispose();
    }

    [Benchmark(Baseline = true)]
    public int Empty()
    {
        using var answer = api.GetAsync(new Uri("/health/live", UriKind.Relative)).GetAwaiter().GetResult();
        return (int)answer.EnsureSuccessStatusCode().StatusCode;
    }

    [Benchmark]
    public int Vin()
    {
        using var answer = api.GetAsync(new Uri("/api/v1/calculators/vin/1M8GDM9AXKP042788", UriKind.Relative))
            .GetAwaiter()
            .GetResult();
        return (int)answer.EnsureSuccessStatusCode().StatusCode;
    }

    [Benchmark]
    public int RoundTube() => Ask("round-tube", """{"outsideDiameterMm": 45, "wallMm": 2.5, "lengthMm": 6000}""");

    [Benchmark]
    public int Bend() => Ask("bend", """{"outsideDiameterMm": 45, "centrelineRadiusMm": 135, "angleDegrees": 90}""");

    [Benchmark]
    public int TubePathOf100Points() => Ask("tube-path", longPath);

    [Benchmark]
    public int NotchSeat() => Ask("notch", $"{{{Notch}}}");

    [Benchmark]
    public int NotchOf3600Points() => Ask("notch", $"{{{Notch}, \"pointCount\": 3600}}");

    [Benchmark]
    public int HingeCut() =>
        Ask(
            "hinge-cut",
            """{"ends": [{"name": "front", "jointRootMm": 30, "bendTangentMm": 260, "insertLengthMm": 45, "bodyLengthMm": 63.5}]}"""
        );

    [Benchmark]
    public int HeatInput() =>
        Ask("heat-input", """{"process": "gmaw", "voltageV": 18, "currentA": 110, "travelSpeedMmPerS": 5}""");

    [Benchmark]
    public int ThreePoint() => Ask("three-point", """{"items": [{"lowHours": 2, "likelyHours": 4, "highHours": 9}]}""");

    [Benchmark]
    public int Totals() =>
        Ask(
            "totals",
            """{"currency": "EUR", "lines": [{"description": "Bar", "quantity": 2.5, "unitPriceMinor": 620, "taxCodes": ["s"]}], "taxes": [{"code": "s", "ratePercent": 20}]}"""
        );

    [Benchmark]
    public int SequenceCheck() =>
        Ask(
            "sequence-check",
            """{"ways": ["tilt"], "operations": [{"id": "a", "needsOpen": ["tilt"]}, {"id": "b", "after": ["a"], "closes": ["tilt"]}]}"""
        );

    private int Ask(string call, string body)
    {
        using var content = new StringContent(body, Encoding.UTF8, "application/json");
        using var answer = api.PostAsync(new Uri("/api/v1/calculators/" + call, UriKind.Relative), content)
            .GetAwaiter()
            .GetResult();
        return (int)answer.EnsureSuccessStatusCode().StatusCode;
    }
}
