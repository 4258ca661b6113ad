using ShopFloor.Domain.Fabrication;

namespace ShopFloor.Application.Workbench;

/// <summary>A bent tube seen from a direction, without perspective, so that it stays to scale.</summary>
internal static class TubeView
{
    /// <summary>More points than that are numbered only: their figures would lie on each other.</summary>
    private const int MostDimensioned = 10;

    /// <summary>A smaller turn, in radians, is not drawn as a bend.</summary>
    private const double Straight = 1e-6;

    /// <param name="input">A path that was figured.</param>
    /// <param name="turnDegrees">Round the upright axis.</param>
    /// <param name="tiltDegrees">From above.</param>
    public static BenchPicture Draw(TubePathInput input, double turnDegrees, double tiltDegrees)
    {
        var (turn, tilt) = (turnDegrees * Math.PI / 180, tiltDegrees * Math.PI / 180);
        BenchPoint Seen(Point3 p)
        {
            var (x, y) = (
                (p.X * Math.Cos(turn)) + (p.Y * Math.Sin(turn)),
                (p.Y * Math.Cos(turn)) - (p.X * Math.Sin(turn))
            );
            return new(x, (p.Z * Math.Cos(tilt)) + (y * Math.Sin(tilt)));
        }

        var line = Rounded(input).Select(Seen).ToList();
        var corners = input.Points.Select(Seen).ToList();
        var all = line.Concat(corners).ToList();
        // The frame holds the tube from every side, so that turning does not make it jump.
        var middle = new Point3(
            (input.Points.Min(p => p.X) + input.Points.Max(p => p.X)) / 2,
            (input.Points.Min(p => p.Y) + input.Points.Max(p => p.Y)) / 2,
            (input.Points.Min(p => p.Z) + input.Points.Max(p => p.Z)) / 2
        );
        var reach = Math.Max(input.Points.Max(p => (p - middle).Size), input.OutsideDiameterMm) * 1.15;
        var centre = Seen(middle);
        var picture = new BenchPicture(
            "The bent tube seen from the chosen side, to scale. Points are numbered.",
            centre.X - (reach * 1.3),
            centre.Y - reach,
            centre.X + (reach * 1.3),
            centre.Y + reach
        );
        picture.Line("guide", corners).Line("bar", line).Line("cut", line);
        if (corners.Count <= MostDimensioned)
        {
            Dimension(picture, input, Seen, reach);
        }

        for (var i = 0; i < Math.Min(corners.Count, 60); i++)
        {
            picture.Words(
                corners[i].X + (reach * 0.03),
                corners[i].Y + (reach * 0.03),
                (i + 1).ToString(System.Globalization.CultureInfo.InvariantCulture)
            );
        }

        return Axes(picture, Seen, centre, reach);
    }

    /// <summary>The length of each straight at its middle, the angle of each bend at its corner.</summary>
    private static void Dimension(
        BenchPicture picture,
        TubePathInput input,
        Func<Point3, BenchPoint> seen,
        double reach
    )
    {
        var from = input.Points[0];
        for (var i = 1; i < input.Points.Count; i++)
        {
            var into = (input.Points[i] - input.Points[i - 1]).Unit();
            var angle = i == input.Points.Count - 1 ? 0 : into.AngleTo(input.Points[i + 1] - input.Points[i]);
            if (i < input.Points.Count - 1 && angle < Straight)
            {
                continue;
            }

            var setback = input.RadiusAt(i) * Math.Tan(angle / 2);
            var to = input.Points[i] - (setback * into);
            var middle = seen(from + (0.5 * (to - from)));
            picture.Words(
                middle.X + (reach * 0.05),
                middle.Y + (reach * 0.03),
                FormattableString.Invariant($"{(to - from).Size:0.0} mm")
            );
            if (angle >= Straight)
            {
                var corner = seen(input.Points[i]);
                picture.Words(
                    corner.X + (reach * 0.1),
                    corner.Y + (reach * 0.03),
                    "∠ " + BenchLengths.Degrees(angle * 180 / Math.PI)
                );
                from = input.Points[i] + (setback * (input.Points[i + 1] - input.Points[i]).Unit());
            }
        }
    }

    /// <summary>Which way across, along and up point.</summary>
    private static BenchPicture Axes(
        BenchPicture picture,
        Func<Point3, BenchPoint> seen,
        BenchPoint centre,
        double reach
    )
    {
        var at = new BenchPoint(centre.X - (reach * 1.1), centre.Y - (reach * 0.8));
        var zero = seen(new Point3(0, 0, 0));
        foreach (
            var (name, axis) in ((string, Point3)[])
                [("across", new(1, 0, 0)), ("along", new(0, 1, 0)), ("up", new(0, 0, 1))]
        )
        {
            var to = seen(reach * 0.16 * axis);
            var end = new BenchPoint(at.X + to.X - zero.X, at.Y + to.Y - zero.Y);
            picture.Line("edge", [at, end]).Words(end.X, end.Y, name);
        }

        return picture;
    }

    /// <summary>The middle of the tube with its bends as arcs of short chords.</summary>
    private static List<Point3> Rounded(TubePathInput input)
    {
        var points = new List<Point3> { input.Points[0] };
        for (var i = 1; i < input.Points.Count - 1; i++)
        {
            var corner = input.Points[i];
            var (into, outOf) = ((corner - input.Points[i - 1]).Unit(), (input.Points[i + 1] - corner).Unit());
            var angle = into.AngleTo(outOf);
            if (angle < Straight)
            {
                continue;
            }

            var (normal, radius) = (into.Cross(outOf).Unit(), input.RadiusAt(i));
            var start = corner - (radius * Math.Tan(angle / 2) * into);
            var toCentre = normal.Cross(into);
            var centre = start + (radius * toCentre);
            points.AddRange(
                Enumerable.Range(0, 13).Select(k => centre + (-1 * radius * toCentre).Turned(normal, angle * k / 12))
            );
        }

        points.Add(input.Points[^1]);
        return points;
    }
}
