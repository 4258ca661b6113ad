using CsCheck;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Fabrication;

namespace ShopFloor.Domain.Tests.Fabrication;

public sealed class HeatAndRunsTests
{
    // k of EN 1011-1 table 1 as quoted by a steel maker; worked by its formula.
    [Theory]
    [InlineData(WeldProcess.Gmaw, 0.8, 18, 110, 5, 0.3168)]
    [InlineData(WeldProcess.Gmaw, 0.8, 17, 90, 6, 0.2040)]
    [InlineData(WeldProcess.Gtaw, 0.6, 12, 90, 1.5, 0.4320)]
    [InlineData(WeldProcess.Smaw, 0.8, 24, 100, 3, 0.6400)]
    [InlineData(WeldProcess.Fcaw, 0.8, 25, 180, 5, 0.7200)]
    [InlineData(WeldProcess.Saw, 1.0, 30, 500, 8, 1.8750)]
    public void Heat_input_is_that_of_the_standard(
        WeldProcess process,
        double efficiency,
        double volts,
        double amperes,
        double speed,
        double heat
    )
    {
        var figures = HeatInput.Calculate(new(process, volts, amperes, speed)).Value;

        Assert.Equal(efficiency, figures.ThermalEfficiency);
        Assert.Equal(heat, figures.HeatInputKjPerMm, 1e-12);
        Assert.Contains("EN 1011-1", figures.Source, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(0, 100, 5, "voltageV")]
    [InlineData(20, double.NaN, 5, "currentA")]
    [InlineData(20, 100, -1, "travelSpeedMmPerS")]
    public void Wrong_setting_is_said_at_its_field(double volts, double amperes, double speed, string path) =>
        Workbench.AssertSaid(path, HeatInput.Calculate(new(WeldProcess.Gmaw, volts, amperes, speed)));

    [Fact]
    public void Round_joint_takes_the_arc_time_and_heat_of_the_worked_example()
    {
        // 44.45 on 44.45 mm at 90°: line 169.808 mm, 53.795 kJ at 0.3168 kJ/mm, 33.96 s at 5 mm/s.
        var line = Notch.CurveOf(new(44.45, 2.413, 44.45, 90)).Value.JointLineMm();
        var plan = WeldRunPlan.Calculate(new(line, 1000, 0, true, Settings)).Value;

        Assert.Equal(53.795, plan.HeatInAllKj, 1e-3);
        Assert.Equal(33.96, plan.ArcSeconds, 5e-3);
        Assert.Single(plan.Runs);
    }

    [Fact]
    public void Runs_cover_the_seam_once_and_are_never_longer_than_asked() =>
        Gen.Select(Gen.Double[1, 2000], Gen.Double[5, 200], Gen.Double[0, 90], Gen.Bool)
            .Sample(
                (seam, run, pause, isClosed) =>
                {
                    var plan = WeldRunPlan.Calculate(new(seam, run, pause, isClosed, Settings, 3)).Value;
                    var along = plan.Runs.OrderBy(r => r.FromMm).ToList();

                    Assert.Equal(0, along[0].FromMm);
                    Assert.Equal(seam, along[^1].ToMm, 1e-6);
                    Assert.All(along.Zip(along.Skip(1)), p => Assert.Equal(p.First.ToMm, p.Second.FromMm, 1e-6));
                    Assert.True(plan.RunMm <= run * (1 + 1e-8));
                    Assert.Equal(seam / 5, plan.ArcSeconds, 1e-6);
                    Assert.Equal(plan.ArcSeconds + ((along.Count - 1) * pause), plan.TotalSeconds, 1e-6);
                    Assert.Equal(plan.HeatInAllKj, plan.HeatPerRunKj * along.Count, 1e-6);
                    Assert.Equal(4.5 * seam * 7.85e-3, plan.FillerG!.Value, 1e-6);
                },
                iter: 300
            );

    [Theory]
    [InlineData(12, true)]
    [InlineData(30, false)]
    public void No_run_lies_beside_the_one_laid_just_before(int count, bool isClosed)
    {
        var plan = WeldRunPlan.Calculate(new(count * 9.5, 9.5, 20, isClosed, Settings)).Value;

        Assert.Equal(count, plan.Runs.Count);
        Assert.All(
            plan.Runs.Zip(plan.Runs.Skip(1)).Take(count / 2),
            p => Assert.True(Math.Abs(p.First.Place - p.Second.Place) > 2, $"{p.First} then {p.Second}")
        );
    }

    [Fact]
    public void Wire_and_gas_are_those_of_the_seam()
    {
        // A fillet of leg 3 mm, 1 m long: 4500 mm³; as 0.8 mm wire 4500 / 0.50265 mm = 8.952 m. 200 s of arc at 12 l/min: 40 l.
        var plan = WeldRunPlan.Calculate(new(1000, 100, 0, false, Settings, 3, WireMm: 0.8, GasLPerMin: 12)).Value;

        Assert.Equal(35.325, plan.FillerG!.Value, 1e-9);
        Assert.Equal(8.952, plan.WireM!.Value, 1e-3);
        Assert.Equal(40, plan.GasL!.Value, 1e-9);
        Assert.Null(WeldRunPlan.Calculate(new(1000, 100, 0, false, Settings, WireMm: 0.8)).Value.WireM);
        Workbench.AssertSaid("wireMm", WeldRunPlan.Calculate(new(10, 1, 0, false, Settings, 3, WireMm: 0)));
        Workbench.AssertSaid(
            "gasLPerMin",
            WeldRunPlan.Calculate(new(10, 1, 0, false, Settings, GasLPerMin: double.PositiveInfinity))
        );
    }

    [Fact]
    public void Plan_with_too_many_runs_or_wrong_settings_is_said()
    {
        Workbench.AssertSaid("runMm", WeldRunPlan.Calculate(new(1e6, 1, 0, false, Settings)));
        Workbench.AssertSaid("seamMm", WeldRunPlan.Calculate(new(0, 1, 0, false, Settings)));
        Workbench.AssertSaid("voltageV", WeldRunPlan.Calculate(new(10, 1, 0, false, Settings with { VoltageV = 0 })));
    }

    [Fact]
    public void Measured_angles_are_those_of_the_worked_examples()
    {
        Assert.Equal(10.000, MeasuredAngles.Below(35.265, 200).Degrees, 5e-4);
        Assert.Equal(45.000, MeasuredAngles.Below(200, 200).Degrees, 5e-4);
        Assert.Equal(9.982, MeasuredAngles.Below(44, 250).Degrees, 5e-4);
        Assert.True(MeasuredAngles.Below(-20, 200) < Angle.FromDegrees(0));
        Assert.Equal(30, MeasuredAngles.FromVertical(500, 500 * Math.Sqrt(3)).Degrees, 1e-9);
        Assert.Equal(1.146, MeasuredAngles.Lean(20, 1000).Degrees, 5e-4);
        Assert.True(MeasuredAngles.Agree(Angle.FromDegrees(25), Angle.FromDegrees(25.4), Angle.FromDegrees(0.5)));
        Assert.False(MeasuredAngles.Agree(Angle.FromDegrees(25), Angle.FromDegrees(25.6), Angle.FromDegrees(0.5)));
    }

    [Fact]
    public void Axes_are_as_far_apart_as_their_directions_in_space()
    {
        static AxisReadings Read(double along, double across) =>
            new(Angle.FromDegrees(along), Angle.FromDegrees(across));

        Assert.Equal(0, Read(25, -3).Between(Read(25, -3)).Degrees, 1e-6);
        // In one plane the difference of the readings; across it, the readings' own angles are those of a right-angled pyramid.
        Assert.Equal(1.5, Read(25, 0).Between(Read(26.5, 0)).Degrees, 1e-9);
        Assert.Equal(4, Read(0, 0).Between(Read(0, -4)).Degrees, 1e-9);
        Assert.Equal(60, Read(45, 0).Between(Read(0, 45)).Degrees, 1e-9);
        Gen.Select(Gen.Double[-60, 60], Gen.Double[-60, 60], Gen.Double[-60, 60], Gen.Double[-60, 60])
            .Sample(
                (a, b, c, d) =>
                {
                    // Law of cosines on the two pins, each drawn up to the same height.
                    double Tan(double degrees) => Math.Tan(degrees * Math.PI / 180);
                    var one = Math.Sqrt(1 + (Tan(a) * Tan(a)) + (Tan(b) * Tan(b)));
                    var two = Math.Sqrt(1 + (Tan(c) * Tan(c)) + (Tan(d) * Tan(d)));
                    var across = Math.Pow(Tan(a) - Tan(c), 2) + Math.Pow(Tan(b) - Tan(d), 2);
                    var cosine = ((one * one) + (two * two) - across) / (2 * one * two);
                    Assert.Equal(
                        Math.Acos(Math.Clamp(cosine, -1, 1)) * 180 / Math.PI,
                        Read(a, b).Between(Read(c, d)).Degrees,
                        1e-5
                    );
                },
                iter: 500
            );
    }

    private static readonly HeatInputInput Settings = new(WeldProcess.Gmaw, 18, 110, 5);
}
