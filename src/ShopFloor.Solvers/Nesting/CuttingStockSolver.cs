using ShopFloor.Domain.Nesting;
using ShopFloor.Domain.Solving;
using ShopFloor.Solvers.Common;

namespace ShopFloor.Solvers.Nesting;

/// <summary>
/// Nesting in steps, each only where the one before left a gap: a plain rule, sequential values, column generation for the bound, diving, and the exact
/// choice among all patterns that a better nest could contain.
/// </summary>
public sealed class CuttingStockSolver : INestSolver
{
    public NestResult Solve(
        NestProblem problem,
        SolveLimits limits,
        IProgress<SolveProgress>? progress,
        CancellationToken cancellation
    )
    {
        if (problem.PieceCount == 0)
        {
            return new NestResult.Found(new NestAnswer([], 0, 0, IsProvenOptimal: true));
        }

        var result = QuietThread.Run(() =>
            new NestRun(problem, limits, progress, new Clock(limits.Seconds, cancellation)).Run()
        );
        if (result is NestResult.Found(var answer) && NestCheck.Faults(problem.Request, answer) is [var fault, ..])
        {
            throw new InvalidOperationException($"The solver's nest does not hold: {fault}");
        }

        return result;
    }
}

/// <summary>One run: the best nest so far and what was proven.</summary>
/// <param name="isPart">For what is left of a larger run, which is not divided again.</param>
internal sealed class NestRun(
    NestProblem problem,
    SolveLimits limits,
    IProgress<SolveProgress>? progress,
    Clock clock,
    bool isPart = false
)
{
    private const int MostPatterns = 40_000;

    /// <summary>Rounds of sequential values; a short list is exhausted soon.</summary>
    private const double SecondsPerPiece = 0.005;

    /// <summary>Down to this part of what may be wasted is looked, where there are too many patterns.</summary>
    private const int MostShare = 64;
    private NestLayout? best;
    private long stockBound;
    private long barsBound;
    private bool isBarsProven;

    /// <summary>The fewest bars that add up to the bound on the stock; 0 while that was not asked.</summary>
    private long fewestAtBound;

    private bool IsOneStock => problem.Costs.Count == 1;

    private bool IsProven =>
        best is not null
        && best.Cost(problem) == stockBound
        && (IsOneStock || isBarsProven || best.Bars.Count == barsBound || best.Bars.Count == fewestAtBound);

    /// <summary>The best bars themselves; null where there are none.</summary>
    public NestLayout? Layout()
    {
        Run();
        return best;
    }

    public NestResult Run()
    {
        (stockBound, barsBound) = (problem.PlainStockBound, problem.PlainBarsBound);
        Take(NestGreedy.Best(problem));
        var values = new SequentialValues(problem, limits.Seed);
        values.Run(clock.Part(0.05, Math.Min(0.3, SecondsPerPiece * problem.PieceCount)), Take, () => IsProven);
        if (!IsProven)
        {
            using var program = new PatternProgram(PatternAim.Stock(problem), Known());
            program.Run(clock.Part(0.6, double.MaxValue));
            if (best is null && program.Uncovered > 1e-6 && IsRoomTooSmall())
            {
                return new NestResult.Impossible();
            }

            Raise(program.Best);
            if (!IsProven && Improve(program, values))
            {
                return new NestResult.Impossible();
            }
        }

        return best is null ? new NestResult.NotInTime() : new NestResult.Found(Answer());
    }

    /// <summary>True when it is proven that there is no nest at all.</summary>
    private bool Improve(PatternProgram program, SequentialValues values)
    {
        if (!IsOneStock)
        {
            using var bars = new PatternProgram(PatternAim.Bars(problem), program.Patterns);
            bars.Run(clock.Part(0.2, 3));
            barsBound = Math.Max(barsBound, bars.Best?.Bound ?? 0);
        }

        if (!IsProven)
        {
            Take(Diving.Run(problem, program.Patterns, clock.Part(0.3, 5)));
        }

        if (!IsProven)
        {
            values.Run(clock.Part(0.1, Math.Min(0.7, 2 * SecondsPerPiece * problem.PieceCount)), Take, () => IsProven);
        }

        if (IsProven || program.Best is not { } prices)
        {
            return false;
        }

        return Climb(prices, program.Patterns, values);
    }

    /// <summary>From the bound upwards: is there a nest of the least cost that bars can add up to, of the next one, and so on.</summary>
    private bool Climb(DualPrices prices, IReadOnlyList<NestPattern> pool, SequentialValues values)
    {
        var sums = new StockSums(problem);
        var highest = HighestCost();
        while (!clock.IsUp && !IsProven)
        {
            if (sums.Next(stockBound, highest) is not { } step)
            {
                break;
            }

            if (step.Cost > highest)
            {
                return best is null;
            }

            stockBound = step.Cost;
            barsBound = IsOneStock ? step.Bars : barsBound;
            fewestAtBound = step.Bars;
            Report();
            if (IsProven)
            {
                return false;
            }

            var (patterns, isAll) = NearBound(prices, step.Cost);
            if (!isAll && !isPart)
            {
                new FixAndFinish(problem, step.Counts, limits).Run(
                    clock.Part(0.4, double.MaxValue),
                    Take,
                    () => IsProven
                );
                if (IsProven)
                {
                    return false;
                }
            }

            var (time, mostCost) = isAll ? (clock, step.Cost) : (clock.Part(0.6, double.MaxValue), highest);
            var chosen = PatternModel.Solve(problem, patterns, step.Cost, mostCost, HintFor(mostCost), limits, time);
            Take(chosen.Layout);
            if (!chosen.IsImpossible || !isAll)
            {
                isBarsProven = isAll && chosen.IsBest;
                break;
            }

            stockBound = step.Cost + 1;
        }

        if (!IsProven && !clock.IsUp)
        {
            // Too many patterns for a proof: those of column generation are a good choice, and the rest of the time goes to rounds.
            Take(
                PatternModel.Solve(problem, pool, stockBound, HighestCost(), best, limits, clock.Part(0.5, 10)).Layout
            );
            values.Run(clock, Take, () => IsProven);
        }

        return false;
    }

    /// <summary>All patterns that a nest of this cost can contain; where they are too many, those that waste least.</summary>
    private (IReadOnlyList<NestPattern> Patterns, bool IsAll) NearBound(DualPrices prices, long cost)
    {
        for (var share = 1; share <= MostShare; share *= 2)
        {
            if (PatternList.Of(problem, prices, cost, share, MostPatterns, clock) is { } patterns)
            {
                return (patterns, share == 1);
            }
        }

        return ([], false);
    }

    /// <summary>Of the best nest so far; of all bars where there is none.</summary>
    private long HighestCost() =>
        best?.Cost(problem) ?? Enumerable.Range(0, problem.Costs.Count).Sum(k => problem.Costs[k] * problem.Limits[k]);

    private NestLayout? HintFor(long cost) => best is not null && best.Cost(problem) == cost ? best : null;

    private static long Up(Int128 value, long by) => (long)((value + by - 1) / by);

    private void Raise(DualPrices? prices)
    {
        stockBound = Math.Max(stockBound, prices?.Bound ?? 0);
        if (IsOneStock)
        {
            barsBound = Math.Max(barsBound, Up(stockBound, problem.Costs[0]));
            stockBound = barsBound * problem.Costs[0];
        }

        Report();
    }

    private IEnumerable<NestPattern> Known() => best?.Bars.DistinctBy(PatternModel.Key) ?? [];

    private bool IsRoomTooSmall()
    {
        using var room = new PatternProgram(PatternAim.Room(problem), []);
        room.Run(clock.Part(0.5, double.MaxValue));
        return room.Best is { } prices && prices.Total > 0;
    }

    private void Take(NestLayout? layout)
    {
        if (layout is not null && layout.IsBetterThan(best, problem))
        {
            best = layout;
            Report();
        }
    }

    private void Report() =>
        progress?.Report(
            new SolveProgress(
                best is null ? null : (long)problem.StockMm(best.Cost(problem)),
                (long)problem.StockMm(stockBound)
            )
        );

    private NestAnswer Answer() =>
        new(
            best!.ToBars(problem),
            problem.StockMm(Math.Min(stockBound, best.Cost(problem))),
            (int)Math.Min(barsBound, best.Bars.Count),
            IsProven
        );
}
