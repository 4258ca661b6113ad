using Google.OrTools.Sat;
using ShopFloor.Domain.Nesting;
using ShopFloor.Domain.Solving;
using ShopFloor.Solvers.Common;

namespace ShopFloor.Solvers.Nesting;

/// <summary>Chooses among given patterns in whole numbers: least stock, among those fewest bars.</summary>
internal static class PatternModel
{
    /// <param name="IsImpossible">Proven: the patterns cannot cover the pieces within the cost.</param>
    /// <param name="IsBest">Proven for the patterns that were given: least cost, then fewest bars.</param>
    public sealed record Result(NestLayout? Layout, bool IsImpossible, bool IsBest);

    public static Result Solve(
        NestProblem problem,
        IReadOnlyList<NestPattern> patterns,
        long leastCost,
        long mostCost,
        NestLayout? hint,
        SolveLimits limits,
        Clock clock
    )
    {
        if (patterns.Count == 0)
        {
            return new Result(null, false, false);
        }

        var model = new CpModel();
        var hinted = Hints(hint);
        var amounts = new IntVar[patterns.Count];
        for (var p = 0; p < amounts.Length; p++)
        {
            var most = patterns[p].Pieces.Max(x => (problem.Demands[x.Kind] + x.Count - 1) / x.Count);
            amounts[p] = model.NewIntVar(0, Math.Min(most, problem.Limits[patterns[p].Stock]), "");
            if (hint is not null)
            {
                model.AddHint(amounts[p], hinted.GetValueOrDefault(Key(patterns[p])));
            }
        }

        Cover(problem, patterns, model, amounts);
        var costs = patterns.Select(p => problem.Costs[p.Stock]).ToArray();
        model.AddLinearConstraint(LinearExpr.WeightedSum(amounts, costs), leastCost, mostCost);
        var mostBars = mostCost / Math.Max(1, problem.Costs.Min());
        var isOneStock = problem.Costs.Count == 1;
        // Both aims in one figure; one more bar weighs less than the least stock.
        var step = isOneStock ? 1 : mostBars + 1;
        var isBoth = mostCost <= (1L << 56) / step;
        model.Minimize(
            isBoth && !isOneStock
                ? LinearExpr.WeightedSum(amounts, [.. costs.Select(c => (c * step) + 1)])
                : LinearExpr.WeightedSum(amounts, costs)
        );
        using var run = new CpSatRun();
        var status = run.Solve(model, limits, clock.Left, "", null, clock.Cancellation);
        return status switch
        {
            CpSolverStatus.Infeasible => new Result(null, IsImpossible: true, IsBest: false),
            CpSolverStatus.Optimal => new Result(Layout(problem, patterns, amounts, run), false, isBoth || isOneStock),
            CpSolverStatus.Feasible => new Result(Layout(problem, patterns, amounts, run), false, false),
            _ => new Result(null, false, false),
        };
    }

    private static void Cover(NestProblem problem, IReadOnlyList<NestPattern> patterns, CpModel model, IntVar[] amounts)
    {
        var (byKind, byStock) = (
            problem.Demands.Select(_ => new List<(IntVar Amount, int Count)>()).ToArray(),
            problem.Limits.Select(_ => new List<IntVar>()).ToArray()
        );
        for (var p = 0; p < patterns.Count; p++)
        {
            byStock[patterns[p].Stock].Add(amounts[p]);
            foreach (var (kind, count) in patterns[p].Pieces)
            {
                byKind[kind].Add((amounts[p], count));
            }
        }

        for (var i = 0; i < byKind.Length; i++)
        {
            model.Add(
                LinearExpr.WeightedSum(byKind[i].Select(x => x.Amount), byKind[i].Select(x => x.Count))
                    >= problem.Demands[i]
            );
        }

        for (var k = 0; k < byStock.Length; k++)
        {
            if (problem.IsLimited[k])
            {
                model.Add(LinearExpr.Sum(byStock[k]) <= problem.Limits[k]);
            }
        }
    }

    private static Dictionary<string, int> Hints(NestLayout? hint) =>
        (hint?.Bars ?? []).GroupBy(Key).ToDictionary(g => g.Key, g => g.Count());

    public static string Key(NestPattern pattern) => $"{pattern.Stock}:{string.Join(',', pattern.Pieces)}";

    /// <summary>What is covered more often than needed is left out; a bar that is empty then was not needed.</summary>
    private static NestLayout Layout(
        NestProblem problem,
        IReadOnlyList<NestPattern> patterns,
        IntVar[] amounts,
        CpSatRun run
    )
    {
        var needed = problem.Demands.ToArray();
        var spare = problem.Limits.ToArray();
        var bars = new List<NestPattern>();
        for (var p = 0; p < patterns.Count; p++)
        {
            for (var n = run.Value(amounts[p]); n > 0; n--)
            {
                var pieces = patterns[p]
                    .Pieces.Select(x => (x.Kind, Count: Math.Min(x.Count, needed[x.Kind])))
                    .Where(x => x.Count > 0)
                    .ToList();
                foreach (var (kind, count) in pieces)
                {
                    needed[kind] -= count;
                }

                if (pieces.Count > 0)
                {
                    bars.Add(new NestPattern(patterns[p].Stock, pieces));
                    spare[patterns[p].Stock]--;
                }
            }
        }

        return NestGreedy.Shorten(problem, bars, spare);
    }
}
