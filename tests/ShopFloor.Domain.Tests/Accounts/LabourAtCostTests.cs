using CsCheck;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Tests.Accounts;

/// <summary>What the shop's own hours on a job cost it.</summary>
public sealed class LabourAtCostTests
{
    private static readonly CostRates Rates = new(
        "Price book 3 of 2026-05-01",
        Currency.Of("EUR"),
        new Dictionary<string, long>
        {
            ["fitter"] = 3_900,
            ["welder"] = 4_601,
            ["painter"] = 0,
        }
    );

    private static readonly string[] Skills = ["fitter", "welder", "painter", "driver"];

    [Fact]
    public void Hours_of_each_skill_count_at_its_rate_and_the_sum_is_rounded_once()
    {
        // 1/60 of 46.01 is 0.7668…; three such steps rounded one by one would come to 231 instead of 230.
        var cost = LabourAtCost.Of([new("welder", 1), new("welder", 1), new("welder", 1)], Rates);
        Assert.Equal((230, 3), (cost.Minor, cost.Minutes));
        Assert.Equal(3_900 + 230, LabourAtCost.Of([new("fitter", 60), new("welder", 3)], Rates).Minor);
        Assert.Null(cost.Remark);
    }

    [Fact]
    public void A_skill_without_a_rate_costs_nothing_and_is_named()
    {
        var cost = LabourAtCost.Of([new("welder", 60), new("painter", 30), new("driver", 5), new("tailor", 0)], Rates);
        Assert.Equal((4_601, 95), (cost.Minor, cost.Minutes));
        Assert.Equal(["driver", "painter"], cost.WithoutRate);
        Assert.Equal("labour at no cost: no rate for driver, painter", cost.Remark);
    }

    [Fact]
    public void It_says_how_it_came_about()
    {
        var why = LabourAtCost.Of([new("welder", 90), new("painter", 30)], Rates).Why;
        Assert.Equal(
            [("painter", "30 min, no rate"), ("welder", "90 min × 46.01 EUR an hour")],
            why.Inputs.Select(i => (i.Name, i.Value))
        );
        Assert.StartsWith("Price book 3 of 2026-05-01", why.Source, StringComparison.Ordinal);
        Assert.Equal("69.02 EUR", why.Result);
    }

    [Fact]
    public void Order_and_cutting_of_steps_change_nothing_and_the_rounding_costs_at_most_half_a_unit() =>
        Gen.Select(Gen.Int[0, 3].Select(i => Skills[i]), Gen.Long[0, 5_000])
            .Array[0, 20]
            .Sample(work =>
            {
                var steps = work.Select(w => new SkillMinutes(w.Item1, w.Item2)).ToList();
                var cost = LabourAtCost.Of(steps, Rates);
                var other = LabourAtCost.Of(
                    steps
                        .AsEnumerable()
                        .Reverse()
                        .SelectMany(s =>
                            new[]
                            {
                                s with
                                {
                                    Minutes = s.Minutes / 3,
                                },
                                s with
                                {
                                    Minutes = s.Minutes - (s.Minutes / 3),
                                },
                            }
                        ),
                    Rates
                );
                Assert.Equal((cost.Minor, cost.Minutes), (other.Minor, other.Minutes));
                var exact = steps.Sum(s => s.Minutes * (Rates.MinorPerHour.GetValueOrDefault(s.Skill) / 60.0));
                Assert.InRange(cost.Minor - exact, -0.5001, 0.5001);
            });
}
