using System.Security.Cryptography;
using BenchmarkDotNet.Attributes;
using BenchmarkDotNet.Configs;
using BenchmarkDotNet.Jobs;
using BenchmarkDotNet.Toolchains.InProcess.NoEmit;
using ShopFloor.Application.Quoting;
using ShopFloor.Application.Routing;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Benchmarks;

/// <summary>Runs in this process, so that nothing has to be built again on a small machine.</summary>
public sealed class InThisProcess : ManualConfig
{
    public InThisProcess() => AddJob(Job.ShortRun.WithToolchain(InProcessNoEmitToolchain.Instance));
}

/// <summary>The counter's price, against a yardstick that tells how fast the machine is: SHA-256 of 64 KiB.</summary>
[Config(typeof(InThisProcess))]
[MemoryDiagnoser]
public class QuoteBenchmarks
{
    private readonly byte[] block = new byte[64 * 1024];
    private PriceBook book = null!;
    private PriceInput input = null!;
    private RouteLibrary routes = null!;

    [GlobalSetup]
    public void Prepare()
    {
        book = PriceBookEdition
            .Adopt(
                PriceBookId.From(Guid.Parse("019f0000-0000-7000-8000-000000000001")),
                StarterPriceBook.For(Currency.Of("EUR")),
                0,
                new DateOnly(2026, 5, 4),
                new DateTimeOffset(2026, 5, 4, 9, 0, 0, TimeSpan.Zero),
                null
            )
            .Value.Book;
        routes = new RouteLibrary();
        var scope = new JobScope(
            "six-point-weld-in",
            "street",
            [],
            [new(DoorSide.Left, "swing-out-pin"), new(DoorSide.Right, "swing-out-pin")],
            new Dictionary<string, string>
            {
                ["rust"] = "light",
                ["floor"] = "thin",
                ["tank"] = "stays-fitted",
            },
            Car.UnknownFacts
        );
        input = new PriceInput(scope, routes.For(scope), new Discount(5, null), 20_000, new DateOnly(2026, 5, 4));
        var lines = PriceEngine.Price(book, input).Value.Lines.Count;
        var extras = Enumerable
            .Range(1, 40 - lines)
            .Select(i => new ExtraLine($"Further line {i}", i, "piece", 1_234, ["goods"]));
        input = input with { Extras = PriceExtras.None with { Lines = [.. extras] } };
        if (PriceEngine.Price(book, input).Value.Lines.Count != 40)
        {
            throw new InvalidOperationException("The quote should have 40 lines.");
        }
    }

    [Benchmark(Baseline = true)]
    public byte[] Yardstick() => SHA256.HashData(block);

    [Benchmark]
    public PricedQuote QuoteOf40Lines() => PriceEngine.Price(book, input).Value;

    /// <summary>With every explanation opened down to its last part, as the canonical text of a sent quote does.</summary>
    [Benchmark]
    public int QuoteOf40LinesOpened() => PriceEngine.Price(book, input).Value.Lines.Sum(l => Opened(l.Explanation));

    private static int Opened(Explanation explanation) => 1 + explanation.Parts.Sum(Opened);

    [Benchmark]
    public IReadOnlyList<Alternative> WhatIfOfTheSame() => WhatIf.Of(book, input, routes.For);
}
