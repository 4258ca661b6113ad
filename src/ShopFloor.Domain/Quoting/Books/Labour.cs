namespace ShopFloor.Domain.Quoting;

/// <summary>A skill and what an hour of it costs the customer.</summary>
public sealed record SkillRate(string Code, string Title, long RateMinorPerHour, IReadOnlyList<string> TaxCodes)
{
    /// <summary>What an hour of it costs the shop.</summary>
    public long CostMinorPerHour { get; init; }
}

/// <summary>Minutes for one unit of work content, with their range; before condition factors. Where the work goes in short runs, minutes per unit are 0 and <see cref="Runs"/> counts instead.</summary>
/// <param name="Unit">What is counted: mm, m², panel, joint.</param>
public sealed record LabourStandard(
    string Code,
    string Title,
    string Unit,
    decimal LowMinutes,
    decimal LikelyMinutes,
    decimal HighMinutes
)
{
    /// <summary>Welding process it holds for, where it is one: <c>gmaw</c>, <c>gtaw</c> …</summary>
    public string? Process { get; init; }

    /// <summary>Welding position it holds for, where it matters: <c>flat</c>, <c>vertical</c>, <c>overhead</c>.</summary>
    public string? Position { get; init; }

    public ShortRuns? Runs { get; init; }

    /// <summary>Minutes for a quantity of this work, before condition factors.</summary>
    public MinutesRange For(decimal quantity) =>
        Runs is { } runs
            ? runs.For(quantity)
            : new MinutesRange(quantity * LowMinutes, quantity * LikelyMinutes, quantity * HighMinutes);
}

/// <summary>Low, likely and high minutes.</summary>
public readonly record struct MinutesRange(decimal Low, decimal Likely, decimal High)
{
    public MinutesRange Times(decimal factor) => new(Low * factor, Likely * factor, High * factor);
}

/// <summary>Weld laid as short runs on thin metal: one run, then lift and let it cool. Time is the number of runs × (arc + cooling), not length ÷ speed.</summary>
/// <remarks>About 9.5 mm (3/8 in) a run on a car's floor: common practice, no source.</remarks>
/// <param name="RunMm">Length of one run, over 0. The last run may be shorter and takes as long.</param>
/// <param name="ArcSeconds">Arc time of one run.</param>
/// <param name="CoolingSeconds">Waiting and moving on after each run.</param>
public sealed record ShortRuns(decimal RunMm, SecondsRange ArcSeconds, SecondsRange CoolingSeconds)
{
    /// <summary>How many runs a length takes.</summary>
    public decimal Count(decimal lengthMm) => decimal.Ceiling(lengthMm / RunMm);

    public MinutesRange For(decimal lengthMm)
    {
        var runs = Count(lengthMm);
        return new MinutesRange(
            runs * (ArcSeconds.Low + CoolingSeconds.Low) / 60,
            runs * (ArcSeconds.Likely + CoolingSeconds.Likely) / 60,
            runs * (ArcSeconds.High + CoolingSeconds.High) / 60
        );
    }
}

/// <summary>Low, likely and high seconds, rising.</summary>
public sealed record SecondsRange(decimal Low, decimal Likely, decimal High);
