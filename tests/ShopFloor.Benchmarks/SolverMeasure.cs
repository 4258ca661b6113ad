using System.Diagnostics;
using System.Globalization;
using ShopFloor.Domain.Nesting;
using ShopFloor.Domain.Planning.JobShop;
using ShopFloor.Domain.Solving;
using ShopFloor.Solvers.JobShop;
using ShopFloor.Solvers.Nesting;
using ShopFloor.Solvers.Tests;

namespace ShopFloor.Benchmarks;

/// <summary>What the solvers find and prove, and in what time, on published instances and on lists as a shop has them.</summary>
internal static class SolverMeasure
{
    private const int FirstSeed = 11;

    /// <param name="only">One of the parts; null for all.</param>
    public static void Write(TextWriter to, string? only)
    {
        if (only is null or "ft10")
        {
            foreach (var (name, optimum) in new[] { ("ft06", 55), ("la01", 666), ("ft10", 930) })
            {
                JobShop(to, name, optimum);
            }
        }

        if (only is null or "shops")
        {
            Shops(to, jobs: 10, seconds: 2);
            Shops(to, jobs: 40, seconds: 10);
        }

        foreach (var set in new[] { "u120", "t60" }.Where(s => only is null || only == s))
        {
            Packings(to, set);
        }

        if (only is null or "lists")
        {
            Lists(to, offcuts: 0);
            Lists(to, offcuts: 5);
        }
    }

    private static void JobShop(TextWriter to, string name, int optimum)
    {
        var problem = Published.JobShop(name);
        foreach (var seed in new[] { 1, 2, 3 })
        {
            var watch = Stopwatch.StartNew();
            var answer = new CpSatJobShopSolver().Solve(
                problem,
                new SolveLimits(120, seed),
                null,
                CancellationToken.None
            );
            to.WriteLine(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"{name} seed {seed}: {answer.Makespan} (published {optimum}), bound {answer.LowerBound}, rule {JobShopDispatch.Best(problem).Makespan(problem)}, {watch.Elapsed.TotalSeconds:0.00} s"
                )
            );
        }
    }

    /// <summary>Five shops of <see cref="DrawnShops"/>.</summary>
    private static void Shops(TextWriter to, int jobs, int seconds)
    {
        var gaps = new List<double>();
        var times = new List<double>();
        for (var n = 0; n < 5; n++)
        {
            var problem = DrawnShops.Draw(jobs, FirstSeed + n);
            var watch = Stopwatch.StartNew();
            var answer = new CpSatJobShopSolver().Solve(
                problem,
                new SolveLimits(seconds),
                null,
                CancellationToken.None
            );
            times.Add(watch.Elapsed.TotalSeconds);
            gaps.Add((answer.Makespan / (double)answer.LowerBound) - 1);
        }

        to.WriteLine(
            Said(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"{jobs} jobs of 20 operations on 8 resources: gaps {string.Join(", ", gaps.Select(g => (100 * g).ToString("0.00", CultureInfo.InvariantCulture)))} %"
                ),
                times
            )
        );
    }

    private static void Packings(TextWriter to, string set)
    {
        var times = new List<double>();
        var proven = 0;
        foreach (var packing in Published.Falkenauer(set))
        {
            var (answer, seconds) = Nest(packing.Request);
            times.Add(seconds);
            proven += answer?.IsProvenOptimal == true && answer.BarsUsed == packing.Optimum ? 1 : 0;
        }

        to.WriteLine(Said($"{set}: {proven} of {times.Count} at the published optimum, proven", times));
    }

    /// <summary>Sixty tubes of 150 to 2,599 mm from sticks of 6,096 mm, with some offcuts that there is one of each.</summary>
    private static void Lists(TextWriter to, int offcuts)
    {
        var times = new List<double>();
        var proven = 0;
        var worst = 0.0;
        var random = new Random(FirstSeed + offcuts);
        for (var n = 0; n < 20; n++)
        {
            List<NestPiece> pieces =
            [
                .. Enumerable.Range(0, 60).Select(i => new NestPiece($"T{i + 1}", random.Next(150, 2600), 1)),
            ];
            List<NestStock> stock =
            [
                new(6096),
                .. Enumerable.Range(0, offcuts).Select(_ => new NestStock(random.Next(600, 3500), 1)),
            ];
            var (answer, seconds) = Nest(new NestRequest(stock, pieces, 3, 10));
            times.Add(seconds);
            proven += answer?.IsProvenOptimal == true ? 1 : 0;
            worst = Math.Max(worst, answer is null ? 1 : (double)(answer.StockUsedMm / answer.LowerBoundStockMm) - 1);
        }

        to.WriteLine(
            Said(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"lists of 60 with {offcuts} offcuts: {proven} of 20 proven, worst gap {worst * 100:0.00} %"
                ),
                times
            )
        );
    }

    private static (NestAnswer? Answer, double Seconds) Nest(NestRequest request)
    {
        var problem = NestProblem.Create(request).Value;
        var watch = Stopwatch.StartNew();
        var result = new CuttingStockSolver().Solve(
            problem,
            new SolveLimits(SolveLimits.UsualSeconds),
            null,
            CancellationToken.None
        );
        return ((result as NestResult.Found)?.Answer, watch.Elapsed.TotalSeconds);
    }

    private static string Said(string what, List<double> times) =>
        string.Create(
            CultureInfo.InvariantCulture,
            $"{what}; median {times.Order().ElementAt(times.Count / 2):0.00} s, longest {times.Max():0.00} s"
        );
}
