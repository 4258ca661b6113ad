using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Fabrication;

/// <summary>A bend as the bender takes it.</summary>
/// <param name="RotationDegrees">Against the bend before; the first one's says where its plane lies and is 0 as a rule.</param>
/// <param name="RadiusMm">Centreline radius, where it is another than that of the other bends.</param>
public sealed record BenderBend(double AngleDegrees, double RotationDegrees, double? RadiusMm = null);

/// <summary>A mark on the straight tube before it is bent.</summary>
/// <param name="BenderMarkMm">Where the bender's own mark goes: the tangent point with the bender's offset.</param>
/// <param name="BendToDegrees">What the bender is taken to, with the die's springback.</param>
/// <param name="IsClampShort">The straight before the bend is shorter than the die needs to hold.</param>
/// <param name="IsOtherDie">The bend has another radius than the die: the mark is then where the bend begins, and springback is not known.</param>
public sealed record BenderStep(
    int Number,
    double BenderMarkMm,
    double BendToDegrees,
    double RotationDegrees,
    double StraightBeforeMm,
    bool IsClampShort,
    bool IsOtherDie
);

/// <summary>What the shop knows of a bender and its die.</summary>
/// <param name="MarkOffsetMm">From the tangent point to the bender's mark, along the tube; below zero where the mark comes first.</param>
/// <param name="ClampMm">Straight that the die needs before a bend; about 1.5 to 2 diameters: common practice, no source.</param>
/// <param name="RadiusMm">Of its die; null where every bend is made in it.</param>
public sealed record Bender(double MarkOffsetMm, double ClampMm, SpringbackTable Springback, double? RadiusMm = null)
{
    // A radius that was turned into an arc and back differs by the last digits only.
    private const double Rounding = 1e-9;

    /// <summary>Whether a bend is made in this die.</summary>
    public bool Makes(TubePathBend bend) =>
        RadiusMm is not { } radius || Math.Abs(bend.CentrelineRadiusMm() - radius) <= radius * Rounding;
}

/// <summary>Between a path in space and what is set at the bender.</summary>
public static class BenderData
{
    /// <summary>Steps in the order of the tube.</summary>
    public static IReadOnlyList<BenderStep> Steps(TubePathFigures path, Bender bender)
    {
        ArgumentNullException.ThrowIfNull(path);
        ArgumentNullException.ThrowIfNull(bender);
        return [.. path.Bends.Select((bend, i) => Step(i, bend, path.Straights[i].LengthMm, bender))];
    }

    private static BenderStep Step(int index, TubePathBend bend, double straightMm, Bender bender)
    {
        var isMade = bender.Makes(bend);
        return new BenderStep(
            index + 1,
            bend.StartMarkMm + (isMade ? bender.MarkOffsetMm : 0),
            isMade ? bender.Springback.BendToDegrees(bend.AngleDegrees) : bend.AngleDegrees,
            bend.RotationDegrees,
            straightMm,
            isMade && straightMm < bender.ClampMm,
            !isMade
        );
    }

    /// <summary>The points of a tube from its straights and bends: it begins at the origin along x, and the first bend turns it in the plane of x and y.</summary>
    /// <param name="straightsMm">One more than there are bends; each 0 or more.</param>
    /// <param name="bends">Angles over 0 and under 180 degrees.</param>
    public static Outcome<IReadOnlyList<Point3>> Points(
        double centrelineRadiusMm,
        IReadOnlyList<double> straightsMm,
        IReadOnlyList<BenderBend> bends
    )
    {
        ArgumentNullException.ThrowIfNull(straightsMm);
        ArgumentNullException.ThrowIfNull(bends);
        var errors = new FieldErrors();
        FigureRules.IsSize(centrelineRadiusMm, "centrelineRadiusMm", "The centreline radius", errors);
        errors.AddIf(
            straightsMm.Count != bends.Count + 1,
            "straights",
            $"{bends.Count} bends need {bends.Count + 1} straights; {straightsMm.Count} were given."
        );
        for (var i = 0; i < straightsMm.Count; i++)
        {
            FigureRules.IsSizeOrNone(straightsMm[i], $"straights[{i}]", "A straight", errors);
        }

        for (var i = 0; i < bends.Count; i++)
        {
            errors.AddIf(
                bends[i].AngleDegrees is not (> 0 and < 180),
                $"bends[{i}].angleDegrees",
                "A bend angle is over 0 and under 180 degrees."
            );
            errors.AddIf(
                bends[i].RotationDegrees is not (>= -360 and <= 360),
                $"bends[{i}].rotationDegrees",
                "A rotation lies between -360 and 360 degrees."
            );
            if (bends[i].RadiusMm is { } radius)
            {
                FigureRules.IsSize(radius, $"bends[{i}].radiusMm", "The bend's radius", errors);
            }
        }

        return errors.Any
            ? errors.ToFailure()
            : Outcome<IReadOnlyList<Point3>>.Success(Walk(centrelineRadiusMm, straightsMm, bends));
    }

    /// <summary>The same tube in a looking glass: the other side of the car.</summary>
    public static IReadOnlyList<Point3> Mirrored(IReadOnlyList<Point3> points) =>
        [.. points.Select(p => p with { Y = -p.Y })];

    private static List<Point3> Walk(double radius, IReadOnlyList<double> straights, IReadOnlyList<BenderBend> bends)
    {
        var points = new List<Point3> { new(0, 0, 0) };
        var (direction, normal) = (new Point3(1, 0, 0), new Point3(0, 0, 1));
        var setbackBefore = 0.0;
        for (var i = 0; i < bends.Count; i++)
        {
            var angle = Angle.FromDegrees(bends[i].AngleDegrees).Radians;
            var setback = TubeBend.SetbackMm(bends[i].RadiusMm ?? radius, angle);
            points.Add(points[^1] + ((setbackBefore + straights[i] + setback) * direction));
            normal = normal.Turned(direction, Angle.FromDegrees(bends[i].RotationDegrees).Radians);
            direction = direction.Turned(normal, angle);
            setbackBefore = setback;
        }

        points.Add(points[^1] + ((setbackBefore + straights[^1]) * direction));
        return points;
    }
}
