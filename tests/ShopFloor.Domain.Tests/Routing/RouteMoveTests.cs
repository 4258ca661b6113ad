using CsCheck;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.HotWork;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Domain.Tests.Routing;

/// <summary>A running job goes over to another edition of its route.</summary>
public sealed class RouteMoveTests
{
    private static readonly Worker Owner = new(JobShop.Ivo, null);
    private static readonly RouteTemplate Shipped = StarterRoutes.Template("six-point-weld-in");

    [Fact]
    public void Done_work_stays_and_what_has_not_begun_is_described_anew()
    {
        var shop = new JobShop().Through("90");
        var to = Edition(o => o.Code is "70" or "100" ? o with { Title = o.Title + ", carefully" } : o);

        var move = shop.Job.PreviewMove(to);

        Assert.Empty(move.Refusals);
        Assert.True(move.CanFinish);
        Assert.Equal(
            [("70", RouteStepKind.Stays), ("100", RouteStepKind.Changes)],
            move.Steps.Select(s => (s.Code, s.Kind))
        );
        Move(shop, to);
        Assert.Equal(2, shop.Job.TemplateEdition);
        Assert.DoesNotContain("carefully", shop.Job.Operation("70")!.Title);
        Assert.EndsWith("carefully", shop.Job.Operation("100")!.Title);
        Assert.Equal(OperationProgress.Done, shop.Job.Operation("90")!.Progress);
    }

    [Fact]
    public void New_operation_comes_onto_the_job_and_one_that_is_gone_is_not_needed()
    {
        var shop = new JobShop().Through("90");
        var to = Edition(
            o => o.Code == "130" ? o with { After = ["120", "125"] } : o,
            add: Shipped.Operations.Single(o => o.Code == "120") with
            {
                Code = "125",
                Title = "Seat bolted in and tried",
                After = ["120"],
            },
            without: "240"
        );

        Move(shop, to);

        Assert.Equal(["120", "125", "130"], shop.Job.Operations.Select(o => o.Code).SkipWhile(c => c != "120").Take(3));
        Assert.Equal(OperationProgress.NotNeeded, shop.Job.Operation("240")!.Progress);
        shop.Through("120");
        Assert.Equal("125", JobShop.Refusal(shop.Start("130")).Operation);
        shop.Through("270");
        Assert.True(shop.Job.AllOver);
    }

    [Fact]
    public void Move_is_refused_where_a_new_operation_belongs_before_one_that_has_begun()
    {
        var shop = new JobShop().Through("100");
        var to = Edition(
            o => o.Code == "100" ? o with { After = ["90", "95"] } : o,
            add: Shipped.Operations.Single(o => o.Code == "90") with
            {
                Code = "95",
                Title = "Floor measured",
                After = ["90"],
                NeedsOpen = [],
            }
        );

        var reason = Assert.Single(shop.Job.PreviewMove(to).Refusals);

        Assert.Equal(("tooLate", "95"), (reason.Code, reason.Operation));
        Assert.Contains("100 Main hoop in", reason.Text);
        Assert.False(shop.Job.MoveTo(to, Owner, shop.Now, shop.NewId<OperationId>).IsSuccess);
        Assert.Equal(1, shop.Job.TemplateEdition);
    }

    [Fact]
    public void Move_is_refused_where_the_rest_could_not_be_finished_after_what_is_done()
    {
        var shop = new JobShop().Through("190");
        var to = Edition(o => o.Code == "200" ? o with { NeedsOpen = ["trim-out", "hoop-can-tilt"] } : o);

        var reason = Assert.Single(shop.Job.PreviewMove(to).Refusals);

        Assert.Equal("buildSequence", reason.Code);
        Assert.Contains("the hoop free to rock forward", reason.Text);
    }

    [Fact]
    public void Rework_and_its_place_before_later_work_survive_the_move()
    {
        var shop = new JobShop().Through("140");
        Assert.True(
            shop.Job.AddRework(
                "140",
                shop.Job.Operation("140")!.Route with
                {
                    Code = "",
                    Title = "Joint again",
                },
                null,
                shop.NewId<OperationId>
            ).IsSuccess
        );

        Move(shop, Edition(o => o.Code == "150" ? o with { Title = "Looked at twice" } : o));

        Assert.Equal(OperationProgress.NotBegun, shop.Job.Operation("141")!.Progress);
        Assert.Equal("141", JobShop.Refusal(shop.Start("150")).Operation);
        var clash = Edition(
            o => o,
            add: Shipped.Operations.Single(o => o.Code == "140") with
            {
                Code = "141",
                Title = "Other",
            },
            edition: 3
        );
        Assert.Contains(shop.Job.PreviewMove(clash).Refusals, r => r.Code == "numberTaken");
    }

    [Fact]
    public void Way_that_is_new_stands_as_the_done_operations_leave_it()
    {
        var shop = new JobShop().Through("160");
        var to = RouteBuilder.Build(
            Shipped with
            {
                Edition = 2,
                Ways =
                [
                    .. Shipped.Ways,
                    new AccessWay
                    {
                        Code = "bare",
                        Title = "the joints bare",
                        OpenAtStart = true,
                    },
                ],
                Operations =
                [
                    .. Shipped.Operations.Select(o => o.Code == "160" ? o with { Closes = [.. o.Closes, "bare"] } : o),
                ],
            },
            shop.Job.Scope
        );

        Move(shop, to);

        Assert.DoesNotContain("bare", shop.Job.OpenWays);
        Assert.Contains("hoop-can-tilt", shop.Job.OpenWays);
    }

    [Fact]
    public void Whatever_is_done_a_move_to_the_same_description_changes_nothing_but_the_edition() =>
        Gen.Int[0, Shipped.Operations.Count - 1]
            .Sample(
                index =>
                {
                    var shop = new JobShop().Through(new JobShop().Job.Operations[index % 27].Code);
                    var before = shop.Job.Operations.Select(o => (o.Code, o.Progress, o.Position)).ToList();
                    var ways = shop.Job.OpenWays.Order().ToList();
                    var to = Edition(o => o);
                    Assert.Empty(shop.Job.PreviewMove(to).Steps);
                    Move(shop, to);
                    Assert.Equal(before, shop.Job.Operations.Select(o => (o.Code, o.Progress, o.Position)));
                    Assert.Equal(ways, shop.Job.OpenWays.Order());
                },
                iter: 40
            );

    /// <summary>What the trade knows, said by access ways and not by the order alone: each wrong order is tried on a car whose route no longer forbids it. Common practice, no source.</summary>
    [Theory]
    [InlineData("250", "trim back before the plates are welded", "120", "170", "the trim out")]
    [InlineData("210", "door bars before the bar has been out", "120", "130", "the passenger door opening clear")]
    [InlineData(
        "190",
        "hoop welded for good before the bar has been out",
        "120",
        "130",
        "the hoop free to rock forward"
    )]
    [InlineData("160", "paint before the joints are inspected", "140", "150", "the off-car joints bare of paint")]
    [InlineData("240", "primer before the welds are inspected", "220", "230", "the welds bare and in sight")]
    [InlineData("180", "bar back in before its plates are welded", "160", "170", "the floor under the feet reachable")]
    public void Wrong_order_is_refused_by_name(string code, string what, string through, string first, string way)
    {
        var shop = new JobShop().Through(through);
        Move(shop, Edition(o => o.Code == code ? o with { After = [through], Gates = [] } : o));

        // Paint needs the hot work around it closed.
        shop.HotWork = shop.Job.Operation(code)!.Route.PaintOrSolvent ? HotWorkFacts.None : null;
        var reason = JobShop.Refusal(shop.Start(code));

        Assert.True(reason.Code == "buildSequence", $"{what}: {reason.Text}");
        Assert.Contains(first, reason.Text);
        Assert.Contains(way, reason.Text);
    }

    [Fact]
    public void Route_on_which_the_hoop_foot_is_tacked_behind_is_not_taken()
    {
        var wrong = Shipped with
        {
            Operations =
            [
                .. Shipped.Operations.Select(o =>
                    o.Code == "100" ? o with { Closes = [.. o.Closes, "hoop-can-tilt"] } : o
                ),
            ],
        };

        var problem = Assert.Single(RouteTemplateCheck.Problems(wrong));

        Assert.Contains("130 needs open: hoop-can-tilt (closed by 100)", problem.Text);
    }

    [Fact]
    public void Two_editions_are_compared_in_sentences()
    {
        var to = Shipped with
        {
            Operations =
            [
                .. Shipped
                    .Operations.Where(o => o.Code != "240")
                    .Select(o =>
                        o.Code == "140"
                            ? o with
                            {
                                After = ["130", "120"],
                                Gates = [new RouteGate { Kind = GateKind.SecondPerson }],
                                CureMinutes = 90,
                            }
                            : o
                    ),
            ],
        };

        var said = RouteDifferences.Between(Shipped, to).Select(c => c.Sentence).ToList();

        Assert.Contains("140: It waits now also for 120.", said);
        Assert.Contains("140: New gate: a second person present.", said);
        Assert.Contains("140: The cure was \"none\", is \"90 min\".", said);
        Assert.Contains(
            said,
            s => s.StartsWith("240 ", StringComparison.Ordinal) && s.EndsWith("is gone.", StringComparison.Ordinal)
        );
        Assert.Equal(4, said.Count);
        Assert.Empty(RouteDifferences.Between(Shipped, Shipped));
    }

    private static void Move(JobShop shop, BuiltRoute to)
    {
        var moved = shop.Job.MoveTo(to, Owner, shop.Now, shop.NewId<OperationId>);
        Assert.True(moved.IsSuccess, moved.Failure?.Sentence);
    }

    private static BuiltRoute Edition(
        Func<RouteOperation, RouteOperation> change,
        RouteOperation? add = null,
        string? without = null,
        int edition = 2
    )
    {
        var operations = Shipped
            .Operations.Where(o => o.Code != without)
            .Select(o => o with { After = [.. o.After.Select(a => a == without ? "230" : a)] })
            .Select(o => o with { Gates = [.. o.Gates.Where(g => without is null || g.Operation != without)] })
            .Select(change)
            .ToList();
        if (add is not null)
        {
            operations.Insert(operations.FindIndex(o => o.Code == add.After[^1]) + 1, add);
        }

        return RouteBuilder.Build(Shipped with { Edition = edition, Operations = operations }, StarterRoutes.Scope());
    }
}
