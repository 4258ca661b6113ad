using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Fabrication;

/// <summary>Arc welding processes by their common short names.</summary>
public enum WeldProcess
{
    /// <summary>Solid wire with gas: MIG, MAG.</summary>
    Gmaw,

    /// <summary>Tungsten electrode with gas: TIG.</summary>
    Gtaw,

    /// <summary>Covered stick electrode.</summary>
    Smaw,

    /// <summary>Flux-cored wire.</summary>
    Fcaw,

    /// <summary>Submerged arc.</summary>
    Saw,
}

/// <summary>A run's settings.</summary>
public sealed record HeatInputInput(WeldProcess Process, double VoltageV, double CurrentA, double TravelSpeedMmPerS);

/// <summary>Heat that goes into the work for each millimetre of weld.</summary>
/// <param name="Source">Of formula and efficiency.</param>
public sealed record HeatInputFigures(double ThermalEfficiency, double HeatInputKjPerMm, string Source);

/// <summary>Heat input of arc welding.</summary>
/// <remarks>Q = k U I / v · 10⁻³ kJ/mm, with U in V, I in A, v in mm/s: EN 1011-1:2009 and its table 1 for k, as quoted on welding pages; the standard itself was not read.</remarks>
public static class HeatInput
{
    public const string Source =
        "EN 1011-1:2009, heat input k·U·I/v, k of table 1 (as quoted on welding pages; ISO/TR 17671-1 is its ISO form, from memory)";

    public static Outcome<HeatInputFigures> Calculate(HeatInputInput input)
    {
        ArgumentNullException.ThrowIfNull(input);
        var errors = new FieldErrors();
        FigureRules.IsSize(input.VoltageV, "voltageV", "The voltage", errors);
        FigureRules.IsSize(input.CurrentA, "currentA", "The current", errors);
        FigureRules.IsSize(input.TravelSpeedMmPerS, "travelSpeedMmPerS", "The travel speed", errors);
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        var efficiency = EfficiencyOf(input.Process);
        var heat = efficiency * input.VoltageV * input.CurrentA / input.TravelSpeedMmPerS / 1000;
        return FigureRules.HasEnd(heat, "travelSpeedMmPerS", "The travel speed", errors)
            ? new HeatInputFigures(efficiency, heat, Source)
            : errors.ToFailure();
    }

    /// <summary>The share of the arc's energy that reaches the work, k of EN 1011-1 table 1.</summary>
    public static double EfficiencyOf(WeldProcess process) =>
        process switch
        {
            WeldProcess.Saw => 1.0,
            WeldProcess.Gtaw => 0.6,
            WeldProcess.Gmaw or WeldProcess.Smaw or WeldProcess.Fcaw => 0.8,
            _ => throw new ArgumentOutOfRangeException(nameof(process), process, "Unknown process."),
        };
}
