using ShopFloor.Domain.Nesting;

namespace ShopFloor.Solvers.Nesting;

/// <summary>
/// Every full pattern that a nest of at most some cost can contain: by the prices of the bound, a pattern that wastes more than what lies between the bound
/// and that cost cannot be in it.
/// </summary>
internal sealed class PatternList
{
    private const int MostNodes = 6_000_000;
    private const int NodesPerLook = 1 << 16;
    private readonly NestProblem problem;
    private readonly DualPrices prices;
    private readonly int mostPatterns;
    private readonly Clock clock;
    private readonly int[] order;
    private readonly double[] ratio;
    private readonly long[] rest;
    private readonly int[] counts;
    private readonly List<NestPattern> found = [];
    private int nodes;
    private int stock;
    private Int128 least;

    private PatternList(NestProblem problem, DualPrices prices, int mostPatterns, Clock clock)
    {
        (this.problem, this.prices, this.mostPatterns, this.clock) = (problem, prices, mostPatterns, clock);
        ratio = [.. problem.Weights.Select((w, i) => prices.Kinds[i] / (double)w * Knapsack.Above)];
        order = [.. Enumerable.Range(0, ratio.Length).OrderByDescending(i => ratio[i]).ThenBy(i => i)];
        rest = new long[order.Length + 1];
        for (var i = order.Length - 1; i >= 0; i--)
        {
            rest[i] = rest[i + 1] + (problem.Weights[order[i]] * problem.Demands[order[i]]);
        }

        counts = new int[order.Length];
    }

    /// <summary>Null when there are too many, or the time is up.</summary>
    /// <param name="share">Only patterns that waste at most this part of what they could: 1 for all.</param>
    public static IReadOnlyList<NestPattern>? Of(
        NestProblem problem,
        DualPrices prices,
        long mostCost,
        int share,
        int mostPatterns,
        Clock clock
    )
    {
        var list = new PatternList(problem, prices, mostPatterns, clock);
        var between = (((Int128)mostCost * prices.Scale) - prices.Total) / share;
        for (var k = 0; k < problem.Capacities.Count; k++)
        {
            list.stock = k;
            list.least = (problem.Costs[k] * (Int128)prices.Scale) - prices.Stock[k] - between;
            if (!list.Add(0, problem.Capacities[k], 0, long.MaxValue))
            {
                return null;
            }
        }

        return list.found;
    }

    /// <param name="refused">The lightest kind of which one more would have gone in: a full pattern has less room than it.</param>
    private bool Add(int at, long room, long value, long refused)
    {
        if (++nodes > MostNodes || found.Count > mostPatterns || (nodes % NodesPerLook == 0 && clock.IsUp))
        {
            return false;
        }

        while (at < order.Length && problem.Weights[order[at]] > room)
        {
            at++;
        }

        if (room - rest[at] >= refused)
        {
            return true;
        }

        if (at == order.Length)
        {
            if (value >= least && room < refused)
            {
                found.Add(
                    new NestPattern(
                        stock,
                        [.. Enumerable.Range(0, counts.Length).Where(i => counts[i] > 0).Select(i => (i, counts[i]))]
                    )
                );
            }

            return true;
        }

        var kind = order[at];
        if (value + (long)(room * ratio[kind]) + 1 < least)
        {
            return true;
        }

        var weight = problem.Weights[kind];
        var full = (int)Math.Min(problem.Demands[kind], room / weight);
        for (var count = full; count >= 0; count--)
        {
            counts[kind] = count;
            // Where all that are needed are in, one more is not missed.
            var missed = count < problem.Demands[kind] ? Math.Min(refused, weight) : refused;
            if (!Add(at + 1, room - (count * weight), value + (count * prices.Kinds[kind]), missed))
            {
                counts[kind] = 0;
                return false;
            }
        }

        counts[kind] = 0;
        return true;
    }
}
