using Google.OrTools.LinearSolver;
using ShopFloor.Domain.Nesting;

namespace ShopFloor.Solvers.Nesting;

/// <summary>What one linear program of patterns is about: which demand, what a bar costs, how many there are.</summary>
/// <param name="Uncovered">What a piece costs that is in no bar.</param>
internal sealed record PatternAim(
    NestProblem Problem,
    IReadOnlyList<int> Demands,
    IReadOnlyList<long> Costs,
    IReadOnlyList<int> Limits,
    long Uncovered
)
{
    /// <summary>Least stock length.</summary>
    public static PatternAim Stock(NestProblem problem) =>
        new(problem, problem.Demands, problem.Costs, problem.Limits, 10 * Math.Max(1, problem.Costs.Max()));

    /// <summary>Fewest bars.</summary>
    public static PatternAim Bars(NestProblem problem) =>
        new(problem, problem.Demands, [.. problem.Costs.Select(_ => 1L)], problem.Limits, 10);

    /// <summary>Most pieces in the bars that there are.</summary>
    public static PatternAim Room(NestProblem problem) =>
        new(problem, problem.Demands, [.. problem.Costs.Select(_ => 0L)], problem.Limits, 1);
}

/// <summary>Prices that prove a bound, in whole numbers: a pattern of stock k is worth at most cost × scale − Stock[k].</summary>
/// <param name="Kinds">What a piece of each kind is worth.</param>
/// <param name="Stock">What a limit adds; 0 or below.</param>
internal sealed record DualPrices(long[] Kinds, long[] Stock, long Scale, Int128 Total)
{
    /// <summary>No nest costs less.</summary>
    public long Bound => Total <= 0 ? 0 : (long)((Total + Scale - 1) / Scale);
}

/// <summary>
/// Column generation for cutting stock (Gilmore and Gomory, A linear programming approach to the cutting-stock problem, Operations Research 9, 1961),
/// no pattern with more of a kind than are needed. The linear program works in floating point and is believed in nothing: its prices are rounded to whole
/// numbers, made feasible by the exact worth of the best pattern (Farley, A note on bounding a class of linear programming problems, including cutting
/// stock problems, Operations Research 38, 1990) and the bound is added up in integers.
/// </summary>
internal sealed class PatternProgram : IDisposable
{
    private const long LargestPrice = 1L << 40;
    private readonly PatternAim aim;
    private readonly Knapsack knapsack;
    private readonly Solver solver = Solver.CreateSolver("GLOP");
    private readonly Constraint[] demand;
    private readonly Constraint[] limit;
    private readonly Variable[] uncovered;
    private readonly List<Variable> amounts = [];
    private readonly long scale;

    public PatternProgram(PatternAim aim, IEnumerable<NestPattern> start)
    {
        this.aim = aim;
        knapsack = new Knapsack(aim.Problem.Weights);
        scale = Math.Max(1, LargestPrice / Math.Max(1, aim.Costs.Max()));
        var objective = solver.Objective();
        objective.SetMinimization();
        demand = [.. aim.Demands.Select(d => solver.MakeConstraint(d, double.PositiveInfinity))];
        limit = [.. aim.Limits.Select(q => solver.MakeConstraint(double.NegativeInfinity, q))];
        uncovered =
        [
            .. demand.Select(row =>
            {
                var variable = solver.MakeNumVar(0, double.PositiveInfinity, "");
                row.SetCoefficient(variable, 1);
                objective.SetCoefficient(variable, aim.Uncovered);
                return variable;
            }),
        ];
        foreach (var pattern in start)
        {
            Add(pattern);
        }
    }

    public List<NestPattern> Patterns { get; } = [];

    /// <summary>The best bound so far.</summary>
    public DualPrices? Best { get; private set; }

    /// <summary>How often each of the first patterns is taken, as last solved; those that were added since are taken nowhere yet.</summary>
    public double[] Amounts { get; private set; } = [];

    /// <summary>Pieces that are in no bar, as last solved.</summary>
    public double Uncovered { get; private set; }

    /// <summary>Adds patterns until none helps or the time is up; true when none helps.</summary>
    public bool Run(Clock clock)
    {
        while (!clock.IsUp)
        {
            solver.SetTimeLimit((long)Math.Max(1, clock.Left * 1000));
            if (solver.Solve() != Solver.ResultStatus.OPTIMAL)
            {
                return false;
            }

            Amounts = [.. amounts.Select(a => a.SolutionValue())];
            Uncovered = uncovered.Sum(u => u.SolutionValue());
            if (!Price())
            {
                return true;
            }
        }

        return false;
    }

    private bool Price()
    {
        var kinds = demand.Select(r => Whole(Math.Max(0, r.DualValue()))).ToArray();
        var stocks = limit.Select(r => Whole(Math.Min(0, r.DualValue()))).ToArray();
        var worth = new long[stocks.Length];
        var isHelped = false;
        for (var k = 0; k < stocks.Length; k++)
        {
            var found = knapsack.Solve(kinds, aim.Demands, aim.Problem.Capacities[k]);
            worth[k] = found.UpperBound;
            var least = (aim.Costs[k] * scale) - stocks[k];
            if (found.Value > least + Math.Max(16, least / 1_000_000_000) && found.Pieces.Count > 0)
            {
                Add(new NestPattern(k, found.Pieces));
                isHelped = true;
            }
        }

        var prices = Feasible(kinds, worth);
        if (Best is null || prices.Total > Best.Total)
        {
            Best = prices;
        }

        return isHelped;
    }

    private long Whole(double price) =>
        (long)Math.Clamp(Math.Floor(price * scale), -LargestPrice * 16d, LargestPrice * 16d);

    private DualPrices Feasible(long[] kinds, long[] worth)
    {
        // Stock without a limit must bear the prices as they are; where it does not, all prices shrink in proportion.
        Int128 top = 1,
            bottom = 1;
        for (var k = 0; k < worth.Length; k++)
        {
            Int128 cost = aim.Costs[k] * (Int128)scale;
            if (!aim.Problem.IsLimited[k] && worth[k] > cost && cost * bottom < worth[k] * top)
            {
                (top, bottom) = (cost, worth[k]);
            }
        }

        var shrunk = kinds.Select(u => (long)(u * top / bottom)).ToArray();
        var stock = new long[worth.Length];
        Int128 total = 0;
        for (var k = 0; k < worth.Length; k++)
        {
            if (aim.Problem.IsLimited[k])
            {
                stock[k] = (long)Int128.Min(0, (aim.Costs[k] * (Int128)scale) - (worth[k] * top / bottom));
                total += (Int128)stock[k] * aim.Limits[k];
            }
        }

        for (var i = 0; i < shrunk.Length; i++)
        {
            total += (Int128)shrunk[i] * aim.Demands[i];
        }

        return new DualPrices(shrunk, stock, scale, total);
    }

    private void Add(NestPattern pattern)
    {
        Patterns.Add(pattern);
        var variable = solver.MakeNumVar(0, double.PositiveInfinity, "");
        solver.Objective().SetCoefficient(variable, aim.Costs[pattern.Stock]);
        foreach (var (kind, count) in pattern.Pieces)
        {
            demand[kind].SetCoefficient(variable, count);
        }

        limit[pattern.Stock].SetCoefficient(variable, 1);
        amounts.Add(variable);
    }

    public void Dispose() => solver.Dispose();
}
