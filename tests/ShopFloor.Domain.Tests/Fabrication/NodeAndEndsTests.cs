using CsCheck;
using ShopFloor.Domain.Fabrication;

namespace ShopFloor.Domain.Tests.Fabrication;

/// <summary>Ends that meet two tubes, and tubes between two others: held against the tubes themselves in space.</summary>
public sealed class NodeAndEndsTests
{
    private static readonly Point3 Axis = new(1, 0, 0);
    private static readonly Point3 Zero = new(0, 0, 1);

    [Fact]
    public void Cut_end_of_a_node_lies_on_one_header_and_in_none()
    {
        var header = Gen.Select(Gen.Double[42, 60], Gen.Double[20, 90], Gen.Double[-1, 1]);
        Gen.Select(header, header, Gen.Double[-180, 180], Gen.Double[-10, 10])
            .Sample(
                (one, two, turn, shift) =>
                {
                    var input = new NodeInput(
                        new(38, 2.5, one.Item1, one.Item2, one.Item3, NotchEdge.Outside),
                        new(38, 2.5, two.Item1, two.Item2, two.Item3, NotchEdge.Outside),
                        turn,
                        shift
                    );
                    var curve = NodeCurve.Of(input).Value;
                    for (var i = 0; i < 60; i++)
                    {
                        var around = 2 * Math.PI * i / 60;
                        var point =
                            (curve.AxialMm(around) * Axis)
                            + (19 * Math.Cos(around) * Zero)
                            + (19 * Math.Sin(around) * Axis.Cross(Zero));
                        var first = Outside(input.First, 0, 0, point);
                        var second = Outside(input.Second, turn, -shift, point);
                        Assert.True(first > -1e-6 && second > -1e-6, $"{first} {second}");
                        Assert.Equal(0, Math.Min(first, second), 1e-6);
                        Assert.Equal(0, curve.IsFirst(around) ? first : second, 1e-6);
                    }
                },
                iter: 300
            );
    }

    [Fact]
    public void Extremes_of_a_node_are_those_of_a_dense_search()
    {
        Gen.Select(Gen.Double[25, 90], Gen.Double[25, 90], Gen.Double[0, 180])
            .Sample(
                (one, two, turn) =>
                {
                    var curve = NodeCurve.Of(new(new(38, 2.5, 45, one), new(38, 2.5, 50, two), turn, 0)).Value;
                    var dense = Enumerable
                        .Range(0, 40_000)
                        .Select(i => curve.AxialMm(2 * Math.PI * i / 40_000))
                        .ToList();
                    // Where both notches cross there is a sharp valley: the search passes it by up to half its step.
                    Assert.InRange(dense.Min() - curve.Extreme(greatest: false).AxialMm, -1e-9, 5e-3);
                    Assert.Equal(dense.Max(), curve.Extreme(greatest: true).AxialMm, 1e-5);
                },
                iter: 60
            );
    }

    [Fact]
    public void Two_equal_headers_on_one_line_give_the_notch_of_one()
    {
        var one = new NotchInput(38, 2.5, 45, 60);
        var curve = NodeCurve.Of(new(one, one, 0, 0)).Value;
        var notch = Notch.CurveOf(one).Value;

        Assert.Equal(notch.AxialMm(1), curve.AxialMm(1), 1e-12);
        Assert.Equal(notch.JointLineMm(), curve.JointLineMm(), 1e-9);
    }

    [Fact]
    public void Wrong_figures_of_a_node_are_said_at_their_fields()
    {
        var one = new NotchInput(38, 2.5, 45, 60);
        Workbench.AssertSaid("angleDegrees", NodeCurve.Of(new(one with { AngleDegrees = 0 }, one, 0, 0)));
        Workbench.AssertSaid("second.angleDegrees", NodeCurve.Of(new(one, one with { AngleDegrees = 91 }, 0, 0)));
        Workbench.AssertSaid(
            "second.branchOutsideDiameterMm",
            NodeCurve.Of(new(one, one with { BranchWallMm = 2 }, 0, 0))
        );
        Workbench.AssertSaid("turnDegrees", NodeCurve.Of(new(one, one, double.NaN, 0)));
        Workbench.AssertSaid("turnDegrees", NodeCurve.Of(new(one, one, 361, 0)));
        Workbench.AssertSaid("shiftMm", NodeCurve.Of(new(one, one, 0, double.PositiveInfinity)));
    }

    [Fact]
    public void Ends_of_a_bent_tube_are_those_seen_on_it()
    {
        // Level, then up. The first end lands on an upright tube, the last on one that runs along.
        Point3[] points = [new(0, 0, 0), new(1000, 0, 0), new(1000, 0, 800)];

        var ends = TubeEnds.Of(points, new(0, 0, 1), new(0, 1, 0)).Value;

        Assert.Equal(90, ends.StartDegrees);
        Assert.Equal(90, ends.EndDegrees);
        // The bend goes up, where the first wrap's 0° is; the last wrap's 0° lies along, a quarter turn from it.
        Assert.Equal(0, ends.StartBendDegrees!.Value, 1e-9);
        Assert.Equal(270, ends.EndBendDegrees!.Value, 1e-9);
        Assert.Equal(-90, ends.TwistDegrees, 1e-9);
    }

    [Fact]
    public void Straight_tube_has_the_twist_of_two_directions_and_no_bend()
    {
        Gen.Select(Way, Way, Way)
            .Where((tube, a, b) => IsOblique(tube, a) && IsOblique(tube, b))
            .Sample(
                (tube, a, b) =>
                {
                    var ends = TubeEnds.Of([default, 700 * tube], a, b).Value;
                    Assert.Equal(NotchedTube.TwistDegrees(tube, a, b)!.Value, ends.TwistDegrees, 1e-7);
                    Assert.Null(ends.StartBendDegrees);
                    Assert.Null(ends.EndBendDegrees);
                }
            );
    }

    [Fact]
    public void Twist_through_bends_is_that_of_a_line_carried_along_the_tube_in_small_steps()
    {
        Gen.Select(Way.Array[2, 5], Way, Way)
            .Where(
                (ways, a, b) =>
                    IsOblique(ways[0], a)
                    && IsOblique(ways[^1], b)
                    && ways.Zip(ways.Skip(1)).All(p => p.First.AngleTo(p.Second) is > 0.05 and < 2.8)
            )
            .Sample(
                (ways, a, b) =>
                {
                    var points = new List<Point3> { default };
                    foreach (var way in ways)
                    {
                        points.Add(points[^1] + (5000 * way));
                    }

                    var ends = TubeEnds.Of(points, a, b).Value;

                    // The error of the small steps falls as one over their number: two of them tell where it goes.
                    var coarse = CarriedDegrees(ways, a, b, 10_000);
                    var seen = CarriedDegrees(ways, a, b, 20_000);
                    seen += Math.IEEERemainder(seen - coarse, 360);
                    var apart = Math.Abs(seen - ends.TwistDegrees) % 360;
                    Assert.True(Math.Min(apart, 360 - apart) < 0.001, $"{seen} against {ends.TwistDegrees}");
                },
                iter: 100
            );
    }

    private static double CarriedDegrees(Point3[] ways, Point3 a, Point3 b, int steps)
    {
        var line = SquareTo(ways[0], ways[0].Dot(a) < 0 ? -1 * a : a);
        for (var i = 1; i < ways.Length; i++)
        {
            var angle = ways[i - 1].AngleTo(ways[i]);
            var axis = ways[i - 1].Cross(ways[i]).Unit();
            for (var k = 1; k <= steps; k++)
            {
                line = SquareTo(ways[i - 1].Turned(axis, angle * k / steps), line);
            }
        }

        var along = ways[^1];
        var acute = SquareTo(along, along.Dot(b) > 0 ? -1 * b : b);
        return Math.Atan2(along.Dot(line.Cross(acute)), line.Dot(acute)) * 180 / Math.PI;
    }

    [Fact]
    public void Header_that_runs_along_the_tube_is_said()
    {
        Point3[] points = [default, new(500, 0, 0)];
        Workbench.AssertSaid("startHeader", TubeEnds.Of(points, new(3, 0, 0), new(0, 1, 0)));
        Workbench.AssertSaid("endHeader", TubeEnds.Of(points, new(0, 1, 0), default));
    }

    private static Gen<Point3> Way =>
        Gen.Select(Gen.Double[-1, 1], Gen.Double[-1, 1], Gen.Double[-1, 1], (x, y, z) => new Point3(x, y, z))
            .Where(p => p.Size > 0.2)
            .Select(p => p.Unit());

    private static bool IsOblique(Point3 a, Point3 b)
    {
        var angle = a.AngleTo(b);
        return angle is > 0.05 and < Math.PI - 0.05 && Math.Abs(angle - (Math.PI / 2)) > 1e-6;
    }

    private static Point3 SquareTo(Point3 along, Point3 direction) =>
        (direction - (along.Dot(direction) * along)).Unit();

    /// <summary>How far a point lies outside a header; below zero inside it.</summary>
    private static double Outside(NotchInput notch, double turnDegrees, double alongMm, Point3 point)
    {
        var angle = notch.AngleDegrees * Math.PI / 180;
        var zero = Zero.Turned(Axis, turnDegrees * Math.PI / 180);
        var direction = (Math.Cos(angle) * Axis) + (Math.Sin(angle) * zero);
        // The branch is moved towards 90° of the wrap: the header stands as much to the other side.
        var on = (alongMm * Axis) - (notch.OffsetMm * Axis.Cross(zero));
        return (point - on).Cross(direction).Size - (notch.HeaderOutsideDiameterMm / 2);
    }
}
