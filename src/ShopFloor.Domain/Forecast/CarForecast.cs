using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Forecast;

/// <summary>When a car will be done, as far as can be said.</summary>
/// <param name="P50">The day by whose end it is done in half of the trials; null where that lies after the last day looked at.</param>
/// <param name="P85">The same for 85 of 100 trials.</param>
/// <param name="P50Slot">The first quarter hour, on the plan's axis, at which it is done in half of the trials; the day is that on which this lies, rounded up.</param>
/// <param name="ShareByP50">Trials done by the end of that day: a little more than half, because a day is long.</param>
/// <param name="ShareOnPromise">Trials done on or before the promised day; null where none was promised, or where that day lies after the last one looked at and some trials do too.</param>
/// <param name="Later">Trials in which it is not done by the last day looked at.</param>
/// <param name="LastDay">The last day looked at; null where there is none.</param>
/// <param name="Why">Why nothing can be said of it; null otherwise.</param>
public sealed record CarForecast(
    JobId Job,
    string Number,
    DateOnly? Promised,
    DateOnly? P50,
    DateOnly? P85,
    double? P50Slot,
    double? P85Slot,
    double? ShareByP50,
    double? ShareByP85,
    double? ShareOnPromise,
    int Later,
    DateOnly? LastDay,
    string? Why
);

/// <param name="Cars">One for each job of the question, in its order.</param>
/// <param name="Cut">Trials in which an operation took longer than it can be done in one go, and went on another day.</param>
public sealed record ShopForecastResult(
    int Seed,
    int Trials,
    IReadOnlyList<CarForecast> Cars,
    ShopSpread Spread,
    int Cut
);

/// <param name="Trials">From <see cref="LeastTrials"/> to <see cref="MostTrials"/>.</param>
/// <param name="Seed">The same seed and question: the same forecast.</param>
public sealed record ForecastSettings(int Trials = ForecastSettings.UsualTrials, int Seed = 1)
{
    public const int LeastTrials = 20;
    public const int UsualTrials = 400;
    public const int MostTrials = 10_000;
}

/// <summary>How a trial came out.</summary>
/// <param name="Entries">Every operation that found its place, cut ones in several pieces.</param>
/// <param name="Later">Jobs that found no end within the days looked at.</param>
public sealed record ForecastTrial(IReadOnlyList<Planning.PlanEntry> Entries, IReadOnlyList<int> Later);
