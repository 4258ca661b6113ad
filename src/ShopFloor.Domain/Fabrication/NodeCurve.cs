using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Fabrication;

/// <summary>A branch whose end meets two headers at one node.</summary>
/// <param name="First">The branch on its first header.</param>
/// <param name="Second">The same branch on its second header; its diameter, wall and edge must be those of the first.</param>
/// <param name="TurnDegrees">Where the second header's acute side lies round the branch from the first's, counted as φ is; −360 to 360.</param>
/// <param name="ShiftMm">How much further along the branch, away from its free end, its axis passes the second header than the first; below zero where it passes it earlier.</param>
public sealed record NodeInput(NotchInput First, NotchInput Second, double TurnDegrees, double ShiftMm);

/// <summary>The end of a branch that meets two headers: at each place round it the deeper of both notches. Measured from where the branch's axis passes the first header's.</summary>
public sealed class NodeCurve
{
    private readonly NotchAtNode first;
    private readonly NotchAtNode second;

    internal NodeCurve(NotchAtNode first, NotchAtNode second) => (this.first, this.second) = (first, second);

    public double CircumferenceMm => first.Curve.CircumferenceMm;

    /// <summary>The curve, or what is wrong: fields of the second header have <c>second.</c> before them.</summary>
    public static Outcome<NodeCurve> Of(NodeInput input)
    {
        ArgumentNullException.ThrowIfNull(input);
        var errors = new FieldErrors();
        var (one, two) = (Notch.CurveOf(input.First), Notch.CurveOf(input.Second));
        errors.Take(one).Take(two, "second.");
        errors.AddIf(
            input.First.BranchOutsideDiameterMm != input.Second.BranchOutsideDiameterMm
                || input.First.BranchWallMm != input.Second.BranchWallMm
                || input.First.Edge != input.Second.Edge,
            "second.branchOutsideDiameterMm",
            "Both notches are on the same end of the same tube."
        );
        FigureRules.Holds(
            input.TurnDegrees is >= -360 and <= 360,
            "turnDegrees",
            "The second tube is turned by -360 to 360 degrees against the first.",
            errors
        );
        FigureRules.IsCoordinate(input.ShiftMm, "shiftMm", "The distance between both crossings", errors);
        return errors.Any
            ? errors.ToFailure()
            : new NodeCurve(
                new NotchAtNode(one.Value, 0),
                new NotchAtNode(two.Value, Angle.FromDegrees(input.TurnDegrees).Radians, -input.ShiftMm)
            );
    }

    /// <summary>Along the branch, in mm.</summary>
    /// <param name="around">Radians, from the acute side of the first header.</param>
    public double AxialMm(double around) => NotchedTube.AxialAtNodeMm(first, second, around);

    /// <summary>Whether the first header is met here: it, and not the second, sets the cut.</summary>
    public bool IsFirst(double around) => AxialMm(around) == first.AxialMm(around);

    /// <summary>The least and the greatest of the curve, with where they are.</summary>
    public (double Around, double AxialMm) Extreme(bool greatest) => AroundExtremes.Of(AxialMm, greatest);

    /// <summary>Length of the line along which the branch's outside meets both headers, in mm: the weld to lay on this end; that between the headers is not in it.</summary>
    public double JointLineMm()
    {
        var (one, two) = (first with { Curve = first.Curve.Outside() }, second with { Curve = second.Curve.Outside() });
        return NotchCurve.LineMm(around => NotchedTube.AxialAtNodeMm(one, two, around), first.Curve.OuterMm);
    }
}
