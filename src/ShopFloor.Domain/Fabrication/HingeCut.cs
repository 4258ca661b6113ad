using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Fabrication;

/// <summary>Where between joint and bend a hinge is wanted.</summary>
public enum HingePlace
{
    Centre,
    NearJoint,
    NearBend,
}

/// <summary>One end of a door bar into which a hinge is cut. Lengths in mm along the bar from its own joint, growing toward the bend.</summary>
/// <param name="JointRootMm">Where the notch's deepest point lies: the insert may not come nearer.</param>
/// <param name="BendTangentMm">Where the bend begins; after the joint root.</param>
/// <param name="InsertLengthMm">How far the hinge's insert goes into the tube on each side.</param>
/// <param name="BodyLengthMm">What the hinge takes out of the bar.</param>
/// <param name="ClearanceMm">Kept between insert and joint root or bend.</param>
public sealed record HingeEnd(
    string Name,
    double JointRootMm,
    double BendTangentMm,
    double InsertLengthMm,
    double BodyLengthMm,
    double ClearanceMm = 0,
    HingePlace Prefer = HingePlace.Centre
);

/// <summary>Where to cut, or why it does not fit.</summary>
/// <param name="EarliestCutMm">Joint root + clearance + insert.</param>
/// <param name="LatestCutMm">Bend tangent − insert − clearance − body.</param>
/// <param name="FirstCutMm">Null where it does not fit.</param>
/// <param name="ShortfallMm">How much is missing; 0 where it fits.</param>
/// <param name="Reasons">Sentences with what to change; empty where it fits.</param>
public sealed record HingeCutEnd(
    string Name,
    bool IsPossible,
    double EarliestCutMm,
    double LatestCutMm,
    double? FirstCutMm,
    double? SecondCutMm,
    double ShortfallMm,
    IReadOnlyList<string> Reasons
);

/// <summary>Both ends, and what comes out of the bar in all.</summary>
/// <param name="RemovedMm">Bodies of the ends that fit.</param>
public sealed record HingeCutFigures(IReadOnlyList<HingeCutEnd> Ends, double RemovedMm);

/// <summary>Cuts for hinges in a door bar: each insert stays clear of the joint and of the bend.</summary>
/// <remarks>A hinge takes about 2.5 in (63.5 mm) out of each end: common practice, no source; the hinge's own figure rules.</remarks>
public static class HingeCut
{
    public const int MostEnds = 2;

    /// <summary>Rounding of the lengths: a fit to the last digit is a fit.</summary>
    public const double RoundingMm = 1e-9;

    public static Outcome<HingeCutFigures> Calculate(IReadOnlyList<HingeEnd> ends)
    {
        ArgumentNullException.ThrowIfNull(ends);
        var errors = new FieldErrors();
        errors.AddIf(ends.Count is 0 or > MostEnds, "ends", "A door bar has one or two ends with a hinge.");
        for (var i = 0; i < ends.Count && ends.Count <= MostEnds; i++)
        {
            Check(ends[i], $"ends[{i}]", errors);
            errors.AddIf(
                ends.Take(i).Any(e => e.Name == ends[i].Name),
                $"ends[{i}].name",
                "Both ends have the same name; name them apart, such as front and rear."
            );
        }

        if (errors.Any)
        {
            return errors.ToFailure();
        }

        var cuts = ends.Select(Cut).ToList();
        return new HingeCutFigures(cuts, ends.Zip(cuts).Where(c => c.Second.IsPossible).Sum(c => c.First.BodyLengthMm));
    }

    private static void Check(HingeEnd end, string path, FieldErrors errors)
    {
        TextRules.Required(end.Name, path + ".name", "The name of the end", TextRules.Code, errors);
        var isRoot = FigureRules.IsSizeOrNone(end.JointRootMm, path + ".jointRootMm", "The joint root", errors);
        var isBend = FigureRules.IsSize(end.BendTangentMm, path + ".bendTangentMm", "The bend's tangent point", errors);
        errors.AddIf(
            isRoot && isBend && end.BendTangentMm <= end.JointRootMm,
            path + ".bendTangentMm",
            "The bend begins before the joint ends; both are measured from this end's joint, growing toward the bend."
        );
        FigureRules.IsSize(end.InsertLengthMm, path + ".insertLengthMm", "The insert's length", errors);
        FigureRules.IsSize(end.BodyLengthMm, path + ".bodyLengthMm", "The body's length", errors);
        FigureRules.IsSizeOrNone(end.ClearanceMm, path + ".clearanceMm", "The clearance", errors);
    }

    private static HingeCutEnd Cut(HingeEnd end)
    {
        var earliest = end.JointRootMm + end.InsertLengthMm + end.ClearanceMm;
        var latest = end.BendTangentMm - end.InsertLengthMm - end.ClearanceMm - end.BodyLengthMm;
        var shortfall = earliest - latest;
        if (shortfall > RoundingMm)
        {
            return new(end.Name, false, earliest, latest, null, null, shortfall, Reasons(end, shortfall));
        }

        var first = end.Prefer switch
        {
            HingePlace.NearJoint => earliest,
            HingePlace.NearBend => latest,
            _ => (earliest + latest) / 2,
        };
        return new(end.Name, true, earliest, latest, first, first + end.BodyLengthMm, 0, []);
    }

    private static List<string> Reasons(HingeEnd end, double shortfall)
    {
        var room = end.BendTangentMm - end.JointRootMm;
        var reasons = new List<string>
        {
            FormattableString.Invariant(
                $"Between joint and bend there are {room:0.#} mm; the hinge needs {room + shortfall:0.#} mm, {shortfall:0.#} mm more."
            ),
            FormattableString.Invariant(
                $"Move the bend {shortfall:0.#} mm away from the joint: set the bar at another height, or bend it later."
            ),
        };
        if (end.InsertLengthMm > shortfall / 2)
        {
            reasons.Add(
                FormattableString.Invariant(
                    $"Or take a hinge whose insert is at least {shortfall / 2:0.#} mm shorter on each side; the hinge maker's least insert length rules."
                )
            );
        }

        if (end.ClearanceMm >= shortfall / 2)
        {
            reasons.Add(
                FormattableString.Invariant(
                    $"Or keep {shortfall / 2:0.#} mm less clearance on each side, if the weld allows it."
                )
            );
        }

        return reasons;
    }
}
