using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Forecast;

/// <summary>What a forecast was made from, in figures.</summary>
/// <param name="CarsInShop">Cars that were worked through together.</param>
/// <param name="OperationsLeft">Of this car.</param>
/// <param name="HoursLeft">Of this car by its estimate, what is logged taken off.</param>
/// <param name="CarsLearnedFrom">Finished cars that say how far hours lie from estimates.</param>
/// <param name="Bias">Median of logged ÷ estimated hours of whole cars, as learned.</param>
/// <param name="CarSpread">Log-spread of whole cars, as learned.</param>
public sealed record ForecastInputs(
    int CarsInShop,
    int OperationsLeft,
    double HoursLeft,
    int CarsLearnedFrom,
    double Bias,
    double CarSpread
);

/// <summary>A forecast of one car as it is kept, to be held against what came.</summary>
/// <param name="P50">Null where it lay after <paramref name="LastDay"/>.</param>
/// <param name="ShareByP50">What the forecast said of being done by the end of that day.</param>
/// <param name="LastDay">The last day looked at.</param>
public sealed record JobForecast(
    JobId Job,
    DateTimeOffset MadeAt,
    int Seed,
    int Trials,
    DateOnly? P50,
    DateOnly? P85,
    double? ShareByP50,
    double? ShareByP85,
    DateOnly? Promised,
    double? ShareOnPromise,
    DateOnly LastDay,
    ForecastInputs Inputs
)
{
    /// <summary>Those of a result that say something, to be kept.</summary>
    public static IReadOnlyList<JobForecast> Of(
        ForecastQuestion question,
        ShopForecastResult result,
        DateTimeOffset madeAt
    )
    {
        ArgumentNullException.ThrowIfNull(question);
        ArgumentNullException.ThrowIfNull(result);
        var tasks = question.Problem.TasksByJob();
        return
        [
            .. result
                .Cars.Index()
                .Where(c => c.Item is { Why: null, LastDay: not null })
                .Select(c => new JobForecast(
                    c.Item.Job,
                    madeAt,
                    result.Seed,
                    result.Trials,
                    c.Item.P50,
                    c.Item.P85,
                    c.Item.ShareByP50,
                    c.Item.ShareByP85,
                    c.Item.Promised,
                    c.Item.ShareOnPromise,
                    c.Item.LastDay!.Value,
                    new ForecastInputs(
                        result.Cars.Count,
                        tasks[c.Index].Count(),
                        Math.Round(tasks[c.Index].Sum(t => HoursLeft(question.Tasks[t])), 2),
                        result.Spread.Cars,
                        Math.Round(result.Spread.Bias, 4),
                        Math.Round(result.Spread.CarSpread, 4)
                    )
                )),
        ];
    }

    private static double HoursLeft(ForecastTask task) => Math.Max(0, task.EstimatedHours - task.LoggedHours);
}
