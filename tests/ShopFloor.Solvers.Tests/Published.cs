using System.Globalization;
using ShopFloor.Domain.Nesting;
using ShopFloor.Domain.Planning.JobShop;

namespace ShopFloor.Solvers.Tests;

/// <summary>Instances that others published, with the optima that they give.</summary>
internal static class Published
{
    /// <summary>A bin packing instance: each bar is <paramref name="Bin"/> long.</summary>
    public sealed record Packing(string Name, int Bin, int Optimum, IReadOnlyList<int> Items)
    {
        public NestRequest Request =>
            new(
                [new NestStock(Bin)],
                [.. Items.GroupBy(i => i).Select(g => new NestPiece($"of {g.Key}", g.Key, g.Count()))]
            );
    }

    /// <param name="set">u120 or t60.</param>
    public static IReadOnlyList<Packing> Falkenauer(string set) =>
        [
            .. Lines($"{set}.txt")
                .Select(l => l.Split(' '))
                .Select(w => new Packing(w[0], Number(w[1]), Number(w[2]), [.. w.Skip(3).Select(Number)])),
        ];

    /// <param name="name">ft06, ft10 or la01.</param>
    public static JobShopProblem JobShop(string name) =>
        JobShopProblem
            .Create([
                .. Lines($"jobshop/{name}.txt")
                    .Skip(1)
                    .Select(l => l.Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(Number).ToArray())
                    .Select(
                        (w, j) =>
                            new JobShopJob(
                                $"job {j}",
                                [.. w.Chunk(2).Select(p => new JobShopStep($"machine {p[0]}", p[1]))]
                            )
                    ),
            ])
            .Value;

    private static IEnumerable<string> Lines(string file)
    {
        using var stream = typeof(Published).Assembly.GetManifestResourceStream("published/" + file)!;
        using var reader = new StreamReader(stream);
        return
        [
            .. reader
                .ReadToEnd()
                .Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries)
                .Where(l => !l.StartsWith('#')),
        ];
    }

    private static int Number(string text) => int.Parse(text, CultureInfo.InvariantCulture);
}
