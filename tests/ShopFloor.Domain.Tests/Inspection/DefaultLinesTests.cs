using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Tests.Routing;

namespace ShopFloor.Domain.Tests.Inspection;

/// <summary>The plan that is shipped for a welded bar covers what such a bar is looked at for (common practice, no source; figures of rule books where a line names them).</summary>
public sealed class DefaultLinesTests
{
    private static readonly InspectionPlan Plan = Shipped("weld-in-bar");

    [Theory]
    [InlineData("plate size", "plate-area-hoop plate-area-brace", "area")]
    [InlineData("plate thickness", "plate-thickness", "thickness")]
    [InlineData("plate all-round weld", "plate-welds", "all round")]
    [InlineData("tube diameter by caliper", "tube-diameter", "caliper")]
    [InlineData("wall at the cut end", "tube-wall", "cut end")]
    [InlineData("wall by inspection hole or ultrasonic later", "tube-wall-later", "ultrasonic", "inspection hole")]
    [InlineData("weld complete all round", "off-car-welds plate-welds upper-welds", "all round")]
    [InlineData(
        "no crack, undercut or porosity beyond limit",
        "off-car-welds plate-welds upper-welds",
        "no crack",
        "undercut",
        "porosity beyond the limit"
    )]
    [InlineData("perforation welds filled and dressed", "perforations", "filled and dressed")]
    [InlineData(
        "structural tube joints never dressed",
        "joints-not-dressed upper-joints-not-dressed",
        "never ground flat"
    )]
    [InlineData("hoop to helmet", "head-helmet", "helmet")]
    [InlineData("hoop to bare head", "head-bare", "bare head")]
    [InlineData("hoop upright", "hoop-upright", "upright")]
    [InlineData("harness bar level", "harness-bar-level", "level")]
    [InlineData("strap angles", "strap-angle strap-spread", "straps")]
    [InlineData("braces' angle", "brace-angle", "from the vertical")]
    [InlineData("door bar near the panel, not touching", "door-bar-gap", "door panel")]
    [InlineData("hinge rotation", "hinge-pair", "straight-leg angle", "past the bend")]
    [InlineData("hinge turns, bolt and pin free", "hinge-free", "turns", "bolt and pin", "by hand")]
    [InlineData("doors, seats, belts and glass move", "doors-seats-glass", "doors", "seats", "belts", "windows")]
    [InlineData(
        "padding where a head can reach, the rule book names the foam",
        "padding",
        "head can reach",
        "rule book names the foam"
    )]
    [InlineData("corrosion protection", "corrosion", "protected")]
    [InlineData("battery and warning lights", "electrics", "battery", "warning lights")]
    [InlineData("fuel and lines", "fuel-lines", "fuel", "lines")]
    [InlineData("fasteners and trim accounted for", "parts-back", "removed part and fastener accounted for")]
    [InlineData("paint cured", "paint-cured", "cured")]
    [InlineData("grinding dust removed", "dust-out", "grinding dust")]
    [InlineData("re-check of bolts and pins after first use", "bolts-recheck", "after first use")]
    public void The_list_is_covered(string item, string codes, params string[] says)
    {
        foreach (var code in codes.Split(' '))
        {
            var line = Plan.Document.Lines.SingleOrDefault(l => l.Code == code);
            Assert.True(line is not null, $"{item}: the plan has no line {code}.");
            var text = $"{line.What} {line.How} {line.Caution}";
            Assert.All(says, s => Assert.Contains(s, text, StringComparison.OrdinalIgnoreCase));
        }
    }

    [Fact]
    public void Measured_lines_have_limits_doors_their_own_lines_and_near_is_not_touching()
    {
        var byCode = Plan.Document.Lines.ToDictionary(l => l.Code, StringComparer.Ordinal);
        string[] measured =
        [
            "plate-thickness",
            "plate-area-hoop",
            "tube-diameter",
            "tube-wall",
            "tube-wall-later",
            "head-bare",
            "head-helmet",
            "hoop-upright",
            "harness-bar-level",
            "strap-angle",
            "strap-spread",
            "brace-angle",
            "door-bar-gap",
            "hinge-pair",
        ];
        Assert.All(
            measured,
            c => Assert.True((byCode[c].Lower ?? byCode[c].Upper) is not null || byCode[c].Ordered is not null)
        );
        Assert.All(
            new[] { "tube-diameter", "tube-wall", "tube-wall-later" },
            c => Assert.Equal("hoop", byCode[c].Ordered?.Part)
        );
        Assert.True(byCode["door-bar-gap"].Lower > 0);
        Assert.All(new[] { "door-bar-gap", "hinge-pair", "hinge-free" }, c => Assert.True(byCode[c].PerDoor));
        Assert.Equal(2, byCode["hinge-pair"].Pair?.Count);
    }

    [Theory]
    // Where work is hidden: bare metal before plates, tacks and fit-up before the hoop, mock-up before the bar is out,
    // off-car welds before paint, plate, foot and upper welds before primer and trim.
    [InlineData("bare-metal-left", "60", "70")]
    [InlineData("plate-tacks", "90", "170")]
    [InlineData("plate-gap", "90", "100")]
    [InlineData("off-car-welds", "150", "160")]
    [InlineData("plate-welds", "230", "240")]
    [InlineData("upper-welds", "230", "240")]
    [InlineData("underside", "230", "250")]
    public void Hold_points_stand_before_what_hides_the_work(string code, string operation, string hiddenBy)
    {
        var line = Plan.Document.Lines.Single(l => l.Code == code);
        Assert.Equal((InspectionPoint.Hold, operation), (line.Point, line.Operation));
        Assert.Contains(hiddenBy, line.HiddenBy!);
        Assert.All(
            StarterRoutes.Codes,
            kit => Assert.Empty(HoldOrder.Problems(Plan.Document, StarterRoutes.Template(kit)).Select(p => p.Text))
        );
    }

    [Theory]
    [InlineData("bench-work")]
    [InlineData("return-visit")]
    [InlineData("kit-shipped")]
    public void The_other_plans_are_in_order_with_their_routes_or_name_no_hidden_work(string code)
    {
        var plan = Shipped(code);
        Assert.Empty(HoldOrder.Problems(plan.Document, StarterRoutes.Template(code)));
        Assert.Equal(code == "kit-shipped", plan.Document.Lines.Any(l => l.HiddenBy is not null));
    }

    private static InspectionPlan Shipped(string code) =>
        InspectionPlanJson
            .Parse(File.ReadAllText(StarterRoutes.PathOf("inspection", code)))
            .Then(InspectionPlan.From)
            .Value;
}
