using ShopFloor.Domain.Fabrication;

namespace ShopFloor.Domain.Tests.Fabrication;

public sealed class TubeBendTests
{
    // R, θ, arc, setback; closed forms worked to the digits shown.
    [Theory]
    [InlineData(114, 90, 179.0708, 114.0000)]
    [InlineData(114.3, 30, 59.8473, 30.6266)]
    [InlineData(120, 60, 125.6637, 69.2820)]
    [InlineData(133.35, 90, 209.4657, 133.3500)]
    [InlineData(135, 45, 106.0288, 55.9188)]
    [InlineData(152.4, 25, 66.4970, 33.7863)]
    [InlineData(177.8, 65, 201.7077, 113.2711)]
    [InlineData(150, 120, 314.1593, 259.8076)]
    public void Arc_and_setback_are_those_of_the_table(double radius, double angle, double arc, double setback)
    {
        var bend = TubeBend.Calculate(new(44.45, radius, angle)).Value;

        Assert.Equal(arc, bend.ArcLengthMm, 6e-5);
        Assert.Equal(setback, bend.SetbackMm, 6e-5);
        Assert.Equal(bend.ArcLengthMm, (bend.OuterArcMm + bend.InnerArcMm) / 2, 1e-9);
        Assert.Equal(44.45 * angle * Math.PI / 180, bend.OuterArcMm - bend.InnerArcMm, 1e-9);
        Assert.Equal(radius / 44.45, bend.RadiusToDiameter, 1e-12);
    }

    [Fact]
    public void Wall_estimate_is_that_of_the_rule_of_thumb()
    {
        var wall = TubeBend.EstimateWall(45, 2.5, 135);

        Assert.Equal(2.1429, wall.OuterWallMm, 6e-5);
        Assert.Equal(3.0000, wall.InnerWallMm, 6e-5);
        Assert.Equal(14.286, wall.ThinningPercent, 6e-4);
        Assert.Equal(12.727, TubeBend.EstimateWall(44.45, 2.413, 152.4).ThinningPercent, 6e-4);
    }

    [Theory]
    [InlineData(45, 135, 0, "angleDegrees")]
    [InlineData(45, 135, 180, "angleDegrees")]
    [InlineData(45, 135, double.NaN, "angleDegrees")]
    [InlineData(45, 22.5, 90, "centrelineRadiusMm")]
    [InlineData(45, 0, 90, "centrelineRadiusMm")]
    [InlineData(0, 135, 90, "outsideDiameterMm")]
    public void Wrong_bend_is_said_at_its_field(double outside, double radius, double angle, string path) =>
        Workbench.AssertSaid(path, TubeBend.Calculate(new(outside, radius, angle)));

    [Fact]
    public void Springback_is_read_from_the_shops_own_trial_bends()
    {
        var table = new SpringbackTable("5.25 in die", [new(44, 46), new(88, 92)]);

        Assert.Equal(46, table.BendToDegrees(44));
        Assert.Equal(69, table.BendToDegrees(66), 1e-12);
        Assert.Equal(23, table.BendToDegrees(22), 1e-12);
        Assert.Equal(92 * 90 / 88.0, table.BendToDegrees(90), 1e-12);
        Assert.Equal(90, new SpringbackTable("new die", []).BendToDegrees(90));
    }
}
