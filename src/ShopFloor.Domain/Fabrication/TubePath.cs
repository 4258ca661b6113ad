using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Fabrication;

/// <summary>A bent tube as its straight centrelines: the two ends and the points where the straights meet.</summary>
/// <param name="CentrelineRadiusMm">Of every bend; over half the diameter.</param>
/// <param name="Points">2 to 1,000.</param>
/// <param name="Radii">For each point the radius of its bend, where that is another than <paramref name="CentrelineRadiusMm"/>; null where all bends have that one.</param>
public sealed record TubePathInput(
    double OutsideDiameterMm,
    double WallMm,
    double CentrelineRadiusMm,
    IReadOnlyList<Point3> Points,
    IReadOnlyList<double?>? Radii = null
)
{
    /// <summary>Centreline radius of the bend at a point.</summary>
    public double RadiusAt(int point) => Radii?[point] ?? CentrelineRadiusMm;
}

/// <summary>A straight between two bends or at an end; 0 where bends touch.</summary>
public sealed record TubeStraight(double LengthMm);

/// <summary>A bend in the order of the tube.</summary>
/// <param name="AngleDegrees">Deflection from straight.</param>
/// <param name="RotationDegrees">Turn of this bend's plane against the one before, right-handed about the straight between them, over −180 to 180; 0 for the first.</param>
/// <param name="StartMarkMm">Tangent point before the bend, along the developed centreline from the first end.</param>
public sealed record TubePathBend(
    double AngleDegrees,
    double RotationDegrees,
    double ArcLengthMm,
    double SetbackMm,
    double StartMarkMm,
    double EndMarkMm
)
{
    /// <summary>Centreline radius, from arc and angle.</summary>
    public double CentrelineRadiusMm() => ArcLengthMm / Angle.FromDegrees(AngleDegrees).Radians;
}

/// <summary>How a tube is cut and bent. There is one straight more than there are bends.</summary>
public sealed record TubePathFigures(
    double CutLengthMm,
    double MassKg,
    IReadOnlyList<TubeStraight> Straights,
    IReadOnlyList<TubePathBend> Bends
);

/// <summary>From points in space to straights, bends and turns.</summary>
/// <remarks>Rotation: with unit directions d of consecutive straights and n = d × d′ of each bend, atan2(d′·(n × n′), n·n′).</remarks>
public static class TubePath
{
    public const int FewestPoints = 2;
    public const int MostPoints = 1_000;

    /// <summary>Bends that touch may overlap by this much, and points this near are one: the rounding of coordinates.</summary>
    public const double TouchingMm = 1e-9;

    /// <summary>A smaller deflection makes no bend.</summary>
    public const double LeastBendDegrees = 1e-7;

    public static Outcome<TubePathFigures> Calculate(TubePathInput input)
    {
        ArgumentNullException.ThrowIfNull(input);
        var errors = new FieldErrors();
        CheckSizes(input, errors);
        CheckPoints(input.Points, errors);
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        var corners = Corners(input.Points, errors);
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        var straights = Straights(input, corners, errors);
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        var bends = Bends(input, corners, straights);
        var cut = straights.Sum() + bends.Sum(b => b.ArcLengthMm);
        return new TubePathFigures(
            cut,
            RoundTube.AreaMm2(input.OutsideDiameterMm, input.WallMm) * cut * RoundTube.SteelKgPerM3 / 1e9,
            [.. straights.Select(s => new TubeStraight(s))],
            bends
        );
    }

    /// <summary>A point where the tube bends.</summary>
    /// <param name="Index">Of the point.</param>
    private sealed record Corner(int Index, Point3 Into, Point3 OutOf)
    {
        public double Radians { get; } = Into.AngleTo(OutOf);

        /// <summary>Square to the bend's plane; its size does not matter.</summary>
        public Point3 Normal { get; } = Into.Cross(OutOf);
    }

    private static void CheckSizes(TubePathInput input, FieldErrors errors)
    {
        FigureRules.IsTube(input.OutsideDiameterMm, input.WallMm, "outsideDiameterMm", "wallMm", errors);
        var diameter = input.OutsideDiameterMm is > 0 and <= FigureRules.Largest ? input.OutsideDiameterMm : 0;
        FigureRules.IsBendRadius(input.CentrelineRadiusMm, diameter, "centrelineRadiusMm", errors);
        var radii = input.Radii ?? [];
        errors.AddIf(
            input.Radii is not null && radii.Count != input.Points.Count,
            "points",
            "Each point has a radius or none."
        );
        for (var i = 0; i < radii.Count && i < input.Points.Count && radii.Count <= MostPoints; i++)
        {
            if (radii[i] is { } radius)
            {
                FigureRules.IsBendRadius(radius, diameter, $"points[{i}].radiusMm", errors);
                errors.AddIf(
                    i == 0 || i == input.Points.Count - 1,
                    $"points[{i}].radiusMm",
                    "An end of the tube makes no bend; leave its radius out."
                );
            }
        }
    }

    private static void CheckPoints(IReadOnlyList<Point3> points, FieldErrors errors)
    {
        errors.AddIf(points.Count < FewestPoints, "points", "A tube has at least its two ends.");
        errors.AddIf(
            points.Count > MostPoints,
            "points",
            $"{points.Count} points were given; at most {MostPoints} are taken."
        );
        for (var i = 0; i < points.Count && points.Count <= MostPoints; i++)
        {
            var isRight =
                FigureRules.IsCoordinate(points[i].X, $"points[{i}].xMm", "x", errors)
                & FigureRules.IsCoordinate(points[i].Y, $"points[{i}].yMm", "y", errors)
                & FigureRules.IsCoordinate(points[i].Z, $"points[{i}].zMm", "z", errors);
            errors.AddIf(
                isRight && i > 0 && (points[i] - points[i - 1]).Size <= TouchingMm,
                $"points[{i}]",
                "This point lies on the one before it; leave one of them out."
            );
        }
    }

    private static List<Corner> Corners(IReadOnlyList<Point3> points, FieldErrors errors)
    {
        var corners = new List<Corner>();
        for (var i = 1; i < points.Count - 1; i++)
        {
            var corner = new Corner(i, (points[i] - points[i - 1]).Unit(), (points[i + 1] - points[i]).Unit());
            var degrees = Angle.FromRadians(corner.Radians).Degrees;
            errors.AddIf(
                degrees > 180 - LeastBendDegrees,
                $"points[{i}]",
                "The tube turns straight back on itself here; a full reversal has no point where the straights meet. Split it into two bends."
            );
            if (degrees >= LeastBendDegrees)
            {
                corners.Add(corner);
            }
        }

        return corners;
    }

    private static List<double> Straights(TubePathInput input, List<Corner> corners, FieldErrors errors)
    {
        var straights = new List<double>();
        var (from, taken) = (0, 0.0);
        foreach (var corner in corners)
        {
            var setback = TubeBend.SetbackMm(input.RadiusAt(corner.Index), corner.Radians);
            Add(corner.Index, setback);
            (from, taken) = (corner.Index, setback);
        }

        Add(input.Points.Count - 1, 0);
        return straights;

        void Add(int to, double setback)
        {
            // Points where the tube goes straight on lie between.
            var between = Enumerable.Range(from, to - from).Sum(i => (input.Points[i + 1] - input.Points[i]).Size);
            var length = between - taken - setback;
            errors.AddIf(
                length < -TouchingMm,
                $"points[{to}]",
                $"The bends before and at this point overlap by {-length:0.###} mm; move the point, take a smaller radius or a flatter bend."
            );
            straights.Add(length <= TouchingMm ? 0 : length);
        }
    }

    private static List<TubePathBend> Bends(TubePathInput input, List<Corner> corners, List<double> straights)
    {
        var bends = new List<TubePathBend>(corners.Count);
        var at = 0.0;
        for (var i = 0; i < corners.Count; i++)
        {
            var corner = corners[i];
            var radius = input.RadiusAt(corner.Index);
            var arc = radius * corner.Radians;
            at += straights[i];
            bends.Add(
                new TubePathBend(
                    Angle.FromRadians(corner.Radians).Degrees,
                    i == 0 ? 0 : RotationDegrees(corners[i - 1], corner),
                    arc,
                    TubeBend.SetbackMm(radius, corner.Radians),
                    at,
                    at + arc
                )
            );
            at += arc;
        }

        return bends;
    }

    private static double RotationDegrees(Corner before, Corner corner)
    {
        var turn = Math.Atan2(corner.Into.Dot(before.Normal.Cross(corner.Normal)), before.Normal.Dot(corner.Normal));
        var degrees = Angle.FromRadians(turn).Degrees;
        return degrees <= -180 ? 180 : degrees;
    }
}
