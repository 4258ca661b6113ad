using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.RuleSets;
using static ShopFloor.Domain.Tests.Inspection.Sample;

namespace ShopFloor.Domain.Tests.Inspection;

public sealed class InspectionPlanBuilderTests
{
    private static readonly DoorChoice Left = new(DoorSide.Left, "swing-out-pin");
    private static readonly DoorChoice Right = new(DoorSide.Right, "fixed");

    private static readonly PlannedLine Strap = new(
        "strap-angle",
        "120",
        "Shoulder strap below the horizontal",
        "Drop over run",
        "Common practice",
        Unit: "°",
        Lower: -5,
        Upper: 60,
        Figures: ["book-a/straps", "book-b/straps"]
    );

    [Fact]
    public void A_line_for_each_door_appears_only_for_doors_with_that_hinge()
    {
        var built = InspectionPlanBuilder.Build(Plan(Hinge), Scope(doors: [Right, Left]), [], Route).Value;
        var line = Assert.Single(built.Lines);
        Assert.Equal("hinge-turn-left", line.Code);
        Assert.EndsWith("left door", line.What, StringComparison.Ordinal);
    }

    [Fact]
    public void A_line_for_each_door_without_a_hinge_asked_for_appears_for_every_door_left_first()
    {
        var plan = Plan(Hinge with { HingeOptions = null });
        var built = InspectionPlanBuilder.Build(plan, Scope(doors: [Right, Left]), [], Route).Value;
        Assert.Equal(["hinge-turn-left", "hinge-turn-right"], built.Lines.Select(l => l.Code));
    }

    [Fact]
    public void What_is_left_out_is_said_with_its_cause()
    {
        var plan = Plan(
            Hinge,
            Bare with
            {
                Operation = "999",
            },
            Upright with
            {
                Uses = ["track-day"],
            },
            OffCar with
            {
                Kits = ["four-point-half-bar"],
            }
        );
        var built = InspectionPlanBuilder.Build(plan, Scope(), [], Route).Value;
        Assert.Empty(built.Lines);
        Assert.Equal(["hinge-turn", "bare-metal", "hoop-upright", "off-car-welds"], built.LeftOut.Select(l => l.Code));
        Assert.Contains("999", built.LeftOut[1].Why, StringComparison.Ordinal);
    }

    [Fact]
    public void The_jobs_rule_set_tightens_the_limits_and_is_named_as_the_source()
    {
        var built = InspectionPlanBuilder.Build(Plan(Strap), Scope(), [Book("book-a", 0, 45)], Route).Value;
        var line = Assert.Single(built.Lines);
        Assert.Equal((0m, 45m), (line.Lower, line.Upper));
        Assert.Contains("§6.2", line.Source, StringComparison.Ordinal);
        Assert.Contains("seen quoted", line.Source, StringComparison.Ordinal);
        Assert.Equal(new RuleSetUsed("book-a", 3, "Sample body, Sample book, 2026"), built.RuleSets.Single());
    }

    [Fact]
    public void A_rule_set_the_job_is_not_built_to_changes_nothing()
    {
        var line = InspectionPlanBuilder.Build(Plan(Strap), Scope(), [], Route).Value.Lines.Single();
        Assert.Equal((-5m, 60m), (line.Lower, line.Upper));
        Assert.Equal("Common practice", line.Source);
    }

    [Fact]
    public void Of_two_rule_sets_the_stricter_limit_counts()
    {
        var books = new[] { Book("book-a", 0, 45), Book("book-b", 10, 60) };
        var line = InspectionPlanBuilder.Build(Plan(Strap), Scope(), books, Route).Value.Lines.Single();
        Assert.Equal((10m, 45m), (line.Lower, line.Upper));
    }

    [Fact]
    public void Two_rule_sets_that_leave_no_value_are_refused_with_both_limits_named()
    {
        var books = new[] { Book("book-a", 0, 10), Book("book-b", 20, 45) };
        var refused = Assert.IsType<Failure.Refused>(
            InspectionPlanBuilder.Build(Plan(Strap), Scope(), books, Route).Failure
        );
        Assert.Equal("ruleSetsDisagree", refused.Reasons.Single().Code);
        Assert.Contains("at least 20 and at most 10", refused.Reasons.Single().Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_plan_for_other_kits_is_refused() =>
        Assert.IsType<Failure.Refused>(
            InspectionPlanBuilder.Build(Plan(Bare), Scope(kit: "eight-point"), [], Route).Failure
        );

    [Fact]
    public void A_plan_with_mistakes_gets_a_sentence_at_each_field()
    {
        var document = new InspectionPlanDocument(
            2,
            "sample",
            1,
            "Sample",
            [],
            [
                Bare with
                {
                    Lower = 1,
                },
                Upright with
                {
                    Lower = 2,
                    Upper = 1,
                    Nominal = null,
                },
                Upright with
                {
                    Code = "bare-metal",
                    Nominal = 7,
                    Figures = ["nonsense"],
                },
            ]
        );
        var invalid = Assert.IsType<Failure.Invalid>(InspectionPlan.From(document).Failure);
        Assert.Equal(
            [
                "kits",
                "lines[0].unit",
                "lines[1].lower",
                "lines[2].code",
                "lines[2].figures[0]",
                "lines[2].nominal",
                "schema",
            ],
            invalid.Errors.Select(e => e.Path).Order(StringComparer.Ordinal)
        );
    }

    private static RuleSet Book(string code, decimal lower, decimal upper) =>
        RuleSet
            .From(
                new RuleSetDocument(
                    1,
                    code,
                    3,
                    "Sample body",
                    "Sample book",
                    "2026",
                    new DateOnly(2026, 1, 2),
                    "Look it up.",
                    [
                        new RuleFigure(
                            "straps",
                            "§6.2",
                            "Straps",
                            $"{lower} to {upper}°",
                            FigureKind.AngleRange,
                            FigureMark.Quoted,
                            "°",
                            lower,
                            upper
                        ),
                    ]
                )
            )
            .Value;
}
