using ShopFloor.Domain.Planning;
using ShopFloor.Domain.Tests.Planning;
using ShopFloor.Solvers.ShopPlan;

namespace ShopFloor.Solvers.Tests.ShopPlan;

public sealed class CpSatPlanSolverTests
{
    private static readonly CpSatPlanSolver Solver = new();

    [Fact]
    public void Plans_keep_the_rules_are_no_worse_than_the_plain_rule_and_their_bounds_hold()
    {
        var better = 0;
        for (var seed = 0; seed < 6; seed++)
        {
            var dispatch = DispatchPlan.Run(RandomShop.Make(seed, jobs: 4, operations: 6, days: 40));
            var plain = PlanMeasure.Of(dispatch.Problem, dispatch.Entries);
            var plan = Improve(dispatch, seconds: 2);
            Assert.Empty(PlanCheck.Run(dispatch.Problem, plan.Entries, [.. dispatch.LeftOut.Keys]));
            Assert.Equal(PlanMeasure.Of(dispatch.Problem, plan.Entries), plan.Measure);
            Assert.True(plan.Measure <= plain, $"seed {seed}: {plain} became {plan.Measure}");
            Assert.True(plan.LateBound <= plan.Measure.LateSlots);
            Assert.True(plan.BayBound is null || plan.BayBound <= plan.Measure.BaySlots);
            better += plan.Measure < plain ? 1 : 0;
        }

        Assert.True(better >= 3, $"only {better} of 6 plans became better");
    }

    [Fact]
    public void On_small_shops_the_best_plan_is_the_one_that_trying_everything_finds()
    {
        var tried = 0;
        for (var seed = 0; seed < 16; seed++)
        {
            var problem = Small(seed);
            if (DispatchPlan.Run(problem) is not { LeftOut.Count: 0 } dispatch)
            {
                continue;
            }

            tried++;
            var plan = Improve(dispatch, seconds: 20);
            var best = TryEverything(problem);
            Assert.Equal((best.LateSlots, best.BaySlots), (plan.Measure.LateSlots, plan.Measure.BaySlots));
            Assert.Equal((best.LateSlots, best.BaySlots), (plan.LateBound, plan.BayBound!.Value));
        }

        Assert.True(tried >= 8, $"only {tried} small shops could be planned");
    }

    [Fact]
    public void A_plan_stays_where_it_was_where_nothing_is_gained_by_moving()
    {
        var dispatch = DispatchPlan.Run(RandomShop.Make(5, 3, 6));
        var first = Improve(dispatch, 5);
        var again = dispatch.Problem with
        {
            Tasks =
            [
                .. dispatch.Problem.Tasks.Select(
                    (t, i) => t with { Planned = first.Entries.SingleOrDefault(e => e.Task == i)?.Start }
                ),
            ],
        };

        var second = Improve(DispatchPlan.Run(again), 10);

        Assert.Equal(0, second.Measure.Moved);
    }

    [Fact]
    public void Cancelled_it_gives_the_best_plan_so_far()
    {
        var dispatch = DispatchPlan.Run(RandomShop.Make(8, 8, 12));
        using var cancel = new CancellationTokenSource();
        var said = new List<PlanProgress>();

        var plan = Solver.Improve(
            dispatch.Problem,
            dispatch.Entries,
            [.. dispatch.LeftOut.Keys],
            TimeSpan.FromSeconds(120),
            1,
            p =>
            {
                said.Add(p);
                cancel.Cancel();
            },
            cancel.Token
        );

        Assert.NotEmpty(said);
        Assert.Empty(PlanCheck.Run(dispatch.Problem, plan.Entries, [.. dispatch.LeftOut.Keys]));
    }

    private static WorkPlan Improve(DispatchResult dispatch, int seconds) =>
        Solver.Improve(
            dispatch.Problem,
            dispatch.Entries,
            [.. dispatch.LeftOut.Keys],
            TimeSpan.FromSeconds(seconds),
            1,
            null,
            CancellationToken.None
        );

    /// <summary>Two jobs of two operations on two days of six quarter hours.</summary>
    private static PlanProblem Small(int seed)
    {
        var problem = RandomShop.Make(seed, 2, 2, days: 2, slots: 6);
        return problem with
        {
            FireWatchSlots = 1,
            Tasks =
            [
                .. problem.Tasks.Select(
                    (t, i) =>
                        t with
                        {
                            Slots = 1 + ((t.Slots + i) % 3),
                            Earliest = t.Earliest % 3,
                            Before = [.. t.Before.Select(b => b with { RestMinutes = Math.Min(b.RestMinutes, 30) })],
                        }
                ),
            ],
            Jobs = [.. problem.Jobs.Select(j => j with { DueSlot = j.DueSlot is null ? null : j.DueSlot % 7 })],
        };
    }

    /// <summary>All beginnings, people and places of every operation, each whole plan looked at by the check.</summary>
    private static PlanMeasure TryEverything(PlanProblem problem)
    {
        PlanMeasure? best = null;
        Try([]);
        return best ?? throw new InvalidOperationException("No plan keeps the rules.");

        void Try(List<PlanEntry> entries)
        {
            if (entries.Count == problem.Tasks.Count)
            {
                var measure = PlanMeasure.Of(problem, entries);
                if ((best is null || measure < best) && PlanCheck.Run(problem, entries).Count == 0)
                {
                    best = measure;
                }

                return;
            }

            var t = entries.Count;
            var task = problem.Tasks[t];
            for (var start = task.Earliest; start + task.Slots <= problem.Axis.Slots; start++)
            {
                if (!problem.MayBeginAt(task, start) || task.Before.Any(b => entries[b.Task].End > start))
                {
                    continue;
                }

                foreach (var person in task.People.Where(p => problem.People[p].IsThere(start, start + task.Slots)))
                {
                    if (entries.Exists(e => e.Person == person && e.Start < start + task.Slots && e.End > start))
                    {
                        continue;
                    }

                    foreach (var place in task.Places)
                    {
                        Try([.. entries, new PlanEntry(t, start, start + task.Slots, person, place)]);
                    }
                }
            }
        }
    }
}
