using CsCheck;
using ShopFloor.Domain.Fabrication;

namespace ShopFloor.Domain.Tests.Fabrication;

public sealed class PlateOutlineTests
{
    private static readonly PlatePoint[] Ell =
    [
        new(0, 0),
        new(150, 0),
        new(150, 60),
        new(70, 60),
        new(70, 140),
        new(0, 140),
    ];

    [Fact]
    public void Plate_in_the_shape_of_an_L_has_its_seam_and_area()
    {
        var plate = PlateOutline.Of(Ell).Value;

        Assert.Equal(150 + 60 + 80 + 80 + 70 + 140, plate.SeamMm, 1e-9);
        Assert.Equal((150 * 60) + (70 * 80), plate.AreaMm2, 1e-9);
        // In the inner corner the way out of the plate is to the right and up.
        Assert.Equal(new PlaceOnEdge(110, 60, 0, 1), plate.At(150 + 60 + 40));
        Assert.Equal(new PlaceOnEdge(70, 100, 1, 0), plate.At(150 + 60 + 80 + 40));
        Assert.Equal(new PlatePoint(70, 60), Assert.Single(plate.CornersBetween(280, 300)));
    }

    [Fact]
    public void Way_out_leads_out_of_every_plate_whichever_way_round_its_corners_go()
    {
        Gen.Select(Gen.Double[20, 100].Array[3, 12], Gen.Bool, Gen.Int[0, 11], Gen.Double[0.1, 0.9])
            .Sample(
                (reaches, isBackwards, side, share) =>
                {
                    var corners = reaches
                        .Select((r, i) => (r, a: 2 * Math.PI * i / reaches.Length))
                        .Select(p => new PlatePoint(p.r * Math.Cos(p.a), p.r * Math.Sin(p.a)))
                        .ToList();
                    if (isBackwards)
                    {
                        corners.Reverse();
                    }

                    var plate = PlateOutline.Of(corners).Value;
                    // Somewhere on a side, not at its corners.
                    var before = corners.Zip(corners.Skip(1).Append(corners[0])).Select(Length).ToList();
                    var i = side % corners.Count;
                    var at = plate.At(before.Take(i).Sum() + (share * before[i]));
                    Assert.Equal(1, Math.Sqrt((at.OutX * at.OutX) + (at.OutY * at.OutY)), 1e-9);
                    const double step = 1e-4;
                    Assert.False(IsInside(corners, at.X + (step * at.OutX), at.Y + (step * at.OutY)));
                    Assert.True(IsInside(corners, at.X - (step * at.OutX), at.Y - (step * at.OutY)));
                },
                iter: 500
            );
    }

    [Fact]
    public void Runs_on_an_L_keep_apart_on_the_plate()
    {
        var plate = PlateOutline.Of(Ell).Value;
        var input = new WeldRunInput(plate.SeamMm, 9.525, 20, true, new(WeldProcess.Gmaw, 17, 90, 6), Outline: plate);

        var plan = WeldRunPlan.Calculate(input).Value;

        Assert.Equal(61, plan.Runs.Count);
        Assert.Equal(Enumerable.Range(1, 61), plan.Runs.Select(r => r.Place).Order());
        var middles = plan.Runs.Select(r => plate.At((r.FromMm + r.ToMm) / 2)).ToList();
        Assert.All(
            middles.Zip(middles.Skip(1)).Take(30),
            p =>
                Assert.True(
                    Math.Sqrt(Math.Pow(p.First.X - p.Second.X, 2) + Math.Pow(p.First.Y - p.Second.Y, 2)) > 3 * 9.525
                )
        );
    }

    [Fact]
    public void Round_joint_is_a_circle_as_long_round_as_the_joint()
    {
        // 44.45 on 44.45 mm at 90°: 169.808 mm of joint.
        var joint = PlateOutline.Round(169.808).Value;

        Assert.Equal(169.808, joint.SeamMm, 1e-9);
        Assert.All(
            joint.Corners,
            c => Assert.Equal(169.808 / (2 * Math.PI), Math.Sqrt((c.X * c.X) + (c.Y * c.Y)), 0.02)
        );
        var plan = WeldRunPlan
            .Calculate(new(joint.SeamMm, 9.525, 10, true, new(WeldProcess.Gmaw, 18, 110, 5), Outline: joint))
            .Value;
        // The second run lies opposite the first one.
        Assert.Equal(18, plan.Runs.Count);
        Assert.Equal(10, plan.Runs[1].Place);
        Workbench.AssertSaid("jointMm", PlateOutline.Round(double.NaN));
    }

    [Fact]
    public void Corners_that_make_no_plate_are_said()
    {
        Workbench.AssertSaid("corners", PlateOutline.Of([new(0, 0), new(1, 0)]));
        Workbench.AssertSaid(
            "corners",
            PlateOutline.Of([.. Enumerable.Range(0, 61).Select(i => new PlatePoint(i, i * i))])
        );
        Workbench.AssertSaid("corners[1].xMm", PlateOutline.Of([new(0, 0), new(double.NaN, 0), new(0, 1)]));
        Workbench.AssertSaid("corners[2].yMm", PlateOutline.Of([new(0, 0), new(1, 0), new(0, 1e12)]));
        Workbench.AssertSaid("corners[1]", PlateOutline.Of([new(0, 0), new(0, 0), new(0, 1)]));
        // A bow tie, and three on one line.
        Workbench.AssertSaid("corners[2]", PlateOutline.Of([new(0, 0), new(10, 10), new(10, 0), new(0, 10)]));
        Workbench.AssertSaid("corners[1]", PlateOutline.Of([new(0, 0), new(10, 0), new(5, 0)]));
        Workbench.AssertSaid("lengthMm", PlateOutline.Rectangle(0, 10));
        Workbench.AssertSaid("widthMm", PlateOutline.Rectangle(10, double.PositiveInfinity));
    }

    private static double Length((PlatePoint A, PlatePoint B) side) =>
        Math.Sqrt(Math.Pow(side.A.X - side.B.X, 2) + Math.Pow(side.A.Y - side.B.Y, 2));

    private static bool IsInside(List<PlatePoint> corners, double x, double y)
    {
        var isInside = false;
        for (int i = 0, j = corners.Count - 1; i < corners.Count; j = i++)
        {
            var (a, b) = (corners[i], corners[j]);
            if (a.Y > y != b.Y > y && x < ((b.X - a.X) * (y - a.Y) / (b.Y - a.Y)) + a.X)
            {
                isInside = !isInside;
            }
        }

        return isInside;
    }
}
