using CsCheck;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Nesting;
using ShopFloor.Domain.Solving;
using ShopFloor.Solvers.Nesting;

namespace ShopFloor.Solvers.Tests;

public sealed class NestTests
{
    private static NestResult Run(NestRequest request, int seconds = 10, CancellationTokenSource? stop = null) =>
        new CuttingStockSolver().Solve(
            NestProblem.Create(request).Value,
            new SolveLimits(seconds),
            null,
            stop?.Token ?? TestContext.Current.CancellationToken
        );

    private static NestAnswer Solve(NestRequest request, int seconds = 10)
    {
        var answer = Assert.IsType<NestResult.Found>(Run(request, seconds)).Answer;
        Assert.Empty(NestCheck.Faults(request, answer));
        return answer;
    }

    private static NestRequest Request(decimal stock, decimal kerf, params (decimal Length, int Count)[] pieces) =>
        new([new NestStock(stock)], [.. pieces.Select(p => new NestPiece($"{p.Length}", p.Length, p.Count))], kerf);

    /// <summary>
    /// P1: Chvátal, Linear Programming, 1983, ch. 13. P2: the paper-mill example of public encyclopedias. P3: Martello and Toth, Knapsack Problems, 1990,
    /// ch. 8 (each source from memory or as public collections have the data; the optima were also proven with exact fractions and another solver).
    /// P4: smallest found where first fit is not enough. P5: a list of tubes with kerf.
    /// </summary>
    public static TheoryData<string, decimal, decimal, (decimal, int)[], int> Known =>
        new()
        {
            { "P1", 100, 0, [(45, 97), (36, 610), (31, 395), (14, 211)], 453 },
            {
                "P2",
                5600,
                0,
                [
                    (1380, 22),
                    (1520, 25),
                    (1560, 12),
                    (1710, 14),
                    (1820, 18),
                    (1880, 18),
                    (1930, 20),
                    (2000, 10),
                    (2050, 12),
                    (2100, 14),
                    (2140, 16),
                    (2150, 18),
                    (2200, 20),
                ],
                73
            },
            { "P3", 100, 0, [(70, 1), (60, 1), (50, 1), (33, 3), (11, 1), (7, 1), (3, 1)], 4 },
            { "P4", 7, 0, [(3, 2), (2, 4)], 2 },
            { "P5", 6096, 3, [(2438, 2), (1829, 3), (1524, 1), (1219, 2), (914, 2), (610, 3)], 4 },
            { "FFD not monotone, 60", 60, 0, [(44, 1), (24, 2), (22, 1), (21, 1), (17, 1), (8, 2), (6, 2)], 3 },
            { "FFD not monotone, 61", 61, 0, [(44, 1), (24, 2), (22, 1), (21, 1), (17, 1), (8, 2), (6, 2)], 3 },
        };

    [Theory]
    [MemberData(nameof(Known))]
    public void Published_optimum_is_found_and_proven(
        string name,
        decimal stock,
        decimal kerf,
        (decimal, int)[] pieces,
        int optimum
    )
    {
        var answer = Solve(Request(stock, kerf, pieces));
        Assert.Equal(
            (name, optimum, optimum, true),
            (name, answer.BarsUsed, answer.LowerBoundBars, answer.IsProvenOptimal)
        );
        Assert.Equal(optimum * stock, answer.StockUsedMm);
        Assert.Equal(answer.StockUsedMm, answer.LowerBoundStockMm);
    }

    /// <summary>Bars of a plain first or best fit, longest first: what the same table gives for them.</summary>
    [Fact]
    public void Plain_rule_gives_what_the_published_table_gives_for_it()
    {
        foreach (var (name, bars) in new[] { ("P1", 485), ("P2", 82), ("P3", 4), ("P4", 3), ("P5", 4) })
        {
            var row = Known.Select(r => r.Data).Single(r => r.Item1 == name);
            var problem = NestProblem.Create(Request(row.Item2, row.Item3, row.Item4)).Value;
            Assert.Equal(bars, NestGreedy.Best(problem)!.Bars.Count);
        }
    }

    /// <summary>Falkenauer, A hybrid grouping genetic algorithm for bin packing, 1996; optima as BPPLIB lists them. The other sixteen of t60 are in the benchmarks.</summary>
    [Fact]
    public void Falkenauers_uniform_set_is_solved_and_proven()
    {
        var all = Published.Falkenauer("u120");
        Assert.Equal(20, all.Count);
        Assert.All(all, p => AssertOptimal(p));
    }

    [Theory]
    [InlineData("t60_02")]
    [InlineData("t60_05")]
    [InlineData("t60_07")]
    [InlineData("t60_19")]
    public void Falkenauers_triplets_are_solved_and_proven(string name) =>
        AssertOptimal(Published.Falkenauer("t60").Single(p => p.Name == name));

    private static void AssertOptimal(Published.Packing packing)
    {
        var answer = Solve(packing.Request);
        Assert.Equal(
            (packing.Name, packing.Optimum, packing.Optimum, true),
            (packing.Name, answer.BarsUsed, answer.LowerBoundBars, answer.IsProvenOptimal)
        );
    }

    [Theory]
    [InlineData(2032, 0, 1, 0d)]
    [InlineData(2032, 2, 2, null)]
    [InlineData(2032, 3, 2, null)]
    [InlineData(2030, 0, 1, 6d)]
    [InlineData(2030, 2, 1, 0d)]
    [InlineData(2030, 3, 1, 0d)]
    [InlineData(2030, 3.1, 2, null)]
    public void Three_pieces_with_kerf_fit_or_do_not(double piece, double kerf, int bars, double? remnant)
    {
        var answer = Solve(Request(6096, (decimal)kerf, ((decimal)piece, 3)));
        Assert.Equal((bars, true), (answer.BarsUsed, answer.IsProvenOptimal));
        if (remnant is { } left)
        {
            Assert.Equal((decimal)left, answer.Bars[0].RemnantMm);
        }
    }

    [Fact]
    public void Four_decimals_are_exact()
    {
        var fits = Request(100.0001m, 0, (33.3333m, 2), (33.3335m, 1));
        Assert.Equal(1, Solve(fits).BarsUsed);
        Assert.Equal(2, Solve(fits with { Stock = [new NestStock(100.0000m)] }).BarsUsed);
    }

    private static readonly Gen<NestRequest> Small =
        from stocks in Gen.Select(Gen.Int[10, 40], Gen.Int[0, 4]).Array[1, 3]
        from pieces in Gen.Select(Gen.Int[3, 25], Gen.Int[1, 2]).Array[1, 4]
        from kerf in Gen.Int[0, 2]
        from trim in Gen.Int[0, 2]
        select new NestRequest(
            [.. stocks.Select(s => new NestStock(s.Item1, s.Item2 == 4 ? null : s.Item2))],
            [.. pieces.Select((p, i) => new NestPiece($"p{i}", p.Item1, p.Item2))],
            kerf,
            trim
        );

    /// <summary>Every way to lay the pieces, tried.</summary>
    [Fact]
    public void Small_lists_with_offcuts_agree_with_trying_everything()
    {
        var solved = 0;
        Small.Sample(
            request =>
            {
                if (NestProblem.Create(request).Failure is not null)
                {
                    Assert.Null(Cheapest(request)?.Stock);
                    return;
                }

                var best = Cheapest(request);
                if (best is null)
                {
                    Assert.IsType<NestResult.Impossible>(Run(request));
                    return;
                }

                var answer = Solve(request);
                Assert.True(answer.IsProvenOptimal);
                Assert.Equal(best.Value, (answer.StockUsedMm, answer.BarsUsed));
                solved++;
            },
            iter: 80,
            threads: 1
        );
        Assert.True(solved > 20, $"{solved} solved");
        // Room enough by sum, but no way to lay them: found by chance above, and here for certain.
        Assert.IsType<NestResult.Impossible>(
            Run(new NestRequest([new NestStock(100, 2)], [new NestPiece("p", 60, 3)]))
        );
    }

    private static (decimal Stock, int Bars)? Cheapest(NestRequest request)
    {
        var pieces = request.Pieces.SelectMany(p => Enumerable.Repeat(p.LengthMm, p.Quantity)).ToArray();
        var left = request.Stock.Select(s => s.Quantity ?? pieces.Length).ToArray();
        (decimal, int)? best = null;
        Go(0, [], 0);
        return best;

        void Go(int at, List<(decimal Stock, decimal Used)> bars, decimal stock)
        {
            if (best is { } b && (stock, bars.Count).CompareTo(b) >= 0)
            {
                return;
            }

            if (at == pieces.Length)
            {
                best = (stock, bars.Count);
                return;
            }

            for (var i = 0; i < bars.Count; i++)
            {
                var old = bars[i];
                var used = old.Used + request.KerfMm + pieces[at];
                if (used <= old.Stock - request.EndTrimMm)
                {
                    bars[i] = (old.Stock, used);
                    Go(at + 1, bars, stock);
                    bars[i] = old;
                }
            }

            for (var s = 0; s < left.Length; s++)
            {
                if (left[s] > 0 && pieces[at] <= request.Stock[s].LengthMm - request.EndTrimMm)
                {
                    left[s]--;
                    bars.Add((request.Stock[s].LengthMm, pieces[at]));
                    Go(at + 1, bars, stock + request.Stock[s].LengthMm);
                    bars.RemoveAt(bars.Count - 1);
                    left[s]++;
                }
            }
        }
    }

    /// <summary>Tubes of a cage from new sticks are proven; with odd offcuts, one of each, the sum of bars can be so tight that a gap stays, which is then small and said.</summary>
    [Fact]
    public void Shop_lists_of_sixty_pieces_are_proven_and_with_odd_offcuts_the_gap_is_small()
    {
        var random = new Random(11);
        for (var n = 0; n < 4; n++)
        {
            List<NestPiece> pieces =
            [
                .. Enumerable.Range(0, 60).Select(i => new NestPiece($"T{i + 1}", random.Next(150, 2600), 1)),
            ];
            List<NestStock> stock = [new(6096)];
            if (n % 2 == 1)
            {
                stock.AddRange(Enumerable.Range(0, 5).Select(_ => new NestStock(random.Next(600, 3500), 1)));
            }

            var isPlain = n % 2 == 0;
            var answer = Solve(new NestRequest(stock, pieces, 3, 10), isPlain ? 20 : 8);
            Assert.True(
                !isPlain || answer.IsProvenOptimal,
                $"list {n}: {answer.StockUsedMm} of {answer.LowerBoundStockMm}"
            );
            Assert.InRange(answer.StockUsedMm / answer.LowerBoundStockMm, 1, 1.03m);
            Assert.InRange(answer.StockUsedMm - answer.LowerBoundStockMm, 0, 6095);
        }
    }

    [Fact]
    public void Long_list_stays_within_a_bar_of_its_bound()
    {
        var random = new Random(3);
        List<NestPiece> pieces =
        [
            .. Enumerable.Range(0, 400).Select(i => new NestPiece($"T{i}", random.Next(200, 3000), random.Next(1, 5))),
        ];
        var answer = Solve(new NestRequest([new NestStock(6000)], pieces, 2.5m), seconds: 4);
        Assert.InRange(answer.BarsUsed - answer.LowerBoundBars, 0, 1);
    }

    [Fact]
    public async Task Run_stops_when_nobody_waits_for_it()
    {
        var random = new Random(5);
        List<NestPiece> pieces =
        [
            .. Enumerable.Range(0, 3000).Select(i => new NestPiece($"T{i}", random.Next(20_000, 300_000) / 100m, 1)),
        ];
        var request = new NestRequest([new NestStock(6000), new NestStock(7000, 3)], pieces, 2.5m);
        using var stop = new CancellationTokenSource();
        var run = Task.Run(() => Run(request, 120, stop), TestContext.Current.CancellationToken);
        await stop.CancelAsync();
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => run);
    }

    [Fact]
    public void Nothing_to_cut_needs_nothing()
    {
        var answer = Solve(new NestRequest([new NestStock(6000)], []));
        Assert.Equal((0, 0m, true), (answer.BarsUsed, answer.StockUsedMm, answer.IsProvenOptimal));
    }
}
