using ShopFloor.Documents.Papers.Models;

namespace ShopFloor.Documents.Workbench;

/// <summary>What stands at the head of every paper of the workbench.</summary>
/// <param name="Tube">The tube's or plate's name in the shop.</param>
/// <param name="Reference">Job number, car and operation; null for a loose paper.</param>
/// <param name="Divisions">Parts of an inch to which lengths are said.</param>
public sealed record WorkbenchHead(string ShopName, string Tube, string? Reference, int Divisions = 16);

/// <summary>A point of a cut around a tube.</summary>
/// <param name="AroundDegrees">Counter-clockwise as seen from the tube's free end towards the joint; 0 to under 360.</param>
/// <param name="AxialMm">Along the tube, growing away from the joint.</param>
public sealed record WrapPoint(double AroundDegrees, double AxialMm);

/// <summary>A cut to be drawn 1:1 and wrapped round the tube with its printed face outward.</summary>
/// <param name="EndName">Which end of the tube.</param>
/// <param name="Edge">At least 8 points in rising order round the tube.</param>
/// <param name="LowestMm">The exact least axial figure; where the tube's straight-cut end lies.</param>
/// <param name="HighestMm">The exact greatest one.</param>
/// <param name="ZeroName">What the line at 0° is on the tube, e.g. the acute side.</param>
/// <param name="BendPlaneDegrees">Where the line lies round it that sets the wrap against the rest of the tube: the inside of its bend, or the other end's line 0°; null where there is none.</param>
/// <param name="Facts">The figures that the cut was made from.</param>
/// <param name="Warnings">Sentences that must be read before the cut.</param>
/// <param name="MarkName">What stands at that line.</param>
public sealed record WrapTemplate(
    WorkbenchHead Head,
    string EndName,
    double OutsideDiameterMm,
    IReadOnlyList<WrapPoint> Edge,
    double LowestMm,
    double HighestMm,
    string ZeroName,
    double? BendPlaneDegrees,
    IReadOnlyList<PaperFact> Facts,
    IReadOnlyList<string> Warnings,
    string MarkName = WrapTemplate.InsideOfBend
)
{
    public const string InsideOfBend = "inside of bend";
}

/// <summary>A bend as it is made.</summary>
/// <param name="StartMarkMm">Where the bend begins, from the tube's first end.</param>
/// <param name="BenderMarkMm">What is held against the bender's mark; equal to the start where the bender has no offset.</param>
/// <param name="BendToDegrees">With the die's springback; equal to the angle where none is known.</param>
/// <param name="RotationDegrees">Turn of the tube against the bend before.</param>
/// <param name="OwnRadiusMm">Where the bend is made in another die than the others.</param>
public sealed record BendCardBend(
    double AngleDegrees,
    double BendToDegrees,
    double RotationDegrees,
    double StartMarkMm,
    double EndMarkMm,
    double BenderMarkMm,
    double StraightBeforeMm,
    double? OwnRadiusMm = null
);

/// <summary>How one tube is cut and bent.</summary>
public sealed record BendCard(
    WorkbenchHead Head,
    double CutLengthMm,
    double LastStraightMm,
    IReadOnlyList<BendCardBend> Bends,
    IReadOnlyList<PaperFact> Facts,
    IReadOnlyList<string> Warnings
);

/// <summary>One end of a door bar; lengths from the joint towards the bend.</summary>
/// <param name="FirstCutMm">Null where the hinge does not fit.</param>
/// <param name="Reasons">Why it does not fit and what to move.</param>
public sealed record HingeCardEnd(
    string Name,
    double JointRootMm,
    double BendTangentMm,
    double InsertLengthMm,
    double BodyLengthMm,
    double ClearanceMm,
    double EarliestCutMm,
    double LatestCutMm,
    double? FirstCutMm,
    double? SecondCutMm,
    IReadOnlyList<string> Reasons
);

/// <summary>Where a door bar is cut for its hinges.</summary>
public sealed record HingeCard(WorkbenchHead Head, IReadOnlyList<HingeCardEnd> Ends, double RemovedMm);

/// <summary>A corner of a plate.</summary>
public sealed record PlateCorner(double XMm, double YMm);

/// <summary>A short run; lengths along the seam from its start.</summary>
public sealed record SkipWeldRun(double FromMm, double ToMm);

/// <summary>The order in which a plate's seam is welded in short runs.</summary>
/// <param name="Outline">Of the plate, in order round it; the seam runs from the first corner round and back to it.</param>
/// <param name="Runs">In the order of welding.</param>
public sealed record SkipWeldCard(
    WorkbenchHead Head,
    IReadOnlyList<PlateCorner> Outline,
    IReadOnlyList<SkipWeldRun> Runs,
    IReadOnlyList<PaperFact> Facts,
    IReadOnlyList<string> Cautions
);

/// <summary>A piece to be sawn.</summary>
public sealed record SawCut(string Label, double LengthMm);

/// <summary>One bar: its pieces in the order of sawing.</summary>
/// <param name="RemnantMm">What is left; 0 where nothing is.</param>
/// <param name="Label">What stands on the bar: its number in the store, its heat, where it lies; null for any bar of the length.</param>
public sealed record SawBar(double StockMm, IReadOnlyList<SawCut> Cuts, double RemnantMm, string? Label = null);

/// <summary>How bars are sawn into pieces.</summary>
/// <param name="HowGood">What is known of how good the nest is.</param>
public sealed record SawCard(
    WorkbenchHead Head,
    IReadOnlyList<SawBar> Bars,
    double KerfMm,
    double EndTrimMm,
    string HowGood,
    IReadOnlyList<PaperFact> Facts,
    IReadOnlyList<string> Cautions
)
{
    /// <summary>More bars than this are no card for a saw; nest them in parts.</summary>
    public const int MostBars = 500;
}
