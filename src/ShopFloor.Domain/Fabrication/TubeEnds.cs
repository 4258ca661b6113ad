using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Fabrication;

/// <summary>How both ends of a tube sit on what they land on.</summary>
/// <param name="StartDegrees">Acute angle between the tube and the header at its first point, over 0 to 90.</param>
/// <param name="EndDegrees">The same at its last point.</param>
/// <param name="TwistDegrees">How far the acute side of the notch at the end is turned against that at the start on the tube before it is bent: right-handed about the way from start to end, over −180 to 180. On the wrap of either end the other end's line 0° lies here.</param>
/// <param name="StartBendDegrees">Where on the start's wrap the inside of the nearest bend lies; null for a straight tube.</param>
/// <param name="EndBendDegrees">The same on the end's wrap.</param>
public sealed record TubeEnds(
    double StartDegrees,
    double EndDegrees,
    double TwistDegrees,
    double? StartBendDegrees,
    double? EndBendDegrees
)
{
    /// <summary>From the corners of a path that was figured, and the way in which each header runs.</summary>
    /// <param name="points">Ends and corners of the tube.</param>
    /// <param name="startHeader">Direction of the header at the first point.</param>
    /// <param name="endHeader">Direction of the header at the last point.</param>
    public static Outcome<TubeEnds> Of(IReadOnlyList<Point3> points, Point3 startHeader, Point3 endHeader)
    {
        ArgumentNullException.ThrowIfNull(points);
        var corners = Corners(points);
        var (first, last) = (corners[0].Direction, corners[^1].Direction);
        var errors = new FieldErrors();
        Check(first, startHeader, "startHeader", errors);
        Check(last, endHeader, "endHeader", errors);
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        var back = -1 * last;
        var from = NotchedTube.AcuteSide(first, startHeader)!.Value;
        // The end's acute side, carried back along the tube: unbending turns it with each bend, about that bend's axis.
        var to = NotchedTube.AcuteSide(back, endHeader)!.Value;
        for (var i = corners.Count - 1; i > 0; i--)
        {
            var axis = corners[i - 1].Direction.Cross(corners[i].Direction).Unit();
            to = to.Turned(axis, -corners[i - 1].Direction.AngleTo(corners[i].Direction));
        }

        var twist = Angle.FromRadians(Math.Atan2(first.Dot(from.Cross(to)), from.Dot(to))).Degrees;
        return new TubeEnds(
            Acute(first, startHeader),
            Acute(last, endHeader),
            twist <= -180 ? 180 : twist,
            corners.Count > 1 ? NotchedTube.BendMarkDegrees(first, startHeader, corners[1].Direction) : null,
            corners.Count > 1 ? NotchedTube.BendMarkDegrees(back, endHeader, -1 * corners[^2].Direction) : null
        );
    }

    private readonly record struct Straight(Point3 Direction);

    /// <summary>The straights between bends; points at which the tube goes straight on make none.</summary>
    private static List<Straight> Corners(IReadOnlyList<Point3> points)
    {
        var straights = new List<Straight> { new((points[1] - points[0]).Unit()) };
        for (var i = 1; i < points.Count - 1; i++)
        {
            var next = (points[i + 1] - points[i]).Unit();
            if (Angle.FromRadians(straights[^1].Direction.AngleTo(next)).Degrees >= TubePath.LeastBendDegrees)
            {
                straights.Add(new(next));
            }
        }

        return straights;
    }

    private static void Check(Point3 along, Point3 header, string path, FieldErrors errors)
    {
        var isPlace = header.Size is > TubePath.TouchingMm and <= 4 * FigureRules.Largest;
        errors.AddIf(!isPlace, path, "Give a second point on the middle of that tube, apart from the end of this one.");
        errors.AddIf(
            isPlace && NotchedTube.AcuteSide(along, header) is null,
            path,
            "That tube runs along this one here; a notch needs an angle between them."
        );
    }

    private static double Acute(Point3 along, Point3 header)
    {
        var degrees = Angle.FromRadians(along.AngleTo(header)).Degrees;
        // Tubes that stand square are square: the last digit of a direction must not make the notch a slanted one.
        var acute = Math.Min(degrees, 180 - degrees);
        return acute > 90 - 1e-9 ? 90 : acute;
    }
}
