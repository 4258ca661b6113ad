using ShopFloor.Domain.Forecast;
using ShopFloor.Domain.Planning;
using ShopFloor.Domain.Tests.Planning;

namespace ShopFloor.Domain.Tests.Forecast;

/// <summary>What a trial puts on the board keeps the rules of the plan, with the lengths that were drawn.</summary>
public sealed class ForecastTrialTests
{
    [Fact]
    public void Every_trial_keeps_the_rules_of_the_plan_also_where_work_is_cut()
    {
        var (cut, whole) = (0, 0);
        var shop = ShopSpread.Learn([], new SpreadPrior(0.4));
        for (var seed = 0; seed < 120; seed++)
        {
            var problem = RandomShop.Make(seed, 1 + (seed % 5), 3 + (seed % 9), days: 120);
            var question = new ForecastQuestion(
                problem,
                [.. problem.Tasks.Select(t => new ForecastTask(t.Code, t.Slots / 2.0, t.Begun ? 0.5 : 0, 0.5))],
                [.. problem.Jobs.Select(j => new ForecastCar(j.Id, j.Number, null, []))],
                []
            );
            var plain = DispatchPlan.Run(problem);
            for (var trial = 0; trial < 3; trial++)
            {
                var result = ShopForecast.Trial(question, shop, seed, trial);
                var (drawn, entries) = InPieces(plain.Problem, result.Entries);
                var breaches = PlanCheck.Run(drawn, entries, result.Later.ToHashSet());
                Assert.True(breaches.Count == 0, $"seed {seed}: {string.Join(" ", breaches.Select(b => b.Text))}");
                cut += entries.Count - result.Entries.DistinctBy(e => e.Task).Count();
                whole += result.Entries.DistinctBy(e => e.Task).Count();
            }
        }

        Assert.True(cut > 100, $"only {cut} were cut");
        Assert.True(whole > 3000, $"only {whole} were drawn");
    }

    /// <summary>The problem with the lengths that were drawn, further pieces as operations of their own behind the first.</summary>
    private static (PlanProblem, IReadOnlyList<PlanEntry>) InPieces(
        PlanProblem problem,
        IReadOnlyList<PlanEntry> entries
    )
    {
        var tasks = problem.Tasks.ToList();
        var numbered = new List<PlanEntry>();
        var last = Enumerable.Range(0, tasks.Count).ToArray();
        foreach (var pieces in entries.GroupBy(e => e.Task))
        {
            foreach (var (i, piece) in pieces.Index())
            {
                var at = i == 0 ? pieces.Key : tasks.Count;
                var task = problem.Tasks[pieces.Key];
                var made = task with
                {
                    Slots = piece.End - piece.Start,
                    Before = i == 0 ? task.Before : [new PlanBefore(last[pieces.Key], 0)],
                    Begun = task.Begun && i == 0,
                    Closes = i == 0 ? task.Closes : [],
                    Opens = i == pieces.Count() - 1 ? task.Opens : [],
                    IsInspection = task.IsInspection && i == 0,
                };
                if (i == 0)
                {
                    tasks[at] = made;
                }
                else
                {
                    tasks.Add(made);
                }

                last[pieces.Key] = at;
                numbered.Add(piece with { Task = at });
            }
        }

        // What comes after an operation comes after its last piece.
        for (var t = 0; t < tasks.Count; t++)
        {
            if (t < problem.Tasks.Count)
            {
                tasks[t] = tasks[t] with { Before = [.. tasks[t].Before.Select(b => b with { Task = last[b.Task] })] };
            }
        }

        return (problem with { Tasks = tasks }, numbered);
    }
}
