using CsCheck;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Domain.Tests.Routing;

public sealed class SequenceCheckTests
{
    [Fact]
    public void Bar_welded_in_before_its_plates_are_done_is_a_dead_end()
    {
        var plan = Plan(
            ["floor"],
            [Op("plates", needs: ["floor"]), Op("bar", closes: ["floor"]), Op("trim", after: ["plates", "bar"])],
            done: ["bar"]
        );

        var result = Check(plan);

        Assert.False(result.CanFinish);
        Assert.Equal("plates", result.DeadEnd!.Operation);
        Assert.Empty(result.DeadEnd.After);
        Assert.Contains("plates needs open: floor", result.DeadEnd.Reasons[0].Text);
    }

    [Fact]
    public void Same_bar_can_be_finished_when_the_plates_come_first()
    {
        var result = Check(Plan(["floor"], [Op("bar", closes: ["floor"]), Op("plates", needs: ["floor"])]));

        Assert.True(result.CanFinish);
        Assert.Equal(["plates", "bar"], result.Order);
    }

    [Fact]
    public void Operation_that_only_opens_a_way_is_not_always_done_at_once()
    {
        // The trap: "a" closes nothing, yet done first its way is shut by "b" before "c" can use it.
        var result = Check(
            Plan([], [Op("a", opens: ["w"]), Op("b", closes: ["w"]), Op("c", after: ["b"], needs: ["w"])])
        );

        Assert.True(result.CanFinish);
        Assert.Equal(["b", "a", "c"], result.Order);
    }

    [Fact]
    public void Circle_in_after_is_shown_in_the_order_of_waiting_even_where_part_of_it_is_done()
    {
        var result = Check(
            Plan([], [Op("a", after: ["c"]), Op("b", after: ["a"]), Op("c", after: ["b"]), Op("d")], done: ["a"])
        );

        Assert.False(result.CanFinish);
        Assert.Equal(["a", "b", "c"], result.Cycle.Order());
        Assert.Null(result.DeadEnd);
    }

    [Fact]
    public void Operation_after_itself_is_a_circle_of_one()
    {
        Assert.Equal(["a"], Check(Plan([], [Op("a", after: ["a"])])).Cycle);
    }

    [Fact]
    public void Way_that_nobody_opens_is_a_dead_end()
    {
        var result = Check(Plan([], [Op("x"), Op("y", needs: ["hatch"])]));

        Assert.False(result.CanFinish);
        Assert.Equal("y", result.DeadEnd!.Operation);
        Assert.Equal(["x"], result.DeadEnd.After);
    }

    [Fact]
    public void Operation_that_closes_and_opens_a_way_leaves_it_open()
    {
        var result = Check(Plan([], [Op("x", closes: ["w"], opens: ["w"]), Op("y", needs: ["w"])]));

        Assert.True(result.CanFinish);
    }

    [Fact]
    public void Everything_done_can_be_finished_with_nothing_left()
    {
        var result = Check(Plan([], [Op("x", needs: ["never"])], done: ["x"]));

        Assert.True(result.CanFinish);
        Assert.Empty(result.Order);
    }

    [Fact]
    public void Search_that_reaches_its_limit_answers_nothing_rather_than_guessing()
    {
        var result = Check(
            Plan(
                ["v", "w"],
                [
                    Op("a", needs: ["w"], closes: ["v"]),
                    Op("b", needs: ["v"], closes: ["w"]),
                    Op("c", after: ["a"], opens: ["v"]),
                ]
            ),
            stateLimit: 0
        );

        Assert.Null(result.CanFinish);
        Assert.Empty(result.Order);
        Assert.Null(result.DeadEnd);
    }

    [Theory]
    [InlineData("six-point-weld-in")]
    [InlineData("four-point-half-bar")]
    public void Shipped_route_can_be_finished(string code)
    {
        var template = StarterRoutes.Template(code);

        Assert.True(Check(RouteTemplateCheck.PlanOf(template.Ways, template.Operations)).CanFinish);
    }

    [Fact]
    public void Request_with_unknown_and_duplicate_names_is_told_each_by_its_path()
    {
        var plan = new SequencePlan([], [Op("a", after: ["zz"]), Op("a")], ["b", "a", "a"]);

        var paths = plan.Problems().Select(p => p.Path).ToList();

        Assert.Contains("operations[0].after[0]", paths);
        Assert.Contains("operations[1].id", paths);
        Assert.Contains("done[0]", paths);
        Assert.Contains("done[2]", paths);
    }

    [Fact]
    public void Answer_is_that_of_brute_force_on_small_random_networks()
    {
        NetworkGen.Sample(
            plan =>
            {
                var result = Check(plan);
                var expected = BruteForce.CanFinish(plan);
                Assert.Equal(expected, result.CanFinish);
                if (result.CanFinish == true)
                {
                    Assert.True(BruteForce.Ends(plan, result.Order, finished: true));
                }
                else if (result.Cycle.Count == 0)
                {
                    Assert.True(BruteForce.Ends(plan, result.DeadEnd!.After, finished: false));
                    Assert.DoesNotContain(result.DeadEnd.Operation, result.DeadEnd.After.Concat(plan.Done));
                }
            },
            iter: 20_000
        );
    }

    [Fact]
    public void Answer_on_sixty_operations_and_twelve_ways_is_proven_or_withheld()
    {
        Wide.Sample(
            plan =>
            {
                var result = Check(plan, stateLimit: 500);
                if (result.CanFinish == true)
                {
                    Assert.True(BruteForce.Ends(plan, result.Order, finished: true));
                }
                else if (result.CanFinish == false)
                {
                    Assert.True(BruteForce.Ends(plan, result.DeadEnd!.After, finished: false));
                }
                else
                {
                    Assert.Empty(result.Order);
                }
            },
            iter: 100
        );
    }

    private static readonly Gen<SequencePlan> NetworkGen = NetworksOf(Gen.Int[1, 7], 4, 60);

    /// <summary>Five strands of twelve, each with ways of its own and one shared by all, so that orders matter and most can be finished.</summary>
    private static readonly Gen<SequencePlan> Wide = Gen.Int[0, 10_000]
        .Select(seed =>
        {
            var random = new Random(seed);
            var operations = new List<SequenceOperation>();
            for (var strand = 0; strand < 5; strand++)
            {
                for (var i = 0; i < 12; i++)
                {
                    var own = $"w{(strand * 2) + random.Next(2)}";
                    operations.Add(
                        Op(
                            $"{strand}.{i}",
                            after: i == 0 ? [] : [$"{strand}.{random.Next(i)}"],
                            needs: random.Next(3) == 0 ? [own]
                                : random.Next(6) == 0 ? ["shared"]
                                : [],
                            closes: random.Next(4) == 0 ? [own]
                                : random.Next(9) == 0 ? ["shared"]
                                : [],
                            opens: random.Next(3) == 0 ? [own]
                                : random.Next(5) == 0 ? ["shared"]
                                : []
                        )
                    );
                }
            }

            return Plan([.. Enumerable.Range(0, 10).Select(i => $"w{i}"), "shared"], operations);
        });

    private static Gen<SequencePlan> NetworksOf(Gen<int> sizes, int ways, int percentForward) =>
        Gen.Select(sizes, Gen.Int[0, int.MaxValue - 1])
            .Select(
                (size, seed) =>
                {
                    var random = new Random(seed);
                    string[] Ways(int odds) =>
                        [.. Enumerable.Range(0, ways).Where(_ => random.Next(odds) == 0).Select(w => $"w{w}")];
                    var operations = Enumerable
                        .Range(0, size)
                        .Select(i =>
                            Op(
                                $"o{i}",
                                after:
                                [
                                    .. Enumerable
                                        .Range(0, size)
                                        .Where(j =>
                                            random.Next(5) == 0 && (j < i || random.Next(100) > percentForward + 35)
                                        )
                                        .Select(j => $"o{j}"),
                                ],
                                needs: Ways(3),
                                closes: Ways(4),
                                opens: Ways(4)
                            )
                        )
                        .ToList();
                    string[] done = [.. operations.Where(_ => random.Next(6) == 0).Select(o => o.Id)];
                    random.Shuffle(done);
                    return new SequencePlan(Ways(2), operations, done);
                }
            );

    private static SequenceResult Check(SequencePlan plan, int stateLimit = SequenceCheck.DefaultStateLimit) =>
        SequenceCheck.Run(plan, stateLimit, TestContext.Current.CancellationToken);

    private static SequencePlan Plan(
        string[] ways,
        IReadOnlyList<SequenceOperation> operations,
        string[]? done = null
    ) => new(ways, operations, done ?? []);

    private static SequenceOperation Op(
        string id,
        string[]? after = null,
        string[]? needs = null,
        string[]? closes = null,
        string[]? opens = null
    ) => new(id, after ?? [], needs ?? [], closes ?? [], opens ?? []);
}
