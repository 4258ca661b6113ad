using CsCheck;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Domain.Tests.Quoting;

/// <summary>How work becomes hours: short runs on thin metal, a tank that stays in, work that hinges bring.</summary>
public sealed class WorkTests
{
    private static readonly ShortRuns Runs = new(9.5m, new(1, 2, 3), new(10, 20, 40));

    [Fact]
    public void Thin_metal_is_timed_by_runs_not_by_length_over_speed()
    {
        // 95 mm in runs of 9.5 mm (3/8 in, common practice): ten times arc and cooling.
        Assert.Equal(new MinutesRange(110m / 60, 220m / 60, 430m / 60), Runs.For(95));
        // One millimetre more is one run more, and as long as any other.
        Assert.Equal(11, Runs.Count(96));
    }

    [Fact]
    public void A_longer_weld_never_takes_less() =>
        Gen.Select(Gen.Decimal[1, 5_000], Gen.Decimal[0, 500])
            .Sample((length, more) => Runs.For(length).Likely <= Runs.For(length + more).Likely);

    [Fact]
    public void Explanation_of_thin_metal_names_runs_arc_and_cooling()
    {
        var book = TestBook.Book with
        {
            Standards =
            [
                TestBook.Book.Standards[0],
                new("weld-mm", "Weld on thin floor", "mm", 0, 0, 0) { Runs = Runs },
                TestBook.Book.Standards[2],
            ],
        };
        var priced = PriceEngine.Price(book, TestBook.Input).Value;
        var line = priced.Lines.Single(l => l.Code == "labour:FinalWeld:welder");
        var work = line.Explanation.Parts[^1];

        Assert.Contains(work.Inputs, i => i is { Name: "Short runs", Value: "127 of 9.5 mm" });
        Assert.Contains(work.Inputs, i => i.Name == "Cooling after each run");
        // 127 runs x (11 + 4 x 22 + 43) / 6 s.
        Assert.Equal(127 * 142m / 6 / 3600, priced.Operations.Single(o => o.OperationCode == "170").Hours, 4);
    }

    private static readonly Answer StaysIn = new("in", "stays fitted", [], ["Assess first."])
    {
        LeavesTankFitted = true,
        Operations = ["50"],
        Gates = ["No heat before the assessment is recorded."],
        Work = [new AddedWork("170", "seam-m", 2, "fitter")],
    };

    private static PriceBook WithTank(Answer staysIn) =>
        TestBook.Book with
        {
            Questions =
            [
                .. TestBook.Book.Questions,
                new("tank", "Fuel tank", "out", [new("out", "out", [], []), staysIn]),
            ],
        };

    [Fact]
    public void Tank_that_stays_in_brings_assessment_gate_and_watcher()
    {
        var priced = PriceEngine.Price(WithTank(StaysIn), TestBook.With(("tank", "in"))).Value;

        Assert.Equal(["No heat before the assessment is recorded."], priced.Gates);
        Assert.Contains(priced.Precautions, p => p == "Assess first.");
        var watch = Assert.Single(priced.Operations, o => o is { OperationCode: "170", Skill: "fitter" });
        Assert.Equal(1, watch.Hours);
        Assert.Empty(PriceEngine.Price(WithTank(StaysIn), TestBook.Input).Value.Gates);
    }

    [Fact]
    public void Route_without_the_assessment_cannot_be_priced()
    {
        var book = WithTank(StaysIn with { Operations = ["25"] });

        var failure = Assert.IsType<Failure.Invalid>(PriceEngine.Price(book, TestBook.With(("tank", "in"))).Failure);
        Assert.Equal("condition.tank", failure.Errors[0].Path);
        Assert.Contains("operation 25", failure.Errors[0].Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Hinge_option_brings_its_own_work_for_each_door()
    {
        var book = TestBook.Book with
        {
            HingeOptions =
            [
                TestBook.Book.HingeOptions[0],
                TestBook.Book.HingeOptions[1] with
                {
                    Work = [new("170", "plate", 1)],
                },
            ],
        };
        PriceInput Doors(string left, string right) =>
            TestBook.Input with
            {
                Scope = TestBook.Scope with { Doors = [new(DoorSide.Left, left), new(DoorSide.Right, right)] },
            };
        decimal Hours(PriceInput input) => PriceEngine.Price(book, input).Value.Hours.P50;

        Assert.Equal(65m / 60, Hours(Doors("swing", "fixed")) - Hours(Doors("fixed", "fixed")), 3);
        Assert.Equal(130m / 60, Hours(Doors("swing", "swing")) - Hours(Doors("fixed", "fixed")), 3);
    }

    [Fact]
    public void Material_can_be_a_share_of_labour()
    {
        var book = TestBook.Book with
        {
            Materials =
            [
                new("small", "Small material", MaterialGroup.Consumables, "piece", [], 1, 0, ["t"])
                {
                    LabourPercent = 5,
                },
            ],
        };
        var priced = PriceEngine.Price(book, TestBook.Input).Value;
        var labour = priced.Lines.Where(l => l.Group == LineGroup.Labour).Sum(l => l.NetMinor);

        Assert.Equal(Money.Round(labour * 0.05m, MoneyRounding.HalfUp), priced.Lines[^1].NetMinor);
    }

    [Fact]
    public void More_work_content_never_lowers_the_total() =>
        Gen.Decimal[0.1m, 100]
            .Select(Gen.Int[0, 2])
            .Sample(
                (more, which) =>
                {
                    var content = TestBook.Content.ToList();
                    content[which] = content[which] with
                    {
                        Quantity = content[which].Quantity + decimal.Round(more, 2),
                    };
                    return TestBook.Price(TestBook.Input with { Content = content }).TotalMinor
                        >= TestBook.Price(TestBook.Input).TotalMinor;
                }
            );
}
