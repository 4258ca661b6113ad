using ShopFloor.Application.Inspection;
using ShopFloor.Application.RuleSets;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.RuleSets;

namespace ShopFloor.Web.Tests.Features.Inspection;

/// <summary>The data files shipped with the program: readable, honest about their marks, and fitting each other.</summary>
public sealed class ShippedPlanTests
{
    private static readonly RuleSetLibrary RuleSets = new();
    private static readonly InspectionLibrary Library = new(RuleSets);

    private static readonly string[] SixPoint =
    [
        .. "10 20 30 40 50 60 70 80 90 100 110 120 130 140 150 160 170 180 190 200 210 220 230 240 250 260 270".Split(
            ' '
        ),
    ];
    private static readonly string[] TankLines = ["tank-assessed", "tank-watcher"];
    private static readonly string[] FourPoint = [.. SixPoint.Except(["200", "210", "220"])];

    [Fact]
    public void The_shipped_rule_sets_are_the_five_that_quotes_can_name() =>
        Assert.Equal(
            ["fia-appendix-j-253", "house-street", "motorsport-uk-ncr-2026", "osha-1910-252", "shoulder-straps"],
            RuleSets.Shipped.Select(r => r.Code)
        );

    [Fact]
    public void House_rules_are_marked_as_common_practice_and_nothing_else_is()
    {
        Assert.All(RuleSets.Find("house-street")!.Figures, f => Assert.Equal(FigureMark.CommonPractice, f.Mark));
        Assert.All(
            RuleSets.Shipped.Where(r => r.Code != "house-street").SelectMany(r => r.Figures),
            f => Assert.NotEqual(FigureMark.CommonPractice, f.Mark)
        );
    }

    [Fact]
    public void Every_figure_that_a_plan_names_exists_and_has_the_lines_unit()
    {
        foreach (var line in Library.Plans.SelectMany(p => p.Document.Lines))
        {
            foreach (var reference in line.Figures ?? [])
            {
                var parts = reference.Split('/');
                var figure = RuleSets.Find(parts[0])?.Find(parts[1]);
                Assert.True(figure is not null, $"{line.Code} names {reference}, which is not there.");
                Assert.True(
                    (figure.Lower ?? figure.Upper) is null || line.Unit is null || figure.Unit == line.Unit,
                    $"{line.Code} is in {line.Unit}, {reference} in {figure.Unit}."
                );
            }
        }
    }

    [Fact]
    public void A_six_point_bar_gets_every_line_on_its_route_and_hold_lines_before_what_hides_the_work()
    {
        var scope = Scope(
            "six-point-weld-in",
            "track-day",
            new DoorChoice(DoorSide.Left, "swing-out-pin"),
            new DoorChoice(DoorSide.Right, "fixed")
        );
        var built = Library.LinesFor(scope, SixPoint).Value;
        // The tank is out here; where it stays, its route has an operation more.
        Assert.Equal(TankLines, built.LeftOut.Select(l => l.Code));
        Assert.Equal(
            ["120", "150", "230", "60", "90"],
            built
                .Lines.Where(l => l.Point == InspectionPoint.Hold)
                .Select(l => l.OperationCode)
                .Distinct()
                .Order(StringComparer.Ordinal)
        );
        Assert.Contains(built.Lines, l => l.Code == "hinge-pair-left");
        Assert.DoesNotContain(built.Lines, l => l.Code == "hinge-pair-right");
        Assert.Contains(built.Lines, l => l.Code == "door-bar-gap-right");
    }

    [Fact]
    public void A_tank_that_stays_fitted_adds_its_assessment_and_watcher_as_hold_lines()
    {
        var built = Library.LinesFor(Scope("four-point-half-bar", "street"), [.. FourPoint, "25"]).Value;

        Assert.Equal(
            TankLines,
            built.Lines.Where(l => l is { OperationCode: "25", Point: InspectionPoint.Hold }).Select(l => l.Code)
        );
    }

    [Fact]
    public void A_four_point_bar_leaves_out_only_what_it_does_not_have()
    {
        var built = Library.LinesFor(Scope("four-point-half-bar", "street"), FourPoint).Value;
        Assert.Equal(
            [
                "door-bar-gap",
                "harness-bar-level",
                "head-helmet",
                "hinge-free",
                "hinge-pair",
                "strap-angle",
                "strap-spread",
                .. TankLines,
            ],
            built.LeftOut.Select(l => l.Code).Order(StringComparer.Ordinal)
        );
    }

    [Fact]
    public void All_shipped_rule_sets_together_leave_every_line_a_value_that_passes()
    {
        var scope = Scope("six-point-weld-in", "sanctioned", new DoorChoice(DoorSide.Left, "swing-out-pin")) with
        {
            RuleSetCodes = [.. RuleSets.Shipped.Select(r => r.Code)],
        };
        var built = Library.LinesFor(scope, SixPoint).Value;
        Assert.All(built.Lines, l => Assert.True(l.Lower is null || l.Upper is null || l.Lower <= l.Upper, l.Code));
        var area = built.Lines.Single(l => l.Code == "plate-area-hoop");
        Assert.Equal(120m, area.Lower);
        Assert.Contains("seen quoted", area.Source, StringComparison.Ordinal);
    }

    [Fact]
    public void An_unknown_rule_set_is_refused_with_those_that_exist()
    {
        var scope = Scope("six-point-weld-in", "street") with { RuleSetCodes = ["no-such-book"] };
        var refused = Assert.IsType<Failure.Refused>(Library.LinesFor(scope, SixPoint).Failure);
        Assert.Contains("no-such-book", refused.Sentence, StringComparison.Ordinal);
        Assert.Contains("house-street", refused.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void A_kit_without_a_plan_is_refused() =>
        Assert.IsType<Failure.Refused>(Library.LinesFor(Scope("no-such-kit", "street"), SixPoint).Failure);

    private static JobScope Scope(string kit, string use, params DoorChoice[] doors) =>
        new(
            kit,
            use,
            ["house-street"],
            doors,
            new Dictionary<string, string>(),
            new CarFacts(Body.Coupe, SteeringSide.Left, Energy.Petrol, Airbags.Front, TankPosition.RearFloor, false)
        );
}
