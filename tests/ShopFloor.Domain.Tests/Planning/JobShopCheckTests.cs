using ShopFloor.Domain.Common;
using ShopFloor.Domain.Planning.JobShop;

namespace ShopFloor.Domain.Tests.Planning;

public sealed class JobShopCheckTests
{
    private static readonly JobShopProblem Shop = JobShopProblem
        .Create([
            new("a", [new("saw", 3), new("weld", 4)]),
            new("b", [new("weld", 2), new("saw", 5)]),
            new("c", [new("saw", 0)]),
        ])
        .Value;

    private static IReadOnlyList<string> Faults(params long[][] starts) =>
        JobShopCheck.Faults(Shop, new JobShopPlan(starts));

    [Fact]
    public void Plan_that_holds_is_let_through_and_each_seeded_error_is_caught()
    {
        Assert.Empty(Faults([0, 3], [0, 3], [3]));
        Assert.Contains("before the one before it", Faults([0, 2], [0, 3], [3])[0], StringComparison.Ordinal);
        Assert.Contains("overlap", Assert.Single(Faults([0, 3], [0, 2], [2])), StringComparison.Ordinal);
        Assert.Contains("overlap", Assert.Single(Faults([0, 3], [0, 3], [5])), StringComparison.Ordinal);
        Assert.Contains("before minute 0", Assert.Single(Faults([-1, 3], [0, 3], [3])), StringComparison.Ordinal);
        Assert.Contains("horizon", Assert.Single(Faults([0, 11], [0, 3], [3])), StringComparison.Ordinal);
        Assert.Contains("exactly once", Assert.Single(Faults([0, 3], [0, 3])), StringComparison.Ordinal);
        Assert.Contains("exactly once", Assert.Single(Faults([0], [0, 3], [3])), StringComparison.Ordinal);
    }

    /// <summary>Every start of a tight plan, moved by one minute either way: whatever the checker lets through still holds by a second, plain test.</summary>
    [Fact]
    public void Moved_operations_are_judged_as_minute_by_minute_counting_judges_them()
    {
        long[][] good =
        [
            [0, 3],
            [0, 3],
            [3],
        ];
        var (held, caught) = (0, 0);
        for (var j = 0; j < 3; j++)
        {
            for (var i = 0; i < good[j].Length; i++)
            {
                foreach (var by in new[] { -2, -1, 1, 2, 4 })
                {
                    var moved = good.Select(s => s.ToArray()).ToArray();
                    moved[j][i] += by;
                    var holds = ByMinutes(moved);
                    Assert.Equal(holds, Faults(moved).Count == 0);
                    _ = holds ? held++ : caught++;
                }
            }
        }

        Assert.True(held > 0 && caught > 10, $"{held} held, {caught} caught");
    }

    private static bool ByMinutes(long[][] starts)
    {
        var ops = Shop
            .Jobs.SelectMany(
                (job, j) => job.Steps.Select((s, i) => (Job: j, Index: i, s.Resource, At: starts[j][i], s.Minutes))
            )
            .ToList();
        return ops.TrueForAll(o => o.At >= 0 && o.At + o.Minutes <= Shop.Horizon)
            && ops.TrueForAll(o =>
                ops.TrueForAll(p => p.Job != o.Job || p.Index <= o.Index || p.At >= o.At + o.Minutes)
            )
            && ops.TrueForAll(o =>
                ops.TrueForAll(p =>
                    p == o || p.Resource != o.Resource || o.At + o.Minutes <= p.At || p.At + p.Minutes <= o.At
                )
            );
    }

    [Fact]
    public void Bad_input_is_said_at_its_field()
    {
        static string[] Paths(params JobShopJob[] jobs) =>
            [.. Assert.IsType<Failure.Invalid>(JobShopProblem.Create(jobs).Failure).Errors.Select(e => e.Path)];
        Assert.Equal(["jobs[1].id"], Paths(new("a", []), new("a", [])));
        Assert.Equal(["jobs[0].id"], Paths(new JobShopJob("", [])));
        Assert.Equal(["jobs[0].operations[0].durationMinutes"], Paths(new JobShopJob("a", [new("r", -1)])));
        Assert.Equal(
            ["jobs[0].operations[1].durationMinutes"],
            Paths(new JobShopJob("a", [new("r", 1_000_000), new("r", 1_000_001)]))
        );
        Assert.Equal(["jobs[0].operations[0].resource"], Paths(new JobShopJob("a", [new("", 1)])));
        Assert.Equal(["jobs"], Paths(new JobShopJob("a", [.. Enumerable.Repeat(new JobShopStep("r", 1), 5001)])));
    }
}
