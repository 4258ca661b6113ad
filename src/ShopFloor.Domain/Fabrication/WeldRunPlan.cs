using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Fabrication;

/// <summary>A seam to be laid in short runs.</summary>
/// <param name="SeamMm">Over 0.</param>
/// <param name="RunMm">Longest length of one run; about 9.5 mm (3/8 in) on a car's floor: common practice, no source.</param>
/// <param name="PauseSeconds">Lifting, moving and cooling after each run but the last.</param>
/// <param name="IsClosed">The seam ends where it begins, as round a plate.</param>
/// <param name="LegMm">Leg of the fillet, for the filler; null for none.</param>
/// <param name="WireMm">Diameter of the wire or rod, for its length; null for none. Counts only with a leg.</param>
/// <param name="GasLPerMin">Flow of the shielding gas; null for none.</param>
/// <param name="Outline">Where the seam lies, its length being <paramref name="SeamMm"/>: runs are then kept apart on the plate and not only along the seam. Null for a straight seam.</param>
public sealed record WeldRunInput(
    double SeamMm,
    double RunMm,
    double PauseSeconds,
    bool IsClosed,
    HeatInputInput Settings,
    double? LegMm = null,
    PlateOutline? Outline = null,
    double? WireMm = null,
    double? GasLPerMin = null
);

/// <summary>One run in the order of welding.</summary>
/// <param name="Place">Its place along the seam, from 1.</param>
/// <param name="FromMm">Along the seam.</param>
public sealed record WeldRun(int Order, int Place, double FromMm, double ToMm);

/// <summary>The plan of a seam.</summary>
/// <param name="AverageKw">Heat of the whole seam over the whole time: what the sheet must lose.</param>
/// <param name="FillerG">An estimate: fillet's section × length × density; spatter and stub not counted.</param>
/// <param name="WireM">The same filler as wire, in metres.</param>
/// <param name="GasL">An estimate: flow × arc time; what flows before and after each run is not counted.</param>
public sealed record WeldRunPlanFigures(
    IReadOnlyList<WeldRun> Runs,
    double RunMm,
    double ArcSeconds,
    double TotalSeconds,
    double HeatPerRunKj,
    double HeatInAllKj,
    double AverageKw,
    double? FillerG,
    double? WireM,
    double? GasL
);

/// <summary>Short runs that spread the heat: each next one as far as possible from those just laid.</summary>
/// <remarks>Common practice, no source. No forced air on 4130: it must cool slowly (common practice).</remarks>
public static class WeldRunPlan
{
    public const int MostRuns = 2_000;

    // A run warms its neighbours for some turns; older ones no longer count.
    private const int Remembered = 4;

    public static Outcome<WeldRunPlanFigures> Calculate(WeldRunInput input)
    {
        ArgumentNullException.ThrowIfNull(input);
        var errors = new FieldErrors();
        var isSeam = FigureRules.IsSize(input.SeamMm, "seamMm", "The seam's length", errors);
        var isRun = FigureRules.IsSize(input.RunMm, "runMm", "The run's length", errors);
        FigureRules.IsSizeOrNone(input.PauseSeconds, "pauseSeconds", "The pause", errors);
        if (input.LegMm is { } leg)
        {
            FigureRules.IsSize(leg, "legMm", "The fillet's leg", errors);
        }

        if (input.WireMm is { } wire)
        {
            FigureRules.IsSize(wire, "wireMm", "The wire's diameter", errors);
        }

        if (input.GasLPerMin is { } flow)
        {
            FigureRules.IsSize(flow, "gasLPerMin", "The gas flow", errors);
        }

        errors.AddIf(
            isSeam && isRun && input.SeamMm / input.RunMm > MostRuns,
            "runMm",
            $"This makes more than {MostRuns} runs; take longer runs or a shorter seam."
        );
        errors.Take(HeatInput.Calculate(input.Settings));
        return errors.Any ? errors.ToFailure() : Plan(input);
    }

    private static WeldRunPlanFigures Plan(WeldRunInput input)
    {
        var count = (int)Math.Ceiling((input.SeamMm / input.RunMm) - 1e-9);
        var run = input.SeamMm / count;
        var heat = HeatInput.Calculate(input.Settings).Value.HeatInputKjPerMm;
        var arc = input.SeamMm / input.Settings.TravelSpeedMmPerS;
        var total = arc + ((count - 1) * input.PauseSeconds);
        // A flat fillet: half the square of its leg.
        double? fillerMm3 = input.LegMm is { } leg ? leg * leg / 2 * input.SeamMm : null;
        return new(
            [
                .. (input.Outline is { } outline ? OrderOn(outline, count, run) : Order(count, input.IsClosed)).Select(
                    (place, i) => new WeldRun(i + 1, place + 1, place * run, (place + 1) * run)
                ),
            ],
            run,
            arc,
            total,
            heat * run,
            heat * input.SeamMm,
            heat * input.SeamMm / total,
            fillerMm3 * RoundTube.SteelKgPerM3 / 1e6,
            input.WireMm is { } wire ? fillerMm3 / (Math.PI * wire * wire / 4) / 1000 : null,
            input.GasLPerMin * arc / 60
        );
    }

    /// <summary>Places in the order of welding: the first, then always the one farthest from the last few, the earlier place on a tie.</summary>
    internal static List<int> Order(int count, bool isClosed) =>
        Order(
            count,
            (a, b) =>
            {
                var straight = Math.Abs(a - b);
                return isClosed ? Math.Min(straight, count - straight) : straight;
            }
        );

    /// <summary>The same by the distance of the runs' middles on the plate: heat does not follow the seam.</summary>
    private static List<int> OrderOn(PlateOutline outline, int count, double runMm)
    {
        var middles = Enumerable.Range(0, count).Select(i => outline.At((i + 0.5) * runMm)).ToList();
        return Order(
            count,
            (a, b) =>
            {
                var (dx, dy) = (middles[a].X - middles[b].X, middles[a].Y - middles[b].Y);
                // To a thousandth, so that rounding does not choose between places that lie alike.
                return Math.Round(Math.Sqrt((dx * dx) + (dy * dy)), 3);
            }
        );
    }

    private static List<int> Order(int count, Func<int, int, double> distance)
    {
        var order = new List<int>(count) { 0 };
        var left = Enumerable.Range(1, count - 1).ToList();
        while (left.Count > 0)
        {
            var recent = order.TakeLast(Remembered).ToList();
            var next = left.MaxBy(place => recent.Min(r => distance(place, r)));
            order.Add(next);
            left.Remove(next);
        }

        return order;
    }
}
