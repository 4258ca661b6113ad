using CsCheck;
using MathNet.Numerics.RootFinding;
using ShopFloor.Domain.Fabrication;

namespace ShopFloor.Domain.Tests.Fabrication;

public sealed class NotchTests
{
    // s at 0°, 45°, … 315°, then min and max: closed formula, checked by bisection on the header's cylinder.
    [Theory]
    [InlineData(
        44.45,
        2.413,
        44.45,
        90,
        0,
        NotchEdge.Outside,
        "22.2250 15.7154 0.0000 15.7154 22.2250 15.7154 0.0000 15.7154",
        0,
        22.2250
    )]
    [InlineData(
        44.45,
        2.413,
        44.45,
        90,
        0,
        NotchEdge.Inside,
        "22.2250 17.2538 10.0715 17.2538 22.2250 17.2538 10.0715 17.2538",
        10.0715,
        22.2250
    )]
    [InlineData(
        38.1,
        2.413,
        44.45,
        60,
        0,
        NotchEdge.Inside,
        "35.2686 28.5653 17.0161 14.9812 16.0578 14.9812 17.0161 28.5653",
        14.7364,
        35.2686
    )]
    [InlineData(
        38.1,
        2.413,
        44.45,
        45,
        0,
        NotchEdge.Inside,
        "48.0679 38.4308 20.8404 14.9025 14.7939 14.9025 20.8404 38.4308",
        14.7364,
        48.0679
    )]
    [InlineData(
        38.1,
        2.413,
        44.45,
        45,
        2,
        NotchEdge.Inside,
        "47.9404 36.4420 17.1238 12.9138 14.6664 16.4710 23.6520 39.9993",
        12.8018,
        48.0060
    )]
    [InlineData(
        38.1,
        2.413,
        44.45,
        90,
        3,
        NotchEdge.Inside,
        "22.0216 16.6124 10.4086 16.6124 22.0216 20.4240 17.5494 20.4240",
        10.4086,
        22.2250
    )]
    [InlineData(
        38,
        2.5,
        45,
        30,
        0,
        NotchEdge.Inside,
        "73.5788 58.6856 30.5941 18.2690 16.4212 18.2690 30.5941 58.6856",
        16.4212,
        73.5788
    )]
    [InlineData(
        25.4,
        1.651,
        44.45,
        60,
        5,
        NotchEdge.Inside,
        "31.3845 25.4800 17.7531 16.4585 18.6262 20.9461 24.6944 29.9676",
        16.1909,
        31.7141
    )]
    public void Curve_and_extremes_are_those_of_the_table(
        double branch,
        double wall,
        double header,
        double angle,
        double offset,
        NotchEdge edge,
        string row,
        double least,
        double greatest
    )
    {
        var notch = Notch.Calculate(new(branch, wall, header, angle, offset, edge, 8)).Value;

        foreach (var (text, point) in row.Split(' ').Zip(notch.Points))
        {
            Assert.Equal(double.Parse(text, System.Globalization.CultureInfo.InvariantCulture), point.AxialMm, 6e-5);
        }

        Assert.Equal(least, notch.MinimumAxialMm, 6e-5);
        Assert.Equal(greatest, notch.MaximumAxialMm, 6e-5);
    }

    [Fact]
    public void Paper_is_as_wide_as_the_tube_is_round()
    {
        var notch = Notch.Calculate(new(44.45, 2.413, 44.45, 90)).Value;

        Assert.Equal(139.6438, notch.CircumferenceMm, 6e-5);
        Assert.Equal(72, notch.Points.Count);
        Assert.Equal(17.4555, notch.Points[9].AroundMm, 6e-5);
        Assert.Equal(45, notch.Points[9].AroundDegrees);
    }

    [Fact]
    public void Curve_agrees_with_root_finding_on_the_two_cylinders() =>
        Cases.Sample(
            c =>
            {
                var curve = Notch.CurveOf(c.Input with { Edge = NotchEdge.Outside }).Value;
                var numeric = Numeric(c.Input, c.Input.BranchOutsideDiameterMm / 2, c.Around);
                Assert.Equal(numeric, curve.AxialMm(c.Around), 1e-6);
            },
            iter: 5_000
        );

    [Fact]
    public void Seat_agrees_with_a_dense_search_over_the_wall() =>
        Cases.Sample(
            c =>
            {
                var outside = c.Input.BranchOutsideDiameterMm / 2;
                var seat = Notch.CurveOf(c.Input).Value.AxialMm(c.Around);
                var greatest = Enumerable
                    .Range(0, 2_001)
                    .Max(i => Formula(c.Input, outside - (c.Input.BranchWallMm * i / 2_000), c.Around));

                // Between two radii of the search the curve may be higher by a little, and never lower.
                Assert.InRange(seat, greatest - 1e-9, greatest + 1e-3);
            },
            iter: 2_000
        );

    [Fact]
    public void Extremes_are_those_of_a_dense_search() =>
        Cases.Sample(
            c =>
            {
                var curve = Notch.CurveOf(c.Input with { Edge = c.Edge });
                if (!curve.TryGet(out var found, out _))
                {
                    return;
                }

                var dense = Enumerable.Range(0, 20_000).Select(i => found.AxialMm(2 * Math.PI * i / 20_000)).ToList();
                Assert.InRange(found.Extreme(greatest: true).AxialMm, dense.Max() - 1e-9, dense.Max() + 1e-3);
                Assert.InRange(found.Extreme(greatest: false).AxialMm, dense.Min() - 1e-3, dense.Min() + 1e-9);
            },
            iter: 100
        );

    [Fact]
    public void Wrapped_back_onto_the_tube_the_curve_lies_on_the_header() =>
        Cases.Sample(
            c =>
            {
                var input = c.Input with { Edge = NotchEdge.Outside };
                var at = Notch.CurveOf(input).Value.AxialMm(c.Around);
                Assert.Equal(input.HeaderOutsideDiameterMm / 2, FromHeaderAxis(Wrapped(input, c.Around, at)), 1e-7);
            },
            iter: 2_000
        );

    [Fact]
    public void Mirrored_wrap_does_not_fit()
    {
        // Offset and angle together make the curve one-handed: turned over, it must miss the header by millimetres.
        var input = new NotchInput(38.1, 2.413, 50.8, 50, 6, NotchEdge.Outside);
        var curve = Notch.CurveOf(input).Value;

        var worst = Enumerable
            .Range(0, 72)
            .Select(i => 2 * Math.PI * i / 72)
            .Max(a => Math.Abs(25.4 - FromHeaderAxis(Wrapped(input, a, curve.AxialMm(-a)))));

        Assert.True(worst > 3, $"The mirrored wrap misses by {worst} mm only.");
    }

    [Theory]
    [InlineData(44.45, 44.45, 90, 169.808)]
    [InlineData(38.1, 44.45, 90, 128.763)]
    [InlineData(38.1, 44.45, 60, 138.824)]
    [InlineData(38.1, 44.45, 45, 156.081)]
    [InlineData(38, 45, 90, 127.949)]
    public void Weld_is_as_long_as_the_line_of_the_table(double branch, double header, double angle, double line) =>
        Assert.Equal(line, Notch.CurveOf(new(branch, 2.413, header, angle)).Value.JointLineMm(), 6e-4);

    [Theory]
    [InlineData(44.45, 2.413, 44.45, 0, 0, 72, "angleDegrees")]
    [InlineData(44.45, 2.413, 44.45, 90.1, 0, 72, "angleDegrees")]
    [InlineData(44.45, 2.413, 44.45, double.NaN, 0, 72, "angleDegrees")]
    [InlineData(44.45, 2.413, 40, 90, 0, 72, "branchOutsideDiameterMm")]
    [InlineData(38.1, 2.413, 44.45, 90, 3.2, 72, "offsetMm")]
    [InlineData(38.1, 2.413, 44.45, 90, 1e12, 72, "offsetMm")]
    [InlineData(38.1, 19.05, 44.45, 90, 0, 72, "branchWallMm")]
    [InlineData(38.1, 2.413, -44.45, 90, 0, 72, "headerOutsideDiameterMm")]
    [InlineData(38.1, 2.413, 44.45, 90, 0, 7, "pointCount")]
    [InlineData(38.1, 2.413, 44.45, 90, 0, 1_000_000, "pointCount")]
    public void Wrong_figure_is_said_at_its_field(
        double branch,
        double wall,
        double header,
        double angle,
        double offset,
        int points,
        string path
    ) => Workbench.AssertSaid(path, Notch.Calculate(new(branch, wall, header, angle, offset, NotchEdge.Seat, points)));

    [Fact]
    public void Wall_that_hangs_over_the_header_is_said_where_only_its_inside_meets()
    {
        var input = new NotchInput(44.45, 2.413, 42, 90, 0, NotchEdge.Inside);

        Assert.True(Notch.Calculate(input).IsSuccess);
        Assert.True(Notch.Overhangs(input));
        Assert.False(Notch.Overhangs(input with { HeaderOutsideDiameterMm = 44.45 }));
        Workbench.AssertSaid("branchOutsideDiameterMm", Notch.Calculate(input with { Edge = NotchEdge.Seat }));
    }

    [Fact]
    public void Blank_between_two_headers_loses_both_nearest_points()
    {
        var square = Notch.CurveOf(new(44.45, 2.413, 44.45, 90, 0, NotchEdge.Inside)).Value;
        var slanted = Notch.CurveOf(new(44.45, 2.413, 50.8, 60, 0, NotchEdge.Inside)).Value;

        var lengths = NotchedTube.Lengths(1000, square, slanted);

        Assert.Equal(1000 - 10.0715 - slanted.Extreme(false).AxialMm, lengths.BlankMm, 6e-5);
        Assert.Equal(1000 - 22.2250 - slanted.Extreme(true).AxialMm, lengths.ShortPointsMm, 6e-5);
    }

    [Fact]
    public void End_at_a_node_clears_both_headers()
    {
        var first = new NotchAtNode(Notch.CurveOf(new(38.1, 2.413, 44.45, 60)).Value, 0);
        var second = new NotchAtNode(Notch.CurveOf(new(38.1, 2.413, 50.8, 75)).Value, 2);
        for (var i = 0; i < 360; i++)
        {
            var around = 2 * Math.PI * i / 360;
            var end = NotchedTube.AxialAtNodeMm(first, second, around);
            Assert.True(end >= first.Curve.AxialMm(around) && end >= second.Curve.AxialMm(around - 2));
        }
    }

    [Fact]
    public void Twist_between_two_notches_is_right_handed_about_the_tube()
    {
        var up = new Point3(0, 0, 1);
        Point3 slanted = new(1, 0, 1);

        Assert.Equal(0, NotchedTube.TwistDegrees(new(1, 0, 0), new(-1, 0, 1), new(1, 0, 1))!.Value, 1e-9);
        Assert.Equal(90, NotchedTube.TwistDegrees(new(1, 0, 0), new(0, 1, 0), up)!.Value, 1e-9);
        Assert.Equal(-90, NotchedTube.TwistDegrees(new(1, 0, 0), up, new(0, 1, 0))!.Value, 1e-9);
        // At its end the tube leans the other way: the acute side of the same header lies opposite.
        Assert.Equal(180, Math.Abs(NotchedTube.TwistDegrees(new(1, 0, 0), slanted, slanted)!.Value), 1e-9);
        Assert.Null(NotchedTube.TwistDegrees(new(1, 0, 0), new(1, 0, 0), up));
    }

    [Fact]
    public void Bend_lies_on_the_wrap_where_it_lies_round_the_tube()
    {
        // A level tube from an upright hoop: φ = 0 is up, and 90° right-handed about the tube, which for one who looks from the free end is counter-clockwise.
        var along = new Point3(1, 0, 0);
        var up = new Point3(0, 0, 1);

        Assert.Equal(0, NotchedTube.BendMarkDegrees(along, up, up)!.Value, 1e-9);
        Assert.Equal(180, NotchedTube.BendMarkDegrees(along, up, new(0, 0, -1))!.Value, 1e-9);
        Assert.Equal(90, NotchedTube.BendMarkDegrees(along, up, along.Cross(up))!.Value, 1e-9);
        Assert.Equal(270, NotchedTube.BendMarkDegrees(along, up, up.Cross(along))!.Value, 1e-9);
        Assert.Equal(0, NotchedTube.BendMarkDegrees(along, new(1, 0, 1), new(-3, 0, 2))!.Value, 1e-9);
        Assert.Null(NotchedTube.BendMarkDegrees(along, along, up));
    }

    private sealed record Case(NotchInput Input, double Around, NotchEdge Edge);

    private static Gen<Case> Cases =>
        Gen.Select(
            Gen.Double[20, 60],
            Gen.Double[0.05, 1],
            Gen.Double[0.03, 0.4],
            Gen.Double[15, 90],
            Gen.Double[-1, 1],
            Gen.Double[0, 2 * Math.PI],
            Gen.Enum<NotchEdge>(),
            (header, size, wall, angle, side, around, edge) =>
            {
                // Not nearer than a thousandth to the header's side, where any search along a line loses its digits.
                var branch = header * size * 0.999;
                var offset = side * (header - branch) / 2 * 0.999;
                return new Case(new(branch, branch * wall, header, angle, offset), around, edge);
            }
        );

    private static double Formula(NotchInput input, double radius, double around)
    {
        var angle = input.AngleDegrees * Math.PI / 180;
        var beside = (radius * Math.Sin(around)) + input.OffsetMm;
        var header = input.HeaderOutsideDiameterMm / 2;
        return (Math.Sqrt((header * header) - (beside * beside)) / Math.Sin(angle))
            + (radius * Math.Cos(around) / Math.Tan(angle));
    }

    /// <summary>A point of the branch's outside in space. The header lies along z; the branch's axis passes it and makes the angle with z.</summary>
    private static Point3 Wrapped(NotchInput input, double around, double axial) =>
        InSpace(input, input.BranchOutsideDiameterMm / 2, around, axial);

    private static Point3 InSpace(NotchInput input, double radius, double around, double axial)
    {
        var angle = input.AngleDegrees * Math.PI / 180;
        // From the header outwards; φ = 0 lies towards the header's direction on the acute side; φ grows counter-clockwise for one who looks along
        // −axis, from the free end to the header, so 90° lies along axis × acute.
        var axis = new Point3(Math.Sin(angle), 0, Math.Cos(angle));
        var acute = new Point3(-Math.Cos(angle), 0, Math.Sin(angle));
        var side = axis.Cross(acute);
        return (input.OffsetMm * side)
            + (axial * axis)
            + (radius * Math.Cos(around) * acute)
            + (radius * Math.Sin(around) * side);
    }

    private static double FromHeaderAxis(Point3 point) => Math.Sqrt((point.X * point.X) + (point.Y * point.Y));

    /// <summary>Along the line of the branch's wall at this place, outwards to where it leaves the header: found by MathNet's Brent search alone.</summary>
    private static double Numeric(NotchInput input, double radius, double around)
    {
        var header = input.HeaderOutsideDiameterMm / 2;
        double Inside(double axial)
        {
            var p = InSpace(input, radius, around, axial);
            return (p.X * p.X) + (p.Y * p.Y) - (header * header);
        }

        // The distance from the header's axis is least where the line passes it; beyond, it only grows.
        var direction = InSpace(input, radius, around, 1) - InSpace(input, radius, around, 0);
        var start = InSpace(input, radius, around, 0);
        var nearest =
            -((start.X * direction.X) + (start.Y * direction.Y))
            / ((direction.X * direction.X) + (direction.Y * direction.Y));
        return Brent.FindRoot(
            Inside,
            nearest,
            nearest + (20 * header / Math.Sin(input.AngleDegrees * Math.PI / 180)),
            1e-12,
            500
        );
    }
}
