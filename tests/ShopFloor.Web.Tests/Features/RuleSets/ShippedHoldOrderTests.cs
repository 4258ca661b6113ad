using ShopFloor.Application.Inspection;
using ShopFloor.Application.Routing;
using ShopFloor.Application.RuleSets;
using ShopFloor.Domain.Inspection;

namespace ShopFloor.Web.Tests.Features.RuleSets;

/// <summary>The shipped routes let every hold point of the shipped plans be passed before what hides the work.</summary>
public sealed class ShippedHoldOrderTests
{
    private static readonly InspectionLibrary Plans = new(new RuleSetLibrary());
    private static readonly RouteLibrary Routes = new();

    [Fact]
    public void Every_shipped_route_is_in_order_with_the_plan_for_its_kits()
    {
        var proved = 0;
        foreach (var route in Routes.Shipped)
        {
            foreach (var plan in Plans.Plans.Where(p => route.Kits.Any(p.IsFor)))
            {
                Assert.Empty(HoldOrder.Problems(plan.Document, route).Select(p => $"{route.Code}: {p.Text}"));
                proved += plan
                    .Document.Lines.Where(l => l.HiddenBy is not null)
                    .Select(l => l.Operation)
                    .Distinct()
                    .Count();
            }
        }

        Assert.True(proved >= 11, $"Only {proved} hold points say what hides them.");
    }

    [Theory]
    // Gate of the hold point taken off the operation that hides the work.
    [InlineData("100", "Main hoop in")]
    [InlineData("160", "painted off the car")]
    [InlineData("240", "Corrosion protection")]
    public void A_route_that_loses_its_hold_gate_is_found_out(string code, string title)
    {
        var route = Routes.Shipped.Single(r => r.Code == "six-point-weld-in");
        var plan = Plans.Plans.Single(p => p.IsFor("six-point-weld-in"));
        var loose = route with
        {
            Operations = [.. route.Operations.Select(o => o.Code == code ? o with { Gates = [] } : o)],
        };
        Assert.Contains(
            HoldOrder.Problems(plan.Document, loose),
            p => p.Text.StartsWith(code, StringComparison.Ordinal) && p.Text.Contains(title, StringComparison.Ordinal)
        );
    }
}
