namespace ShopFloor.Domain.Nesting;

/// <summary>A nest at once: first and best fit, the longest piece first, by several ways to choose the next bar; then each bar is changed for the shortest that holds its pieces.</summary>
public static class NestGreedy
{
    private enum NextBar
    {
        Longest,
        Shortest,
        CheapestRoom,
    }

    /// <summary>Null when limited stock could not be filled this way; it may still hold the pieces.</summary>
    public static NestLayout? Best(NestProblem problem)
    {
        NestLayout? best = null;
        foreach (var next in Enum.GetValues<NextBar>())
        {
            foreach (var isBestFit in new[] { true, false })
            {
                if (Fit(problem, next, isBestFit) is { } layout && layout.IsBetterThan(best, problem))
                {
                    best = layout;
                }
            }
        }

        return best;
    }

    /// <summary>The nest at once with the plain bounds; null as <see cref="Best"/>.</summary>
    public static NestAnswer? Answer(NestProblem problem)
    {
        if (Best(problem) is not { } layout)
        {
            return null;
        }

        var (cost, stock, bars) = (layout.Cost(problem), problem.PlainStockBound, problem.PlainBarsBound);
        return new NestAnswer(
            layout.ToBars(problem),
            problem.StockMm(Math.Min(stock, cost)),
            (int)Math.Min(bars, layout.Bars.Count),
            stock >= cost && bars >= layout.Bars.Count
        );
    }

    private static NestLayout? Fit(NestProblem problem, NextBar next, bool isBestFit)
    {
        var left = problem.Limits.ToArray();
        // Bars by room that is left and number: the first that is large enough is the best fit.
        var open = new SortedSet<(long Room, int Bar)>();
        var bars = new List<(int Stock, long Room, SortedDictionary<int, int> Pieces)>();
        for (var kind = 0; kind < problem.Weights.Count; kind++)
        {
            var weight = problem.Weights[kind];
            for (var n = 0; n < problem.Demands[kind]; n++)
            {
                var bar = isBestFit ? BestFit(weight) : bars.FindIndex(b => b.Room >= weight);
                if (bar < 0)
                {
                    var stock = Choose(problem, left, weight, next);
                    if (stock < 0)
                    {
                        return null;
                    }

                    left[stock]--;
                    bar = bars.Count;
                    bars.Add((stock, problem.Capacities[stock], []));
                }

                var (used, room, pieces) = bars[bar];
                open.Remove((room, bar));
                pieces[kind] = pieces.GetValueOrDefault(kind) + 1;
                bars[bar] = (used, room - weight, pieces);
                open.Add((room - weight, bar));
            }
        }

        return Shorten(
            problem,
            bars.Select(b => new NestPattern(b.Stock, [.. b.Pieces.Select(p => (p.Key, p.Value))])),
            left
        );

        int BestFit(long weight)
        {
            foreach (var (_, bar) in open.GetViewBetween((weight, 0), (long.MaxValue, 0)))
            {
                return bar;
            }

            return -1;
        }
    }

    private static int Choose(NestProblem problem, int[] left, long weight, NextBar next)
    {
        var fits = Enumerable.Range(0, left.Length).Where(k => left[k] > 0 && problem.Capacities[k] >= weight);
        return next switch
        {
            NextBar.Longest => fits.FirstOrDefault(-1),
            NextBar.Shortest => fits.LastOrDefault(-1),
            _ => fits.OrderBy(k => problem.Costs[k] / (double)problem.Capacities[k]).FirstOrDefault(-1),
        };
    }

    /// <summary>Each bar, the emptiest first, becomes the shortest one that is still there and holds its pieces.</summary>
    public static NestLayout Shorten(NestProblem problem, IEnumerable<NestPattern> bars, IReadOnlyList<int> spare)
    {
        var left = spare.ToArray();
        var shortened = new List<NestPattern>();
        foreach (var bar in bars.OrderBy(b => b.Weight(problem)))
        {
            var weight = bar.Weight(problem);
            var stock = bar.Stock;
            for (var k = left.Length - 1; k > bar.Stock; k--)
            {
                if (left[k] > 0 && problem.Capacities[k] >= weight)
                {
                    stock = k;
                    left[k]--;
                    left[bar.Stock]++;
                    break;
                }
            }

            shortened.Add(bar with { Stock = stock });
        }

        return new NestLayout(shortened);
    }
}
