using ShopFloor.Domain.Common;
using ShopFloor.Domain.Forecast;

namespace ShopFloor.Application.Forecasting;

/// <summary>When a car will be done, as last forecast.</summary>
/// <param name="P50">As likely done by this day as not; null: later than <paramref name="LastDay"/>.</param>
/// <param name="P85">Done by this day in 85 of 100 cases.</param>
/// <param name="Sentence">The same in words.</param>
/// <param name="Basis">What was learned from.</param>
public sealed record ForecastView(
    JobId JobId,
    string Job,
    string Car,
    DateTimeOffset MadeAt,
    int Trials,
    int Seed,
    DateOnly? P50,
    DateOnly? P85,
    DateOnly? Promised,
    double? ShareOnPromise,
    DateOnly LastDay,
    ForecastInputs Inputs,
    string Sentence,
    string Basis
)
{
    internal static ForecastView Of(KeptForecast kept, string job, string car)
    {
        var said = kept.Said;
        return new(
            said.Job,
            job,
            car,
            said.MadeAt,
            said.Trials,
            said.Seed,
            said.P50,
            said.P85,
            said.Promised,
            said.ShareOnPromise,
            said.LastDay,
            said.Inputs,
            ForecastWords.Sentence(said),
            ForecastWords.Basis(said.Inputs)
        );
    }
}

/// <summary>How good past forecasts were.</summary>
/// <param name="Days">P50 day, P85 day, promised day: how many cars kept it, against what the forecasts said.</param>
public sealed record CalibrationView(int Cars, IReadOnlyList<KeptShareView> Days);

public sealed record KeptShareView(
    string Day,
    int Cars,
    int Kept,
    double Expected,
    double? Low,
    double? High,
    bool? Fits,
    string Sentence
)
{
    internal static KeptShareView Of(KeptShare s) =>
        new(s.Day, s.Cars, s.Kept, s.Expected, s.Range?.Low, s.Range?.High, s.Fits, s.Sentence);
}

/// <summary>The forecasts of all open cars, and how good past ones were.</summary>
/// <param name="Without">Numbers of open jobs of which the newest run could say nothing: nobody can do what is left, or it does not fit in.</param>
public sealed record ForecastsView(
    IReadOnlyList<ForecastView> Cars,
    IReadOnlyList<string> Without,
    CalibrationView Calibration,
    IReadOnlyList<string> TakenForGranted
);
