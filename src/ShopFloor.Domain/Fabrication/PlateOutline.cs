using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Fabrication;

/// <summary>A corner of a plate.</summary>
public readonly record struct PlatePoint(double X, double Y);

/// <summary>A place on a plate's edge, with the way out of the plate, of length 1.</summary>
public readonly record struct PlaceOnEdge(double X, double Y, double OutX, double OutY);

/// <summary>The outline of a plate by its corners, in order round it: a rectangle, an L, whatever fits the floor. The seam goes once round it from the first corner.</summary>
public sealed class PlateOutline
{
    public const int FewestCorners = 3;
    public const int MostCorners = 60;

    private readonly double[] starts;
    private readonly int turning;

    private PlateOutline(IReadOnlyList<PlatePoint> corners)
    {
        Corners = corners;
        starts = new double[corners.Count + 1];
        for (var i = 0; i < corners.Count; i++)
        {
            starts[i + 1] = starts[i] + Distance(corners[i], Next(i));
        }

        turning = Math.Sign(SignedArea(corners));
    }

    public IReadOnlyList<PlatePoint> Corners { get; }

    public double SeamMm => starts[^1];

    public double AreaMm2 => Math.Abs(SignedArea(Corners));

    /// <summary>The outline, or what is wrong with it, by <c>corners[i]</c>.</summary>
    public static Outcome<PlateOutline> Of(IReadOnlyList<PlatePoint> corners)
    {
        ArgumentNullException.ThrowIfNull(corners);
        var errors = new FieldErrors();
        errors.AddIf(
            corners.Count is < FewestCorners or > MostCorners,
            "corners",
            $"A plate has {FewestCorners} to {MostCorners} corners."
        );
        for (var i = 0; i < corners.Count && !errors.Any; i++)
        {
            FigureRules.IsCoordinate(corners[i].X, $"corners[{i}].xMm", "x", errors);
            FigureRules.IsCoordinate(corners[i].Y, $"corners[{i}].yMm", "y", errors);
        }

        if (!errors.Any)
        {
            CheckShape(corners, errors);
        }

        return errors.Any ? errors.ToFailure() : new PlateOutline([.. corners]);
    }

    public static Outcome<PlateOutline> Rectangle(double lengthMm, double widthMm)
    {
        var errors = new FieldErrors();
        FigureRules.IsSize(lengthMm, "lengthMm", "The plate's length", errors);
        FigureRules.IsSize(widthMm, "widthMm", "The plate's width", errors);
        return errors.Any
            ? errors.ToFailure()
            : Of([new(0, 0), new(lengthMm, 0), new(lengthMm, widthMm), new(0, widthMm)]);
    }

    /// <summary>A joint round a tube, laid flat: a circle (of many short sides) as long round as the joint.</summary>
    public static Outcome<PlateOutline> Round(double seamMm)
    {
        var errors = new FieldErrors();
        FigureRules.IsSize(seamMm, "jointMm", "The length of the joint", errors);
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        var radius = seamMm / MostCorners / (2 * Math.Sin(Math.PI / MostCorners));
        return Of([
            .. Enumerable
                .Range(0, MostCorners)
                .Select(i => 2 * Math.PI * i / MostCorners)
                .Select(a => new PlatePoint(radius * Math.Cos(a), radius * Math.Sin(a))),
        ]);
    }

    /// <summary>The place that lies so far along the seam; 0 to <see cref="SeamMm"/>.</summary>
    public PlaceOnEdge At(double alongMm)
    {
        var side = 0;
        while (side < Corners.Count - 1 && alongMm >= starts[side + 1])
        {
            side++;
        }

        var (from, to) = (Corners[side], Next(side));
        var length = starts[side + 1] - starts[side];
        var (dx, dy) = ((to.X - from.X) / length, (to.Y - from.Y) / length);
        var at = Math.Clamp(alongMm - starts[side], 0, length);
        return new(from.X + (dx * at), from.Y + (dy * at), dy * turning, -dx * turning);
    }

    /// <summary>Corners that lie strictly between two places of the seam: a run goes round them.</summary>
    public IEnumerable<PlatePoint> CornersBetween(double fromMm, double toMm) =>
        Corners.Where((_, i) => starts[i] > fromMm && starts[i] < toMm);

    private static void CheckShape(IReadOnlyList<PlatePoint> corners, FieldErrors errors)
    {
        PlatePoint At(int i) => corners[i % corners.Count];
        for (var i = 0; i < corners.Count; i++)
        {
            errors.AddIf(
                Distance(At(i), At(i + 1)) <= TubePath.TouchingMm,
                $"corners[{(i + 1) % corners.Count}]",
                "This corner lies on the one before it; leave one of them out."
            );
            for (var k = i + 1; k < corners.Count && !errors.Any; k++)
            {
                var isNeighbour = k == i + 1 || (i == 0 && k == corners.Count - 1);
                errors.AddIf(
                    isNeighbour ? IsFoldedBack(corners, i, k) : Touch(At(i), At(i + 1), At(k), At(k + 1)),
                    $"corners[{k}]",
                    $"The side from this corner crosses or touches the side from corner {i + 1}. Give the corners in order round the plate."
                );
            }
        }
    }

    /// <summary>Whether a side runs straight back over the one before it.</summary>
    private static bool IsFoldedBack(IReadOnlyList<PlatePoint> corners, int i, int k)
    {
        var (first, second) = k == i + 1 ? (i, k) : (k, i);
        var (a, b, c) = (corners[first], corners[(first + 1) % corners.Count], corners[(second + 1) % corners.Count]);
        return Side(a, b, c) == 0 && ((b.X - a.X) * (c.X - b.X)) + ((b.Y - a.Y) * (c.Y - b.Y)) < 0;
    }

    private static bool Touch(PlatePoint a, PlatePoint b, PlatePoint c, PlatePoint d)
    {
        var (ac, bc, ca, da) = (Side(c, d, a), Side(c, d, b), Side(a, b, c), Side(a, b, d));
        return (ac * bc < 0 && ca * da < 0)
            || (ac == 0 && IsBetween(c, d, a))
            || (bc == 0 && IsBetween(c, d, b))
            || (ca == 0 && IsBetween(a, b, c))
            || (da == 0 && IsBetween(a, b, d));
    }

    /// <summary>On which side of the line a–b a point lies: 1 left, −1 right, 0 on it.</summary>
    private static int Side(PlatePoint a, PlatePoint b, PlatePoint point) =>
        Math.Sign(((b.X - a.X) * (point.Y - a.Y)) - ((b.Y - a.Y) * (point.X - a.X)));

    private static bool IsBetween(PlatePoint a, PlatePoint b, PlatePoint point) =>
        point.X >= Math.Min(a.X, b.X)
        && point.X <= Math.Max(a.X, b.X)
        && point.Y >= Math.Min(a.Y, b.Y)
        && point.Y <= Math.Max(a.Y, b.Y);

    private static double SignedArea(IReadOnlyList<PlatePoint> corners) =>
        corners.Select((c, i) => (c, n: corners[(i + 1) % corners.Count])).Sum(s => (s.c.X * s.n.Y) - (s.n.X * s.c.Y))
        / 2;

    private static double Distance(PlatePoint a, PlatePoint b) =>
        Math.Sqrt(((a.X - b.X) * (a.X - b.X)) + ((a.Y - b.Y) * (a.Y - b.Y)));

    private PlatePoint Next(int corner) => Corners[(corner + 1) % Corners.Count];
}
