using ShopFloor.Domain.Nesting;

namespace ShopFloor.Solvers.Nesting;

/// <summary>The costs that a nest can have at all: sums of bars that there are and that have room for the pieces.</summary>
internal sealed class StockSums
{
    private const int MostNodes = 400_000;
    private readonly NestProblem problem;
    private readonly int[] order;
    private readonly Int128 weight;
    private long atLeast;
    private long best;
    private long bestBars;
    private int nodes;
    private readonly long[] counts;
    private long[] bestCounts = [];

    public StockSums(NestProblem problem)
    {
        this.problem = problem;
        counts = new long[problem.Costs.Count];
        // The longest without a limit comes last: how many of it are needed is then figured, not tried.
        order =
        [
            .. Enumerable
                .Range(0, problem.Costs.Count)
                .OrderBy(k => problem.IsLimited[k] ? 0 : 1)
                .ThenBy(k => problem.Costs[k]),
        ];
        weight = Enumerable
            .Range(0, problem.Weights.Count)
            .Aggregate((Int128)0, (sum, i) => sum + ((Int128)problem.Weights[i] * problem.Demands[i]));
    }

    /// <summary>The least cost from <paramref name="from"/> on, below or at <paramref name="to"/>, the fewest bars that make it and how many of each; null when it would take too long to say.</summary>
    public (long Cost, long Bars, IReadOnlyList<long> Counts)? Next(long from, long to)
    {
        (atLeast, best, bestBars, nodes) = (from, to + 1, long.MaxValue, 0);
        Try(0, 0, 0, 0);
        return nodes >= MostNodes ? null : (best, bestBars, bestCounts);
    }

    private void Try(int at, long cost, long bars, Int128 room)
    {
        if (++nodes >= MostNodes || cost > best || (cost == best && bars >= bestBars))
        {
            return;
        }

        var stock = order[at];
        var (price, capacity, limit) = (problem.Costs[stock], problem.Capacities[stock], problem.Limits[stock]);
        if (at < order.Length - 1)
        {
            for (long n = 0; n <= limit && cost + (n * price) <= best && nodes < MostNodes; n++)
            {
                counts[stock] = n;
                Try(at + 1, cost + (n * price), bars + n, room + ((Int128)n * capacity));
            }

            return;
        }

        var byCost = Math.Max(0, (atLeast - cost + price - 1) / price);
        var byRoom = (long)Int128.Max(0, (weight - room + capacity - 1) / capacity);
        var needed = Math.Max(byCost, byRoom);
        var (sum, count) = (cost + (needed * price), bars + needed);
        if (needed <= limit && (sum < best || (sum == best && count < bestBars)))
        {
            (best, bestBars) = (sum, count);
            counts[stock] = needed;
            bestCounts = [.. counts];
        }
    }
}
