using CsCheck;
using MathNet.Numerics.Integration;
using ShopFloor.Domain.Fabrication;

namespace ShopFloor.Domain.Tests.Fabrication;

public sealed class TubePathTests
{
    [Fact]
    public void Hoop_of_apex_lengths_has_the_cut_length_of_the_table()
    {
        // 1100 / 1200 / 1100, two bends of 90° at R 135: 3284.1150.
        var hoop = Calculate(135, new(0, 0, 0), new(0, 0, 1100), new(1200, 0, 1100), new(1200, 0, 0));

        Assert.Equal([965, 930, 965], hoop.Straights.Select(s => Math.Round(s.LengthMm, 9)));
        Assert.Equal(3284.1150, hoop.CutLengthMm, 6e-5);
        Assert.Equal([0, 0], hoop.Bends.Select(b => b.RotationDegrees));
        Assert.Equal(965, hoop.Bends[0].StartMarkMm, 1e-9);
        Assert.Equal(hoop.CutLengthMm - 965, hoop.Bends[1].EndMarkMm, 1e-9);
    }

    [Fact]
    public void Space_paths_have_the_turns_of_the_table()
    {
        var square = Calculate(135, new(0, 0, 0), new(0, 0, 1000), new(1000, 0, 1000), new(1000, 800, 1000));
        Assert.Equal(90, square.Bends[1].RotationDegrees, 1e-9);
        Assert.Equal(2684.1150, square.CutLengthMm, 6e-5);

        var skew = Calculate(114.3, new(0, 0, 0), new(0, 150, 900), new(0, 500, 1150), new(300, 900, 1150));
        Assert.Equal([865.0698, 330.2189, 447.4473], skew.Straights.Select(s => Math.Round(s.LengthMm, 4)));
        Assert.Equal([45.0000, 49.3840], skew.Bends.Select(b => Math.Round(b.AngleDegrees, 4)));
        Assert.Equal(-52.2249, skew.Bends[1].RotationDegrees, 6e-5);
        Assert.Equal(1831.0236, skew.CutLengthMm, 6e-5);

        var offset = Calculate(152.4, new(0, 0, 0), new(600, 0, 0), new(1100, 0, -233.1538), new(1700, 0, -233.1538));
        Assert.Equal(180, offset.Bends[1].RotationDegrees, 1e-6);
        Assert.Equal(1749.5380, offset.CutLengthMm, 6e-5);
    }

    [Fact]
    public void Cut_length_is_the_length_of_the_filleted_curve() =>
        Paths.Sample(
            points =>
            {
                var path = TubePath.Calculate(new(40, 2, Radius, points)).Value;
                Assert.Equal(1, path.CutLengthMm / FilletedLength(points), 1e-9);
                Assert.Equal(
                    RoundTube.Calculate(new(40, 2, LengthMm: path.CutLengthMm)).Value.MassKg!.Value,
                    path.MassKg,
                    path.MassKg * 1e-12
                );
            },
            iter: 300
        );

    [Fact]
    public void Bender_data_give_the_same_tube_back() =>
        Paths.Sample(
            points =>
            {
                var path = TubePath.Calculate(new(40, 2, Radius, points)).Value;
                var back = BenderData
                    .Points(
                        Radius,
                        [.. path.Straights.Select(s => s.LengthMm)],
                        [.. path.Bends.Select(b => new BenderBend(b.AngleDegrees, b.RotationDegrees))]
                    )
                    .Value;

                Assert.Equal(points.Count, back.Count);
                for (var i = 0; i < points.Count; i++)
                {
                    for (var j = 0; j < i; j++)
                    {
                        var expected = (points[i] - points[j]).Size;
                        Assert.Equal(expected, (back[i] - back[j]).Size, 1e-9 * Math.Max(1000, expected));
                    }
                }

                Assert.True(HandOf(points) * HandOf(back) >= 0 || Math.Abs(HandOf(points)) < 1e-3);
                var again = TubePath.Calculate(new(40, 2, Radius, back)).Value;
                Assert.Equal(1, again.CutLengthMm / path.CutLengthMm, 1e-9);
            },
            iter: 300
        );

    [Fact]
    public void Bends_of_several_radii_have_the_length_of_their_own_arcs_and_come_back_the_same() =>
        Gen.Select(Paths, Gen.Double[60, 160].Array[5])
            .Sample(
                (points, own) =>
                {
                    // Every second bend is made in another die.
                    var radii = points
                        .Select((_, i) => i % 2 == 0 || i == points.Count - 1 ? (double?)null : own[(i - 1) / 2])
                        .ToList();
                    if (!TubePath.Calculate(new(40, 2, Radius, points, radii)).TryGet(out var path, out _))
                    {
                        return;
                    }

                    Assert.Equal(1, path.CutLengthMm / FilletedLength(points, i => radii[i] ?? Radius), 1e-9);
                    var back = BenderData
                        .Points(
                            Radius,
                            [.. path.Straights.Select(s => s.LengthMm)],
                            [
                                .. path.Bends.Select(
                                    (b, i) => new BenderBend(b.AngleDegrees, b.RotationDegrees, radii[i + 1])
                                ),
                            ]
                        )
                        .Value;
                    Assert.Equal(points.Count, back.Count);
                    for (var i = 1; i < points.Count; i++)
                    {
                        var expected = (points[i] - points[0]).Size;
                        Assert.Equal(expected, (back[i] - back[0]).Size, 1e-9 * Math.Max(1000, expected));
                    }
                },
                iter: 300
            );

    [Fact]
    public void Bend_of_another_die_keeps_its_own_mark_and_angle()
    {
        Point3[] points = [new(0, 0, 0), new(0, 0, 1000), new(1000, 0, 1000), new(1000, 0, 0)];
        var path = TubePath.Calculate(new(45, 2.5, 135, points, [null, null, 200, null])).Value;

        var steps = BenderData.Steps(path, new Bender(-20, 90, new("die", [new(88, 91)]), 135));

        Assert.Equal([false, true], steps.Select(s => s.IsOtherDie));
        Assert.Equal(865 - 20, steps[0].BenderMarkMm, 1e-9);
        Assert.Equal(path.Bends[1].StartMarkMm, steps[1].BenderMarkMm, 1e-9);
        Assert.Equal(90, steps[1].BendToDegrees, 1e-9);
        Assert.Equal(200 * Math.PI / 2, path.Bends[1].ArcLengthMm, 1e-9);
        Assert.Equal(200, path.Bends[1].SetbackMm, 1e-9);
        Workbench.AssertSaid(
            "points[1].radiusMm",
            TubePath.Calculate(new(45, 2.5, 135, points, [null, 20, null, null]))
        );
        Workbench.AssertSaid(
            "points[3].radiusMm",
            TubePath.Calculate(new(45, 2.5, 135, points, [null, null, null, 135]))
        );
        Workbench.AssertSaid("points", TubePath.Calculate(new(45, 2.5, 135, points, [135])));
        Workbench.AssertSaid("bends[0].radiusMm", BenderData.Points(135, [10, 10], [new(90, 0, double.NaN)]));
    }

    [Fact]
    public void Mirrored_tube_turns_the_other_way() =>
        Paths.Sample(
            points =>
            {
                var path = TubePath.Calculate(new(40, 2, Radius, points)).Value;
                var mirrored = TubePath.Calculate(new(40, 2, Radius, BenderData.Mirrored(points))).Value;

                Assert.Equal(path.CutLengthMm, mirrored.CutLengthMm, 1e-6);
                foreach (var (a, b) in path.Bends.Zip(mirrored.Bends))
                {
                    // A half turn is its own mirror image.
                    var sum = Math.Abs(a.RotationDegrees + b.RotationDegrees);
                    Assert.True(sum < 1e-6 || Math.Abs(sum - 360) < 1e-6);
                }
            },
            iter: 200
        );

    [Fact]
    public void Bends_may_touch_and_not_overlap()
    {
        var touching = Calculate(135, new(0, 0, 0), new(0, 0, 500), new(270, 0, 500), new(270, 0, 0));
        Assert.Equal(0, touching.Straights[1].LengthMm);

        Workbench.AssertSaid(
            "points[2]",
            TubePath.Calculate(new(45, 2.5, 135, [new(0, 0, 0), new(0, 0, 500), new(269, 0, 500), new(269, 0, 0)]))
        );
        Workbench.AssertSaid(
            "points[1]",
            TubePath.Calculate(new(45, 2.5, 135, [new(0, 0, 0), new(0, 0, 100), new(500, 0, 100)]))
        );
    }

    [Fact]
    public void Point_where_the_tube_goes_straight_on_makes_no_bend()
    {
        var path = Calculate(135, new(0, 0, 0), new(0, 0, 400), new(0, 0, 1000), new(700, 0, 1000));

        Assert.Single(path.Bends);
        Assert.Equal([865, 565], path.Straights.Select(s => Math.Round(s.LengthMm, 9)));
        Assert.Equal(1000, Assert.Single(Calculate(135, new(0, 0, 0), new(0, 1000, 0)).Straights).LengthMm);
    }

    [Fact]
    public void Repeated_points_reversals_and_wrong_counts_are_said()
    {
        Said("points[1]", new(1, 2, 3), new(1, 2, 3), new(0, 0, 0));
        Said("points[1]", new(0, 0, 0), new(0, 0, 1000), new(0, 0, 100));
        Said("points", new Point3(0, 0, 0));
        Said("points", [.. Enumerable.Range(0, 1001).Select(i => new Point3(i * 10, 0, 0))]);
        Said("points[1].zMm", new(0, 0, 0), new(0, 0, double.NaN));
        Said("points[0].xMm", new(1e12, 0, 0), new(0, 0, 5));
        Workbench.AssertSaid("centrelineRadiusMm", TubePath.Calculate(new(45, 2.5, 22, [new(0, 0, 0), new(0, 0, 9)])));

        static void Said(string path, params Point3[] points) =>
            Workbench.AssertSaid(path, TubePath.Calculate(new(45, 2.5, 135, points)));
    }

    [Fact]
    public void Steps_at_the_bender_have_the_offset_the_springback_and_the_clamp()
    {
        var path = Calculate(135, new(0, 0, 0), new(0, 0, 1000), new(400, 0, 1000), new(400, 0, 0));
        var steps = BenderData.Steps(path, new Bender(-20, 200, new("die", [new(90, 94)])));

        Assert.Equal([845, 0], [steps[0].BenderMarkMm, steps[0].RotationDegrees]);
        Assert.Equal(94, steps[1].BendToDegrees);
        Assert.Equal([false, true], steps.Select(s => s.IsClampShort));
    }

    private const double Radius = 120;

    private static Gen<IReadOnlyList<Point3>> Paths =>
        Gen.Select(Gen.Double[-1, 1], Gen.Double[-1, 1], Gen.Double[-1, 1], (x, y, z) => new Point3(x, y, z))
            .Where(p => p.Size > 0.2)
            .Array[2, 7]
            .Select(directions =>
            {
                var points = new List<Point3> { new(0, 0, 0) };
                foreach (var direction in directions)
                {
                    points.Add(points[^1] + (900 * direction.Unit()));
                }

                return (IReadOnlyList<Point3>)points;
            })
            .Where(points => TubePath.Calculate(new(40, 2, Radius, points)).IsSuccess && HasClearBends(points));

    private static bool HasClearBends(IReadOnlyList<Point3> points) =>
        Enumerable
            .Range(1, points.Count - 2)
            .All(i => (points[i] - points[i - 1]).AngleTo(points[i + 1] - points[i]) > 0.01);

    private static TubePathFigures Calculate(double radius, params Point3[] points) =>
        TubePath.Calculate(new(45, 2.5, radius, points)).Value;

    /// <summary>Sign of the volume of the first four points: which hand the path is of.</summary>
    private static double HandOf(IReadOnlyList<Point3> p) =>
        p.Count < 4 ? 0 : (p[1] - p[0]).Unit().Dot((p[2] - p[1]).Unit().Cross((p[3] - p[2]).Unit()));

    /// <summary>Straight parts and, between the tangent points, circles integrated numerically from their points in space.</summary>
    private static double FilletedLength(IReadOnlyList<Point3> points, Func<int, double>? radiusAt = null)
    {
        var (length, from) = (0.0, points[0]);
        for (var i = 1; i < points.Count - 1; i++)
        {
            var radius = radiusAt?.Invoke(i) ?? Radius;
            var (into, outOf) = ((points[i] - points[i - 1]).Unit(), (points[i + 1] - points[i]).Unit());
            // Half the angle between the legs, from the chord of the two unit directions: another way than the program's.
            var half = Math.Asin((outOf - into).Size / 2);
            var setback = radius * Math.Tan(half);
            var start = points[i] - (setback * into);
            var centre = start + (radius * (outOf - (outOf.Dot(into) * into)).Unit());
            length += (start - from).Size;
            var (u, v) = ((1 / radius) * (start - centre), into);
            length += GaussLegendreRule.Integrate(
                t => ((radius * -Math.Sin(t) * u) + (radius * Math.Cos(t) * v)).Size,
                0,
                2 * half,
                32
            );
            from = points[i] + (setback * outOf);
        }

        return length + (points[^1] - from).Size;
    }
}
