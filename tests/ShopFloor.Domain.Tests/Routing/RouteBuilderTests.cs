using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Domain.Tests.Routing;

public sealed class RouteBuilderTests
{
    [Theory]
    [InlineData("six-point-weld-in", 27)]
    [InlineData("four-point-half-bar", 24)]
    public void Shipped_routes_are_free_of_problems_and_complete(string code, int operations)
    {
        var route = RouteBuilder.Build(StarterRoutes.Template(code), StarterRoutes.Scope(code));

        Assert.Equal(operations, route.Operations.Count);
        Assert.All(route.Operations, o => Assert.NotEmpty(o.Work));
        Assert.All(route.Operations.Where(o => o.HotWork), o => Assert.False(string.IsNullOrEmpty(o.Caution)));
    }

    [Fact]
    public void Car_without_sound_deadening_needs_no_operation_for_it()
    {
        var route = Six(StarterRoutes.Scope(answers: ("deadening", "none")));

        Assert.DoesNotContain(route.Operations, o => o.Code == "40");
        Assert.Contains(route.LeftOff, o => o.Code == "40");
        Assert.Equal(["30"], route.Operations.Single(o => o.Code == "50").After);
    }

    [Fact]
    public void Bar_without_door_bars_goes_from_the_tunnel_bars_to_the_inspection()
    {
        var route = Six(StarterRoutes.Scope(left: null, right: null));

        Assert.Equal(["200"], route.Operations.Single(o => o.Code == "230").After);
        Assert.DoesNotContain(route.Operations, o => o.Code is "210" or "220");
    }

    [Fact]
    public void Fixed_door_bars_have_no_hinge_operation()
    {
        var route = Six(StarterRoutes.Scope(left: "fixed", right: "fixed"));

        Assert.Contains(route.Operations, o => o.Code == "210");
        Assert.DoesNotContain(route.Operations, o => o.Code == "220");
    }

    [Theory]
    [InlineData("swing-out-pin", "swing-out-pin", 4)]
    [InlineData("swing-out-pin", "fixed", 2)]
    public void Hinges_are_counted_for_the_doors_that_have_them(string left, string right, int hinges)
    {
        var work = Six(StarterRoutes.Scope(left: left, right: right)).WorkContent;

        Assert.Equal(hinges, work.Single(w => w.StandardCode == "hinge").Quantity);
        Assert.Equal(2, work.Single(w => w.StandardCode == "door-bar-set").Quantity);
    }

    [Theory]
    [InlineData("sound", "weld-plate-mm")]
    [InlineData("thin", "weld-thin-mm")]
    public void Plates_over_thin_floor_are_welded_in_short_runs(string floor, string standard)
    {
        var work = Six(StarterRoutes.Scope(answers: ("floor", floor))).WorkContent;

        Assert.Equal(standard, work.Single(w => w.OperationCode == "170").StandardCode);
    }

    [Theory]
    [InlineData(Energy.Petrol, false)]
    [InlineData(Energy.Hybrid, true)]
    [InlineData(Energy.Electric, true)]
    public void Only_a_high_voltage_car_waits_for_its_isolation(Energy energy, bool waits)
    {
        var safe = Six(StarterRoutes.Scope(energy: energy)).Operations.Single(o => o.Code == "20");

        Assert.Equal(waits, safe.Gates.Any(g => g.Kind == GateKind.Isolation));
    }

    [Fact]
    public void Document_reads_back_as_it_was_written()
    {
        var template = StarterRoutes.Template("six-point-weld-in");

        var again = RouteTemplateJson.Read(RouteTemplateJson.Write(template)).Value;

        Assert.Equal(RouteTemplateJson.Write(template), RouteTemplateJson.Write(again));
    }

    private static BuiltRoute Six(Domain.Common.JobScope scope) =>
        RouteBuilder.Build(StarterRoutes.Template("six-point-weld-in"), scope);
}
