using System.Globalization;
using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Forecast;

/// <summary>A forecast and what came of it.</summary>
/// <param name="ExpectedByP50">What it said of being done by the end of its P50 day, see <see cref="JobForecast.ShareByP50"/>; null for a half.</param>
/// <param name="ShareOnPromise">What it said of being done by the promised day.</param>
/// <param name="FinishedOn">The local day of the car's sign-off; null while it is not finished.</param>
public sealed record PastForecast(
    JobId Job,
    DateTimeOffset MadeAt,
    DateOnly? P50,
    DateOnly? P85,
    double? ExpectedByP50,
    double? ExpectedByP85,
    DateOnly? Promised,
    double? ShareOnPromise,
    DateOnly? FinishedOn
)
{
    public static PastForecast Of(JobForecast forecast, DateOnly? finishedOn)
    {
        ArgumentNullException.ThrowIfNull(forecast);
        return new PastForecast(
            forecast.Job,
            forecast.MadeAt,
            forecast.P50,
            forecast.P85,
            forecast.ShareByP50,
            forecast.ShareByP85,
            forecast.Promised,
            forecast.ShareOnPromise,
            finishedOn
        );
    }
}

/// <summary>How many of the cars that were forecast kept a day.</summary>
/// <param name="Cars">Those for which the forecast named such a day that is over, finished or not: who looked at finished cars alone would see the quick ones first.</param>
/// <param name="Kept">Finished on or before it.</param>
/// <param name="Expected">Mean of what the forecasts said: a whole day is a little more than the percentile it is named after.</param>
/// <param name="Range">95 % interval of the share (Wilson); null without cars.</param>
public sealed record KeptShare(string Day, int Cars, int Kept, double Expected, ShareRange? Range)
{
    public double? Share => Cars == 0 ? null : Kept / (double)Cars;

    /// <summary>What was said lies within what so many cars can tell; null without cars.</summary>
    public bool? Fits => Range?.Contains(Expected);

    /// <summary>E.g. "Of 23 cars forecast, 20 were done by their P85 day: 87 %; expected 86 %; the range for so few cars is 68 to 95 %."</summary>
    public string Sentence =>
        Range is not { } range
            ? $"No {Day} that was forecast is over yet."
            : $"Of {Cars} {(Cars == 1 ? "car" : "cars")} forecast, {Kept} {(Kept == 1 ? "was" : "were")} done by {(Cars == 1 ? "its" : "their")} {Day}: {Percent(Share!.Value)} %; expected {Percent(Expected)} %; "
                + $"the range for {(Cars < Few ? "so few" : "so many")} cars is {Percent(range.Low)} to {Percent(range.High)} %"
                + (
                    Fits == true ? "."
                    : Share < Expected ? ", so the forecasts promised too early."
                    : ", so the forecasts promised later than they needed to."
                );

    private const int Few = 100;

    private static string Percent(double share) => Math.Round(100 * share).ToString(CultureInfo.InvariantCulture);
}

/// <summary>Holds past forecasts against what came.</summary>
/// <param name="OnPromise">Cars with a promised day, held against the chances that were told for it.</param>
/// <param name="Cars">Cars of which a forecast was kept.</param>
public sealed record Calibration(int Cars, KeptShare P50, KeptShare P85, KeptShare OnPromise)
{
    /// <param name="forecasts">Of several forecasts of one car the first counts: later ones know more, and a car counts once.</param>
    /// <param name="today">A day counts when it is over; a car that is not finished then did not keep it.</param>
    public static Calibration Of(IEnumerable<PastForecast> forecasts, DateOnly today)
    {
        ArgumentNullException.ThrowIfNull(forecasts);
        var first = forecasts.GroupBy(f => f.Job).Select(g => g.MinBy(f => f.MadeAt)!).ToList();
        return new Calibration(
            first.Count,
            Kept("P50 day", first.Select(f => (f.P50, f.ExpectedByP50 ?? FinishDays.Middle, f.FinishedOn)), today),
            Kept("P85 day", first.Select(f => (f.P85, f.ExpectedByP85 ?? FinishDays.Sure, f.FinishedOn)), today),
            Kept(
                "promised day",
                first
                    .Where(f => f.ShareOnPromise is not null)
                    .Select(f => (f.Promised, f.ShareOnPromise!.Value, f.FinishedOn)),
                today
            )
        );
    }

    private static KeptShare Kept(
        string name,
        IEnumerable<(DateOnly? Day, double Expected, DateOnly? Finished)> all,
        DateOnly today
    )
    {
        var counted = all.Where(f => f.Day < today).ToList();
        var kept = counted.Count(f => f.Finished <= f.Day);
        return counted.Count == 0
            ? new KeptShare(name, 0, 0, 0, null)
            : new KeptShare(
                name,
                counted.Count,
                kept,
                counted.Average(f => f.Expected),
                Wilson.Interval(kept, counted.Count)
            );
    }
}
