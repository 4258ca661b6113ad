using ShopFloor.Domain.Common;
using ShopFloor.Domain.Forecast;
using ShopFloor.Domain.Planning;
using ShopFloor.Domain.Tests.Routing;

namespace ShopFloor.Domain.Tests.Forecast;

/// <summary>From a real job in a shop to a forecast of it.</summary>
public sealed class ForecastQuestionTests
{
    private static readonly string[] Known = ["fitter", "welder", "painter", "inspector"];

    [Fact]
    public void A_job_in_work_is_forecast_from_what_is_done_what_is_begun_and_what_is_left()
    {
        var shop = new JobShop().Through("60");
        Assert.True(shop.Start("70", JobShop.Ivo).IsSuccess);
        shop.Pass(TimeSpan.FromHours(1));
        PlanOrder[] orders =
        [
            new(
                shop.Job,
                "car",
                shop.Job.Operations.ToDictionary(o => o.Code, _ => 2m),
                shop.Facts,
                PlanWishes.Of(shop.Job.Id),
                true,
                null,
                new Dictionary<string, DateTimeOffset>()
            ),
        ];
        var plan = PlanBuilder.Build(
            Shop,
            ShopHours.Of(default),
            [new(JobShop.Mara, "Mara", Known, null), new(JobShop.Ivo, "Ivo", Known, null)],
            orders,
            shop.Now
        );
        var spreads = new Dictionary<JobId, IReadOnlyDictionary<string, double>>
        {
            [shop.Job.Id] = new Dictionary<string, double> { ["70"] = 0.17 },
        };

        var question = ForecastQuestion.Of(plan, orders, spreads, shop.Now);

        Assert.Equal(plan.Problem.Tasks.Count, question.Tasks.Count);
        var begun = question.Tasks[plan.Problem.Tasks.Index().Single(t => t.Item.Code == "70").Index];
        Assert.Equal((2.0, 1.0, 0.17), (begun.EstimatedHours, begun.LoggedHours, begun.StatedSpread));
        Assert.StartsWith("70 ", begun.Kind, StringComparison.Ordinal);
        Assert.All(
            question.Tasks.Where(t => t != begun),
            t => Assert.Equal((2.0, TaskSpread.Usual), (t.EstimatedHours, t.StatedSpread))
        );
        Assert.Equal(plan.Granted, question.Granted);
        var none = orders[0] with { Hours = new Dictionary<string, decimal>() };
        Assert.Equal(
            $"Nobody has estimated {question.Tasks.Count} of its operations; each is taken for a quarter hour.",
            ForecastQuestion.Of(plan, [none], spreads, shop.Now).Granted[^1].Text
        );
        var car = Assert.Single(question.Cars);
        Assert.Equal(shop.Job.Operations.Count - question.Tasks.Count, car.Done.Count);
        Assert.Contains(car.Done, o => o.Kind.StartsWith("60 ", StringComparison.Ordinal));

        var forecast = ShopForecast
            .Run(
                question,
                ShopSpread.Learn([], new SpreadPrior()),
                new ForecastSettings(100),
                cancel: TestContext.Current.CancellationToken
            )
            .Cars[0];
        Assert.Null(forecast.Why);
        Assert.True(forecast.P50 <= forecast.P85);
        Assert.True(forecast.P50Slot > DispatchPlan.Run(plan.Problem).Entries.Max(e => e.End) * 0.7);
    }

    private static Shop Shop { get; } =
        Domain
            .Common.Shop.Create(
                default,
                new Shop.Details("Test shop", null, null, null, null, null, null, "Etc/UTC", "mm", null, false),
                "EUR"
            )
            .Value;
}
