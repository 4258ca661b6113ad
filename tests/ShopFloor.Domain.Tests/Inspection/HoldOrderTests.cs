using CsCheck;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Domain.Tests.Inspection;

/// <summary>Hold points come before what hides the work (common practice, no source).</summary>
public sealed class HoldOrderTests
{
    private static readonly PlannedLine Paint = Welds("20", "40");

    [Fact]
    public void A_hold_point_passed_before_the_paint_is_in_order() =>
        Assert.Empty(
            HoldOrder.Problems(Plan(Paint), Route(("10", [], null), ("20", ["10"], null), ("40", ["20"], "20")))
        );

    [Fact]
    public void A_gate_on_an_operation_in_between_is_enough() =>
        Assert.Empty(
            HoldOrder.Problems(
                Plan(Paint),
                Route(("10", [], null), ("20", ["10"], null), ("30", ["20"], "20"), ("40", ["30"], null))
            )
        );

    [Fact]
    public void A_hold_point_after_the_paint_is_refused_with_both_names()
    {
        var problem = Assert.Single(
            HoldOrder.Problems(Plan(Paint), Route(("10", [], null), ("40", ["10"], null), ("20", ["40"], null)))
        );
        Assert.Contains("20 (Step 20)", problem.Text, StringComparison.Ordinal);
        Assert.Contains("40 (Step 40)", problem.Text, StringComparison.Ordinal);
        Assert.Contains("does not come before", problem.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_hold_point_beside_the_paint_is_refused_too() =>
        Assert.Single(
            HoldOrder.Problems(Plan(Paint), Route(("10", [], null), ("20", ["10"], null), ("40", ["10"], "20")))
        );

    [Fact]
    public void Paint_that_waits_for_the_operation_but_not_for_the_hold_point_is_refused()
    {
        var problem = Assert.Single(HoldOrder.Problems(Plan(Paint), Route(("20", [], null), ("40", ["20"], null))));
        Assert.Contains("nothing makes it wait", problem.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Operations_that_a_route_does_not_have_hide_nothing() =>
        Assert.Empty(HoldOrder.Problems(Plan(Paint), Route(("10", [], null), ("20", ["10"], null))));

    [Fact]
    public void In_a_chain_of_operations_the_hold_point_is_in_order_exactly_where_it_stands_earlier() =>
        Gen.Select(Gen.Int[2, 12], Gen.Int[0, 11], Gen.Int[0, 11])
            .Sample(
                (length, at, hidesAt) =>
                {
                    var (point, hiding) = (at % length, hidesAt % length);
                    if (point == hiding)
                    {
                        return;
                    }

                    var route = Route([
                        .. Enumerable
                            .Range(0, length)
                            .Select(i =>
                                (
                                    Code(i),
                                    i == 0 ? Array.Empty<string>() : [Code(i - 1)],
                                    i == hiding ? Code(point) : null
                                )
                            ),
                    ]);
                    var problems = HoldOrder.Problems(Plan(Welds(Code(point), Code(hiding))), route);
                    Assert.Equal(point < hiding, problems.Count == 0);
                }
            );

    private static string Code(int index) => $"{(index + 1) * 10}";

    private static PlannedLine Welds(string at, params string[] hiddenBy) =>
        new("welds", at, "Off-car welds", "By eye", "Sample", InspectionPoint.Hold, HiddenBy: hiddenBy);

    private static InspectionPlanDocument Plan(PlannedLine line) => new(1, "sample", 1, "Sample", ["kit"], [line]);

    private static RouteTemplate Route(params (string Code, string[] After, string? Hold)[] steps) =>
        new()
        {
            Code = "sample",
            Edition = 1,
            Title = "Sample",
            Source = "Sample",
            Kits = ["kit"],
            Operations =
            [
                .. steps.Select(s => new RouteOperation
                {
                    Code = s.Code,
                    Title = $"Step {s.Code}",
                    Phase = Phase.MockUp,
                    Skill = "welder",
                    Place = "bay",
                    After = s.After,
                    Gates = s.Hold is { } hold ? [new RouteGate { Kind = GateKind.HoldPoint, Operation = hold }] : [],
                }),
            ],
        };
}
