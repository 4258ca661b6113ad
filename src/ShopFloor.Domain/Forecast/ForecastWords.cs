using System.Globalization;
using ShopFloor.Domain.Planning;

namespace ShopFloor.Domain.Forecast;

/// <summary>Says a forecast in plain words.</summary>
public static class ForecastWords
{
    /// <summary>What every forecast takes for granted.</summary>
    public static IReadOnlyList<string> TakenForGranted { get; } =
    [
        "People, places, hours and days off stay as they are entered, and work goes by the plan's plain rule: begun cars first, then by how pressing they are and their promised days.",
        "No further car comes in, and nothing is added to the cars that are here, beyond what such work has added to finished ones.",
        "Parts, stock and decisions come on the days the plan takes for them; that they come late is not drawn.",
        "Cars differ as the shop's finished ones did, and operations as their low, likely and high hours say, corrected by what was logged.",
        "What takes longer than somebody is there in a row goes on when they are back.",
    ];

    /// <summary>E.g. "As likely before as after 2026-03-12; in 85 of 100 cases done by 2026-03-18. Promised for 2026-03-20: kept in 93 of 100."</summary>
    public static string Sentence(JobForecast forecast)
    {
        ArgumentNullException.ThrowIfNull(forecast);
        var middle = forecast.P50 is { } p50
            ? $"As likely done by {Day(p50)} as not"
            : $"More likely than not done only after {Day(forecast.LastDay)}, the last day looked at";
        var sure =
            forecast.P85 is { } p85 ? $"; in 85 of 100 cases done by {Day(p85)}."
            : forecast.P50 is null ? "."
            : $"; for 85 of 100 cases the day is later than {Day(forecast.LastDay)}, the last day looked at.";
        var promise = (forecast.Promised, forecast.ShareOnPromise) switch
        {
            ({ } day, { } share) => $" Promised for {Day(day)}: kept in {Hundreds(share)} of 100.",
            ({ } day, null) => $" Promised for {Day(day)}, which lies after the last day looked at.",
            _ => "",
        };
        return middle + sure + promise;
    }

    /// <summary>E.g. "Learned from 23 finished cars: they took 12 % more hours than estimated in the middle, and two of three lay within 20 % of that."</summary>
    public static string Basis(ForecastInputs inputs)
    {
        ArgumentNullException.ThrowIfNull(inputs);
        var off = (int)Math.Round(100 * (inputs.Bias - 1));
        var bias =
            off == 0 ? "as many hours as estimated"
            : off > 0 ? $"{off} % more hours than estimated"
            : $"{-off} % fewer hours than estimated";
        var spread = (int)Math.Round(100 * (Math.Exp(inputs.CarSpread) - 1));
        return inputs.CarsLearnedFrom == 0
            ? $"No finished car with logged hours is known yet: cars are taken to need as many hours as estimated, with two of three within {spread} %."
            : $"Learned from {inputs.CarsLearnedFrom} finished {(inputs.CarsLearnedFrom == 1 ? "car" : "cars")}: a car in the middle takes {bias}, and two of three lie within {spread} % of that.";
    }

    internal static string Day(DateOnly day) => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    /// <summary>Whole hundredths, none said to be certain that is not.</summary>
    private static int Hundreds(double share) =>
        share is > 0 and < 1 ? Math.Clamp((int)Math.Round(100 * share), 1, 99) : (int)(100 * share);
}
