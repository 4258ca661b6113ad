using ShopFloor.Domain.Nesting;
using ShopFloor.Domain.Solving;

namespace ShopFloor.Solvers.Nesting;

/// <summary>
/// Tries to get the pieces into given bars that hardly hold more than they need: some of the bars are filled to the brim, by chance one way or another,
/// and what is left, small enough to be solved well, goes into the others.
/// </summary>
internal sealed class FixAndFinish(NestProblem problem, IReadOnlyList<long> counts, SolveLimits limits)
{
    /// <summary>So many pieces are solved well within a second.</summary>
    private const int PiecesToFinish = 22;
    private const double SecondsToFinish = 1.5;
    private const long Brim = 1_000;
    private readonly Knapsack knapsack = new(problem.Weights);
    private readonly Random random = new(limits.Seed);

    public void Run(Clock clock, Action<NestLayout> take, Func<bool> isGoodEnough)
    {
        while (!clock.IsUp && !isGoodEnough())
        {
            if (Once(clock) is { } layout)
            {
                take(layout);
            }
        }
    }

    private NestLayout? Once(Clock clock)
    {
        var needed = problem.Demands.ToArray();
        var spare = counts.ToArray();
        var pieces = problem.PieceCount;
        var bars = new List<NestPattern>();
        var order = Enumerable.Range(0, spare.Length).SelectMany(k => Enumerable.Repeat(k, (int)spare[k])).ToArray();
        random.Shuffle(order);
        foreach (var stock in order)
        {
            if (pieces <= PiecesToFinish || clock.IsUp)
            {
                break;
            }

            var filled = knapsack.Solve(Worth(), needed, problem.Capacities[stock]);
            if (filled.Pieces.Count == 0)
            {
                continue;
            }

            bars.Add(new NestPattern(stock, filled.Pieces));
            spare[stock]--;
            foreach (var (kind, count) in filled.Pieces)
            {
                needed[kind] -= count;
                pieces -= count;
            }
        }

        if (Finish(needed, spare, clock) is not { } rest)
        {
            return null;
        }

        bars.AddRange(rest);
        var left = problem.Limits.Select((limit, k) => limit - bars.Count(b => b.Stock == k)).ToArray();
        return left.Min() < 0 ? null : NestGreedy.Shorten(problem, bars, left);
    }

    /// <summary>To the brim first; among those, long pieces rather than short ones, which are easier to place later.</summary>
    private long[] Worth()
    {
        var heaviest = problem.Weights[0];
        return [.. problem.Weights.Select(w => (w * Brim) + random.Next(0, 100) + (long)(200.0 * w / heaviest))];
    }

    private IEnumerable<NestPattern>? Finish(int[] needed, long[] spare, Clock clock)
    {
        var kinds = Enumerable.Range(0, needed.Length).Where(i => needed[i] > 0).ToArray();
        var stocks = Enumerable.Range(0, spare.Length).Where(k => spare[k] > 0).ToArray();
        if (kinds.Length == 0)
        {
            return [];
        }

        var request = new NestRequest(
            [.. stocks.Select(k => new NestStock(problem.StockMm(problem.Costs[k]), (int)spare[k]))],
            [.. kinds.Select(i => problem.Lines[i][0] with { Quantity = needed[i] })],
            problem.Request.KerfMm,
            problem.Request.EndTrimMm
        );
        if (!NestProblem.Create(request).TryGet(out var part, out _))
        {
            return null;
        }

        var layout = new NestRun(part, limits, null, clock.Part(1, SecondsToFinish), isPart: true).Layout();
        // Kinds keep their order by length; stocks are found again by their length, for one that is too short for all was left out.
        return layout?.Bars.Select(b => new NestPattern(
            stocks.First(k => problem.StockMm(problem.Costs[k]) == part.StockMm(part.Costs[b.Stock])),
            [.. b.Pieces.Select(p => (kinds[p.Kind], p.Count))]
        ));
    }
}
