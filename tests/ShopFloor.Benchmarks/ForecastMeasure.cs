using System.Diagnostics;
using System.Globalization;
using ShopFloor.Domain.Forecast;
using ShopFloor.Domain.Planning;
using ShopFloor.Domain.Tests.Planning;

namespace ShopFloor.Benchmarks;

/// <summary>How long a forecast of a full shop takes.</summary>
internal static class ForecastMeasure
{
    private const int Rounds = 7;

    public static void Write(TextWriter to)
    {
        foreach (var (cars, operations) in new[] { (4, 12), (15, 20), (40, 20) })
        {
            var problem = RandomShop.Make(4, cars, operations, WorkAxis.MostDays);
            var question = new ForecastQuestion(
                problem,
                [.. problem.Tasks.Select(t => new ForecastTask(t.Code, t.Slots / 4.0, 0, 0.2))],
                [.. problem.Jobs.Select(j => new ForecastCar(j.Id, j.Number, null, []))],
                []
            );
            var shop = ShopSpread.Learn([], new SpreadPrior());
            ShopForecast.Run(question, shop, new ForecastSettings());
            var forecast = Median(() => ShopForecast.Run(question, shop, new ForecastSettings()));
            var plan = Median(() => DispatchPlan.Run(problem));
            to.WriteLine(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"{cars} cars of {operations} operations: {ForecastSettings.UsualTrials} trials {forecast:0} ms, one plan by the plain rule {plan:0.0} ms, {forecast / plan:0} times"
                )
            );
        }
    }

    private static double Median(Action run) =>
        Enumerable
            .Range(0, Rounds)
            .Select(_ =>
            {
                var watch = Stopwatch.StartNew();
                run();
                return watch.Elapsed.TotalMilliseconds;
            })
            .Order()
            .ElementAt(Rounds / 2);
}
