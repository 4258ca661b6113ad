using System.Security.Cryptography;
using BenchmarkDotNet.Attributes;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Benchmarks;

/// <summary>The build-sequence check on 60 operations and 12 access ways, against a yardstick that tells how fast the machine is: SHA-256 of 64 KiB.</summary>
[Config(typeof(InThisProcess))]
[MemoryDiagnoser]
public class SequenceBenchmarks
{
    private readonly byte[] block = new byte[64 * 1024];
    private SequencePlan open = null!;
    private SequencePlan corner = null!;
    private IReadOnlyList<SequencePlan> mixed = [];

    [GlobalSetup]
    public void Prepare()
    {
        open = Strands(hasCorner: false);
        corner = Strands(hasCorner: true);
        mixed = [.. Enumerable.Range(0, 20).Select(Random)];
        if (SequenceCheck.Run(open).CanFinish is not true || SequenceCheck.Run(corner).CanFinish is not false)
        {
            throw new InvalidOperationException("One network should be finishable and the other should not.");
        }
    }

    [Benchmark(Baseline = true)]
    public byte[] Yardstick() => SHA256.HashData(block);

    /// <summary>Five strands that close and open ways of their own and one of all; an order exists.</summary>
    [Benchmark]
    public bool? SixtyOperationsThatCanBeFinished() => SequenceCheck.Run(open).CanFinish;

    /// <summary>The same with one operation that can never be reached: every order has to be ruled out.</summary>
    [Benchmark]
    public bool? SixtyOperationsThatCannot() => SequenceCheck.Run(corner).CanFinish;

    /// <summary>Twenty networks of 60 operations and 12 ways drawn from fixed seeds; the time is that of all twenty.</summary>
    [Benchmark]
    public int TwentyRandomNetworksOfSixty() => mixed.Count(p => SequenceCheck.Run(p).CanFinish is not null);

    private static SequencePlan Strands(bool hasCorner)
    {
        var operations = new List<SequenceOperation>();
        for (var strand = 0; strand < 5; strand++)
        {
            for (var i = 0; i < 12; i++)
            {
                var own = $"w{(strand * 2) + (i % 2)}";
                operations.Add(
                    new SequenceOperation(
                        $"{strand}.{i}",
                        i == 0 ? [] : [$"{strand}.{i - 1}"],
                        i % 6 == 0 ? [own]
                            : i % 5 == 4 ? ["shared"]
                            : [],
                        i % 4 == 1 ? [own]
                            : i == 5 ? ["shared"]
                            : [],
                        i % 4 == 3 ? [own, $"w{(strand * 2) + ((i + 1) % 2)}"]
                            : i == 6 ? ["shared"]
                            : []
                    )
                );
            }
        }

        if (hasCorner)
        {
            // The last of one strand needs what the last of another ends for good, and the other way about.
            operations[11] = operations[11] with
            {
                NeedsOpen = ["door"],
                Closes = ["door"],
                Opens = [],
            };
            operations[23] = operations[23] with { NeedsOpen = ["door"], Closes = ["door"], Opens = [] };
        }

        return new SequencePlan([.. Enumerable.Range(0, 10).Select(i => $"w{i}"), "shared", "door"], operations, []);
    }

    private static SequencePlan Random(int seed)
    {
        var random = new Random(seed);
        string[] Ways(int odds) => [.. Enumerable.Range(0, 12).Where(_ => random.Next(odds) == 0).Select(w => $"w{w}")];
        return new SequencePlan(
            [.. Enumerable.Range(0, 12).Select(w => $"w{w}")],
            [
                .. Enumerable
                    .Range(0, 60)
                    .Select(i => new SequenceOperation(
                        $"o{i}",
                        [.. Enumerable.Range(0, i).Where(_ => random.Next(20) == 0).Select(j => $"o{j}")],
                        Ways(12),
                        Ways(40),
                        Ways(20)
                    )),
            ],
            []
        );
    }
}
