using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Fabrication;

/// <summary>A branch to be notched onto a header.</summary>
/// <param name="AngleDegrees">Between the axes, over 0 and at most 90.</param>
/// <param name="OffsetMm">Between the axes; positive towards φ = 90°.</param>
/// <param name="PointCount">Of the wrap's curve, 8 to 3,600.</param>
public sealed record NotchInput(
    double BranchOutsideDiameterMm,
    double BranchWallMm,
    double HeaderOutsideDiameterMm,
    double AngleDegrees,
    double OffsetMm = 0,
    NotchEdge Edge = NotchEdge.Seat,
    int PointCount = Notch.UsualPoints
);

/// <summary>A place on the wrap.</summary>
/// <param name="AroundDegrees">0 on the acute side, counter-clockwise seen from the branch's free end.</param>
/// <param name="AroundMm">The same on the branch's outside, where the paper lies.</param>
/// <param name="AxialMm">Along the branch from the header's axis.</param>
public sealed record NotchPoint(double AroundDegrees, double AroundMm, double AxialMm);

/// <summary>The curve to cut. The extremes are those of the curve, not of its points.</summary>
public sealed record NotchFigures(
    double CircumferenceMm,
    IReadOnlyList<NotchPoint> Points,
    double MinimumAxialMm,
    double MaximumAxialMm
);

/// <summary>Notches: the end of a tube that sits on the side of another.</summary>
public static class Notch
{
    public const int FewestPoints = 8;
    public const int MostPoints = 3_600;
    public const int UsualPoints = 72;

    /// <summary>Share of the header's radius by which an edge may seem to pass it: the rounding of inch sizes.</summary>
    private const double Rounding = 1e-12;

    public static Outcome<NotchFigures> Calculate(NotchInput input)
    {
        ArgumentNullException.ThrowIfNull(input);
        return CurveOf(input)
            .Then<NotchFigures>(curve => new NotchFigures(
                curve.CircumferenceMm,
                [
                    .. Enumerable
                        .Range(0, input.PointCount)
                        .Select(i =>
                        {
                            var around = 2 * Math.PI * i / input.PointCount;
                            return new NotchPoint(
                                360.0 * i / input.PointCount,
                                curve.OuterMm * around,
                                curve.AxialMm(around)
                            );
                        }),
                ],
                curve.Extreme(greatest: false).AxialMm,
                curve.Extreme(greatest: true).AxialMm
            ));
    }

    /// <summary>The curve itself, or what is wrong with the figures.</summary>
    public static Outcome<NotchCurve> CurveOf(NotchInput input)
    {
        ArgumentNullException.ThrowIfNull(input);
        var errors = new FieldErrors();
        var isTube = FigureRules.IsTube(
            input.BranchOutsideDiameterMm,
            input.BranchWallMm,
            "branchOutsideDiameterMm",
            "branchWallMm",
            errors
        );
        var isHeader = FigureRules.IsSize(
            input.HeaderOutsideDiameterMm,
            "headerOutsideDiameterMm",
            "The header's outside diameter",
            errors
        );
        var isOffset = FigureRules.IsCoordinate(input.OffsetMm, "offsetMm", "The offset", errors);
        var isAngle = FigureRules.Holds(
            input.AngleDegrees is > 0 and <= 90,
            "angleDegrees",
            "The angle between the tubes is over 0 and at most 90 degrees; give the acute one.",
            errors
        );
        FigureRules.Holds(
            input.PointCount is >= FewestPoints and <= MostPoints,
            "pointCount",
            $"A wrap has {FewestPoints} to {MostPoints} points.",
            errors
        );
        if (isTube && isHeader && isOffset)
        {
            CheckReach(input, errors);
        }

        if (isHeader && isAngle)
        {
            // The header's half is the longest leg of the curve, and the branch is not thicker.
            var reach = input.HeaderOutsideDiameterMm / Math.Sin(Angle.FromDegrees(input.AngleDegrees).Radians);
            FigureRules.HasEnd(reach, "angleDegrees", "The angle between the tubes", errors);
        }

        return errors.Any
            ? errors.ToFailure()
            : new NotchCurve(
                input.BranchOutsideDiameterMm / 2,
                InsideMm(input),
                input.HeaderOutsideDiameterMm / 2,
                Angle.FromDegrees(input.AngleDegrees).Radians,
                input.OffsetMm,
                input.Edge
            );
    }

    /// <summary>Whether the wall's outside hangs over the header's side although its inside meets it: allowed for the inside edge, and to be said.</summary>
    public static bool Overhangs(NotchInput input)
    {
        ArgumentNullException.ThrowIfNull(input);
        return !IsWithin(input, input.BranchOutsideDiameterMm / 2);
    }

    private static void CheckReach(NotchInput input, FieldErrors errors)
    {
        var radius = input.Edge == NotchEdge.Inside ? InsideMm(input) : input.BranchOutsideDiameterMm / 2;
        if (IsWithin(input, radius))
        {
            return;
        }

        var over = radius + Math.Abs(input.OffsetMm) - (input.HeaderOutsideDiameterMm / 2);
        errors.Add(
            input.OffsetMm == 0 ? "branchOutsideDiameterMm" : "offsetMm",
            FormattableString.Invariant(
                $"The branch reaches {over:0.###} mm beside the header, so its edge meets nothing there. Take a smaller branch, a larger header or less offset."
            )
        );
    }

    private static bool IsWithin(NotchInput input, double radiusMm) =>
        radiusMm + Math.Abs(input.OffsetMm) <= input.HeaderOutsideDiameterMm / 2 * (1 + Rounding);

    private static double InsideMm(NotchInput input) => (input.BranchOutsideDiameterMm / 2) - input.BranchWallMm;
}
