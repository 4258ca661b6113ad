using CsCheck;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Fabrication;

namespace ShopFloor.Domain.Tests.Fabrication;

/// <summary>The shop's own table of a die: trials in, angle at the bender out.</summary>
public sealed class SpringbackTests
{
    private static readonly SpringbackTable Table = SpringbackTable
        .Of("die", [new(88, 91), new(29, 30), new(58.5, 60)])
        .Value;

    [Theory]
    // At a trial its own angle; between two halfway; beyond them in the share of the nearest.
    [InlineData(29, 30)]
    [InlineData(58.5, 60)]
    [InlineData(43.75, 45)]
    [InlineData(73.25, 75.5)]
    [InlineData(14.5, 15)]
    [InlineData(110, 113.75)]
    public void Angle_at_the_bender_follows_the_trials_by_proportion(double wanted, double bent) =>
        Assert.Equal(bent, Table.BendToDegrees(wanted), 1e-9);

    [Fact]
    public void Without_a_trial_the_angle_itself_is_given() =>
        Assert.Equal(47.5, SpringbackTable.Of("die", []).Value.BendToDegrees(47.5));

    [Fact]
    public void A_larger_bend_is_always_taken_further()
    {
        var trial = Gen.Select(Gen.Double[1, 20], Gen.Double[0, 4]);
        Gen.Select(trial.Array[1, 12], Gen.Double[1, 179], Gen.Double[1, 179])
            .Sample(
                (steps, a, b) =>
                {
                    var (released, bent) = (0.0, 0.0);
                    var trials = new List<SpringbackReading>();
                    foreach (var (step, back) in steps)
                    {
                        released += step;
                        bent = Math.Max(released, bent + (step / 2)) + back;
                        if (released < 179 && bent < SpringbackTable.FarthestDegrees)
                        {
                            trials.Add(new(released, bent));
                        }
                    }

                    var table = SpringbackTable.Of("die", trials).Value;
                    var (low, high) = (Math.Min(a, b), Math.Max(a, b));
                    Assert.True(table.BendToDegrees(low) <= table.BendToDegrees(high) + 1e-9);
                    Assert.True(table.BendToDegrees(low) >= low - 1e-9);
                }
            );
    }

    [Fact]
    public void A_die_out_of_use_is_not_changed_any_more()
    {
        var now = DateTimeOffset.UnixEpoch;
        var details = new BenderDie.Details("D 45", 45, 135, null, 90, Table.Measured, null);
        var die = BenderDie.Add(new BenderDieId(Guid.Empty), details, null, now).Value;
        Assert.True(die.Change(details with { ClampMm = 80 }, null, now).IsSuccess);
        Assert.Equal(80, die.ClampMm);

        Assert.True(die.Retire(null, now).IsSuccess);

        Assert.IsType<Failure.Refused>(die.Change(details, null, now).Failure);
        Assert.IsType<Failure.Refused>(die.Retire(null, now).Failure);
        Assert.Equal(80, die.ClampMm);
    }
}
