using ShopFloor.Domain.Nesting;

namespace ShopFloor.Solvers.Nesting;

/// <summary>
/// Bars are filled one after the other with what is worth most; pieces that ended in poorly filled bars are worth more in the next round (sequential value
/// correction, Mukhacheva; as described by Belov and Scheithauer, Setup and open-stacks minimization in one-dimensional stock cutting, 2007: from memory).
/// </summary>
internal sealed class SequentialValues(NestProblem problem, int seed)
{
    private const double LargestValue = 1L << 36;
    private readonly Knapsack knapsack = new(problem.Weights);
    private readonly double[] values = [.. problem.Weights.Select(w => (double)w)];
    private readonly Random random = new(seed);

    /// <summary>Rounds until the time is up or <paramref name="isGoodEnough"/>; <paramref name="take"/> gets each nest that all pieces are in.</summary>
    public void Run(Clock clock, Action<NestLayout> take, Func<bool> isGoodEnough)
    {
        while (!clock.IsUp && !isGoodEnough())
        {
            if (Round(clock) is { } layout)
            {
                take(layout);
            }
        }
    }

    private NestLayout? Round(Clock clock)
    {
        var needed = problem.Demands.ToArray();
        var spare = problem.Limits.ToArray();
        var pieces = problem.PieceCount;
        var bars = new List<NestPattern>();
        var highest = values.Max();
        var worth = values.Select(v => (long)Math.Max(1, v / highest * LargestValue)).ToArray();
        while (pieces > 0)
        {
            if (clock.IsUp || Fullest(worth, needed, spare) is not { } pattern)
            {
                return null;
            }

            // The same bar again, as often as it can be had.
            var times = Math.Min(spare[pattern.Stock], pattern.Pieces.Min(p => needed[p.Kind] / p.Count));
            if (times > 2)
            {
                times = random.Next(times / 2, times) + 1;
            }

            for (var n = 0; n < times; n++)
            {
                bars.Add(pattern);
            }

            spare[pattern.Stock] -= times;
            foreach (var (kind, count) in pattern.Pieces)
            {
                needed[kind] -= count * times;
                pieces -= count * times;
            }

            Correct(pattern);
        }

        return NestGreedy.Shorten(problem, bars, spare);
    }

    private NestPattern? Fullest(long[] worth, int[] needed, int[] spare)
    {
        NestPattern? best = null;
        double bestRate = 0;
        for (var k = 0; k < spare.Length; k++)
        {
            if (spare[k] == 0)
            {
                continue;
            }

            var found = knapsack.Solve(worth, needed, problem.Capacities[k]);
            var rate = found.Value / (double)problem.Costs[k];
            if (spare.Length > 1)
            {
                rate *= 1 + (0.02 * random.NextDouble());
            }

            if (found.Pieces.Count > 0 && rate > bestRate)
            {
                (best, bestRate) = (new NestPattern(k, found.Pieces), rate);
            }
        }

        return best;
    }

    private void Correct(NestPattern pattern)
    {
        var weight = pattern.Weight(problem);
        var room = problem.Capacities[pattern.Stock];
        var poor = room / (double)weight;
        foreach (var (kind, _) in pattern.Pieces)
        {
            var target = Math.Pow(problem.Weights[kind], 1.02) * poor * (0.95 + (0.1 * random.NextDouble()));
            var share = 0.2 + (0.3 * random.NextDouble());
            values[kind] = ((1 - share) * values[kind]) + (share * target);
        }
    }
}
