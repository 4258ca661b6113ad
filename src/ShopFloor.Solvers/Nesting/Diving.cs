using ShopFloor.Domain.Nesting;

namespace ShopFloor.Solvers.Nesting;

/// <summary>Rounds the linear program's answer down, solves what is left in the same way, and so on until all pieces are in bars.</summary>
internal static class Diving
{
    public static NestLayout? Run(NestProblem problem, IReadOnlyList<NestPattern> pool, Clock clock)
    {
        var needed = problem.Demands.ToArray();
        var spare = problem.Limits.ToArray();
        var bars = new List<NestPattern>();
        var patterns = pool;
        while (needed.Any(n => n > 0) && !clock.IsUp)
        {
            var kept = patterns
                .Where(p => spare[p.Stock] > 0)
                .Select(p =>
                    p with
                    {
                        Pieces =
                        [
                            .. p
                                .Pieces.Where(x => needed[x.Kind] > 0)
                                .Select(x => (x.Kind, Math.Min(x.Count, needed[x.Kind]))),
                        ],
                    }
                )
                .Where(p => p.Pieces.Count > 0);
            var aim = PatternAim.Stock(problem) with { Demands = [.. needed], Limits = [.. spare] };
            using var program = new PatternProgram(aim, kept);
            program.Run(clock);
            if (program.Best is null)
            {
                return null;
            }

            patterns = program.Patterns;
            if (!Fix(program, needed, spare, bars))
            {
                return null;
            }
        }

        return clock.IsUp && needed.Any(n => n > 0) ? null : NestGreedy.Shorten(problem, bars, spare);
    }

    /// <summary>Takes the whole part of every amount; where there is none, the pattern with the largest amount once.</summary>
    private static bool Fix(PatternProgram program, int[] needed, int[] spare, List<NestPattern> bars)
    {
        var amounts = program.Amounts;
        var isAny = false;
        foreach (var p in Enumerable.Range(0, amounts.Length).OrderByDescending(p => amounts[p]))
        {
            var pattern = program.Patterns[p];
            var wanted = isAny || amounts[p] >= 1 - 1e-6 ? (int)Math.Floor(amounts[p] + 1e-6) : 1;
            for (
                ;
                wanted > 0 && spare[pattern.Stock] > 0 && pattern.Pieces.All(x => x.Count <= needed[x.Kind]);
                wanted--
            )
            {
                bars.Add(pattern);
                spare[pattern.Stock]--;
                isAny = true;
                foreach (var (kind, count) in pattern.Pieces)
                {
                    needed[kind] -= count;
                }
            }

            if (amounts[p] < 1e-9)
            {
                break;
            }
        }

        return isAny;
    }
}
