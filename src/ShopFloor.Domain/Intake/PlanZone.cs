namespace ShopFloor.Domain.Intake;

/// <summary>A named place on the plan of the car, for those who choose from a list instead of pointing.</summary>
/// <param name="Code">Stable.</param>
/// <param name="Title">As people say it; left and right as seen from the driver's seat.</param>
/// <param name="Place">The middle of the zone.</param>
/// <param name="IsAsked">A walk-round shows at least these.</param>
public sealed record PlanZone(string Code, string Title, PlanPlace Place, bool IsAsked)
{
    /// <summary>How far from a zone's middle a photo may be placed and still count as showing it, in widths of the plan.</summary>
    private const double Reach = 0.3;

    /// <summary>The plan is this many times as long as it is wide.</summary>
    public const double LengthToWidth = 2;

    public static IReadOnlyList<PlanZone> All { get; } =
    [
        new("nose", "Nose", new(0.5, 0.04), true),
        new("bonnet", "Bonnet", new(0.5, 0.17), false),
        new("leftFrontWing", "Left front wing", new(0.14, 0.2), false),
        new("rightFrontWing", "Right front wing", new(0.86, 0.2), false),
        new("windscreen", "Windscreen", new(0.5, 0.32), false),
        new("instruments", "Instruments, ignition on", new(0.36, 0.38), true),
        new("leftSide", "Left side and door", new(0.1, 0.5), true),
        new("rightSide", "Right side and door", new(0.9, 0.5), true),
        new("roof", "Roof", new(0.5, 0.55), false),
        new("inside", "Inside, where the bar goes", new(0.5, 0.64), true),
        new("rearWindow", "Rear window", new(0.5, 0.76), false),
        new("leftRearWing", "Left rear wing", new(0.14, 0.82), false),
        new("rightRearWing", "Right rear wing", new(0.86, 0.82), false),
        new("boot", "Boot", new(0.5, 0.87), false),
        new("tail", "Tail", new(0.5, 0.97), true),
    ];

    /// <summary>The zone whose middle is nearest to the place.</summary>
    public static PlanZone Nearest(PlanPlace place) => All.MinBy(z => Distance(z.Place, place))!;

    /// <summary>Asked zones that none of the placed photos shows yet.</summary>
    public static IReadOnlyList<PlanZone> NotShown(IEnumerable<PlanPlace> placed)
    {
        var shown = placed.Where(p => Distance(Nearest(p).Place, p) <= Reach).Select(p => Nearest(p).Code).ToHashSet();
        return [.. All.Where(z => z.IsAsked && !shown.Contains(z.Code))];
    }

    private static double Distance(PlanPlace a, PlanPlace b) =>
        Math.Sqrt(Math.Pow(a.X - b.X, 2) + Math.Pow((a.Y - b.Y) * LengthToWidth, 2));
}
