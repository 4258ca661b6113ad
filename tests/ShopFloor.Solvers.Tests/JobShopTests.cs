using CsCheck;
using ShopFloor.Domain.Planning.JobShop;
using ShopFloor.Domain.Solving;
using ShopFloor.Solvers.JobShop;

namespace ShopFloor.Solvers.Tests;

public sealed class JobShopTests
{
    private static JobShopAnswer Solve(
        JobShopProblem problem,
        int seconds = 20,
        CancellationTokenSource? stop = null
    ) =>
        new CpSatJobShopSolver().Solve(
            problem,
            new SolveLimits(seconds),
            null,
            stop?.Token ?? TestContext.Current.CancellationToken
        );

    private static JobShopProblem Problem(params (string Resource, int Minutes)[][] jobs) =>
        JobShopProblem
            .Create([
                .. jobs.Select(
                    (j, n) => new JobShopJob($"j{n}", [.. j.Select(s => new JobShopStep(s.Resource, s.Minutes))])
                ),
            ])
            .Value;

    /// <summary>FT06: Fisher and Thompson, in Muth and Thompson, Industrial Scheduling, 1963. LA01: Lawrence, 1984. FT10, of the first, was open until 1989 (J. Carlier, E. Pinson, An algorithm for solving the job-shop problem, Management Science 35; from memory).</summary>
    [Theory]
    [InlineData("ft06", 55)]
    [InlineData("la01", 666)]
    [InlineData("ft10", 930)]
    public void Published_optimum_is_found_and_proven(string name, int optimum)
    {
        var problem = Published.JobShop(name);
        var answer = Solve(problem, seconds: SolveLimits.MostSeconds);
        Assert.Equal((optimum, optimum, true), (answer.Makespan, answer.LowerBound, answer.IsProvenOptimal));
        Assert.Empty(JobShopCheck.Faults(problem, answer.Plan));
    }

    [Fact]
    public void Rule_alone_gives_a_plan_that_holds_and_is_never_better_than_the_optimum()
    {
        foreach (var (name, optimum) in new[] { ("ft06", 55), ("ft10", 930), ("la01", 666) })
        {
            var problem = Published.JobShop(name);
            var plan = JobShopDispatch.Best(problem);
            Assert.Empty(JobShopCheck.Faults(problem, plan));
            Assert.InRange(plan.Makespan(problem), optimum, optimum * 13 / 10);
            Assert.True(problem.LowerBound <= optimum);
        }
    }

    [Fact]
    public void Odd_shops_are_planned()
    {
        Assert.Equal(0, Solve(Problem()).Makespan);
        Assert.Equal(0, Solve(Problem([], [])).Makespan);
        Assert.Equal(0, Solve(Problem([("a", 0), ("b", 0)], [("a", 0)])).Makespan);
        // One resource: everything one after the other, in any order.
        var queue = Solve(Problem([("saw", 5), ("saw", 7)], [("saw", 3)], [("saw", 0)]));
        Assert.Equal((15, true), (queue.Makespan, queue.IsProvenOptimal));
        // Durations at the limit: the horizon is far beyond 32 bits.
        var steps = Enumerable.Range(0, 2500).Select(_ => ("only", 1_000_000)).ToArray();
        var long1 = Solve(Problem(steps, steps));
        Assert.Equal((5_000_000_000, true), (long1.Makespan, long1.IsProvenOptimal));
    }

    /// <summary>Forty jobs of twenty operations on eight resources: with so much work on each, the resource with most of it decides the end.</summary>
    [Theory]
    [InlineData(11)]
    [InlineData(14)]
    public void A_full_shop_drawn_at_random_is_planned_within_three_percent_of_what_no_plan_can_beat(int seed)
    {
        var problem = DrawnShops.Draw(jobs: 40, seed);
        Assert.InRange(Solve(problem, seconds: 10).Makespan, problem.LowerBound, problem.LowerBound * 103 / 100);
    }

    /// <summary>Also where operations take no time, for which the rule of the moves sees no circle.</summary>
    [Fact]
    public void Tabu_search_keeps_every_rule_and_never_gives_back_a_worse_plan()
    {
        var steps = Gen.Select(
            Gen.Int[0, 3],
            Gen.Frequency((1, Gen.Const(0)), (3, Gen.Int[1, 9])),
            (r, m) => ($"r{r}", m)
        );
        steps
            .Array[1, 8]
            .Array[2, 8]
            .Sample(
                jobs =>
                {
                    var problem = Problem(jobs);
                    var first = JobShopDispatch.Best(problem);
                    var steps = 0;
                    var better = TabuSearch.Improve(problem, first, seed: 5, () => ++steps > 500);
                    Assert.Empty(JobShopCheck.Faults(problem, better));
                    Assert.InRange(better.Makespan(problem), problem.LowerBound, first.Makespan(problem));
                },
                iter: 300,
                threads: 1
            );
    }

    /// <summary>The published optimum of FT10 is 930; the rule alone ends at 1,108.</summary>
    [Fact]
    public void Tabu_search_comes_near_a_published_optimum_by_itself()
    {
        var problem = Published.JobShop("ft10");
        var steps = 0;
        var plan = TabuSearch.Improve(problem, JobShopDispatch.Best(problem), seed: 1, () => ++steps > 20_000);
        Assert.Empty(JobShopCheck.Faults(problem, plan));
        Assert.InRange(plan.Makespan(problem), 930, 960);
    }

    /// <summary>All orders of all operations tried, each begun as early as it can be: one of them is optimal.</summary>
    [Fact]
    public void Small_shops_agree_with_trying_every_order()
    {
        var shops = Gen.Select(Gen.Int[0, 2], Gen.Int[0, 6], (r, m) => ($"r{r}", m)).Array[0, 3].Array[1, 3];
        shops.Sample(
            jobs =>
            {
                var problem = Problem(jobs);
                var answer = Solve(problem);
                Assert.True(answer.IsProvenOptimal);
                Assert.Equal(Shortest(problem), answer.Makespan);
            },
            iter: 40,
            threads: 1
        );
    }

    private static long Shortest(JobShopProblem problem)
    {
        var best = long.MaxValue;
        var next = new int[problem.Jobs.Count];
        Go(new long[problem.Jobs.Count], new long[problem.ResourceCount], 0);
        return best;

        void Go(long[] jobFree, long[] resourceFree, long end)
        {
            var isDone = true;
            for (var j = 0; j < next.Length; j++)
            {
                if (next[j] == problem.Jobs[j].Steps.Count)
                {
                    continue;
                }

                isDone = false;
                var (r, minutes) = (problem.ResourceOf[j][next[j]], problem.Jobs[j].Steps[next[j]].Minutes);
                var finish = Math.Max(jobFree[j], resourceFree[r]) + minutes;
                long[] jobs = [.. jobFree],
                    resources = [.. resourceFree];
                jobs[j] = resources[r] = finish;
                next[j]++;
                Go(jobs, resources, Math.Max(end, finish));
                next[j]--;
            }

            best = isDone ? Math.Min(best, end) : best;
        }
    }

    [Fact]
    public void Large_shop_gets_a_plan_within_the_time_and_a_bound_that_holds()
    {
        var random = new Random(7);
        var problem = Problem([
            .. Enumerable
                .Range(0, 100)
                .Select(_ =>
                    Enumerable.Range(0, 50).Select(_ => ($"r{random.Next(12)}", random.Next(1, 480))).ToArray()
                ),
        ]);
        var answer = Solve(problem, seconds: 2);
        Assert.Equal(5000, problem.OperationCount);
        Assert.InRange(answer.LowerBound, problem.LowerBound, answer.Makespan);
        Assert.Empty(JobShopCheck.Faults(problem, answer.Plan));
    }

    [Fact]
    public async Task Run_stops_when_nobody_waits_for_it()
    {
        using var stop = new CancellationTokenSource();
        var run = Task.Run(() => Solve(Published.JobShop("ft10"), 120, stop), TestContext.Current.CancellationToken);
        await stop.CancelAsync();
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => run);
    }
}
