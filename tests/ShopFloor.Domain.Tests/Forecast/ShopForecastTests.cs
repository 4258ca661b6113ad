using ShopFloor.Domain.Common;
using ShopFloor.Domain.Forecast;
using ShopFloor.Domain.Planning;
using ShopFloor.Domain.Tests.Planning;
using Reference = MathNet.Numerics.Distributions;

namespace ShopFloor.Domain.Tests.Forecast;

public sealed class ShopForecastTests
{
    private const double CarSpread = 0.3;

    /// <summary>A shop that is known exactly.</summary>
    private static readonly ShopSpread Known = ShopSpread.Learn([], new SpreadPrior(CarSpread, 1e-9, 1e-9));
    private static readonly PlanPerson Somebody = new(default, "A", ["fitter"], []);

    [Fact]
    public void One_operation_of_one_car_ends_where_the_log_normal_says()
    {
        var question = Chain(200, new ForecastTask("fit", 50, 0, 0.4));
        var car = Run(question, Known, new ForecastSettings(10_000, 3)).Cars[0];

        // The car's factor has its median at 1, the operation's its mean.
        var hours = new Reference.LogNormal(
            Math.Log(50) - (0.4 * 0.4 / 2),
            Math.Sqrt((CarSpread * CarSpread) + (0.4 * 0.4))
        );
        Assert.Equal(4 * hours.InverseCumulativeDistribution(0.5), car.P50Slot!.Value, 4.0);
        Assert.Equal(4 * hours.InverseCumulativeDistribution(0.85), car.P85Slot!.Value, 8.0);
        var axis = question.Problem.Axis;
        Assert.Equal(axis.DayOf((int)Math.Ceiling(car.P85Slot.Value) - 1).Day, car.P85);
        Assert.Equal(hours.CumulativeDistribution(axis.EndOfDay(car.P85!.Value) / 4.0), car.ShareByP85!.Value, 0.02);
        Assert.Equal(hours.CumulativeDistribution(10 * 8), car.ShareOnPromise!.Value, 0.02);
    }

    [Fact]
    public void Begun_work_takes_what_it_takes_beyond_what_is_logged()
    {
        var question = Chain(200, new ForecastTask("fit", 20, 24, 0.4));
        var car = Run(question, Known, new ForecastSettings(10_000, 3)).Cars[0];

        var hours = new Reference.LogNormal(
            Math.Log(20) - (0.4 * 0.4 / 2),
            Math.Sqrt((CarSpread * CarSpread) + (0.4 * 0.4))
        );
        var logged = hours.CumulativeDistribution(24);
        double Left(double share) => hours.InverseCumulativeDistribution(logged + (share * (1 - logged))) - 24;
        Assert.Equal(4 * Left(0.5), car.P50Slot!.Value, 1.5);
        Assert.Equal(4 * Left(0.85), car.P85Slot!.Value, 4.0);
    }

    [Fact]
    public void What_is_done_of_a_car_says_how_the_rest_will_go()
    {
        WorkedOperation[] slow = [new("fit", 40, 60, 0.05)];
        var question = Chain(200, new ForecastTask("weld", 40, 0, 0.05));
        question = question with { Cars = [question.Cars[0] with { Done = slow }] };
        var car = Run(question, Known, new ForecastSettings(4000, 3)).Cars[0];

        // Product of two normals, by hand: the car's own hours weigh 0.3² against 0.05².
        var weight = 0.09 / (0.09 + (0.05 * 0.05));
        var factor = Math.Exp(weight * (Math.Log(1.5) + 0.00125));
        Assert.Equal(160 * factor * Math.Exp(-0.00125), car.P50Slot!.Value, 1.5);
    }

    [Fact]
    public void The_same_seed_gives_the_same_forecast_and_another_seed_nearly_the_same()
    {
        var question = Random(7);
        var shop = ShopSpread.Learn([], new SpreadPrior());
        var first = Run(question, shop, new ForecastSettings(Seed: 5));
        Assert.Equal(first.Cars, Run(question, shop, new ForecastSettings(Seed: 5)).Cars);
        var other = Run(question, shop, new ForecastSettings(Seed: 6));
        Assert.NotEqual(first.Cars, other.Cars);
        foreach (var (one, two) in first.Cars.Zip(other.Cars))
        {
            Assert.InRange(two.P50Slot!.Value / one.P50Slot!.Value, 0.85, 1.18);
            Assert.True(one.P50 <= one.P85);
            Assert.True(one.ShareByP50 >= 0.5 && one.ShareByP85 >= 0.85);
        }
    }

    [Fact]
    public void Hours_that_are_certain_give_the_plain_plan()
    {
        var question = Random(12);
        question = question with { Tasks = [.. question.Tasks.Select(t => t with { EstimatedHours = 0 })] };
        var plan = DispatchPlan.Run(question.Problem);
        var result = Run(question, Known, new ForecastSettings(20));
        Assert.Empty(plan.LeftOut);
        Assert.Empty(plan.GivenUp);
        foreach (var (car, j) in result.Cars.Select((c, j) => (c, j)))
        {
            var end = plan.Entries.Where(e => question.Problem.Tasks[e.Task].Job == j).Max(e => e.End);
            Assert.Equal(end, car.P50Slot);
            Assert.Equal(end, car.P85Slot);
        }
    }

    [Fact]
    public void What_ends_after_the_last_day_looked_at_is_said_to_and_not_clipped()
    {
        var car = Run(Chain(7, new ForecastTask("fit", 50, 0, 0.4)), Known, new ForecastSettings()).Cars[0];

        Assert.NotNull(car.P50);
        Assert.Null(car.P85);
        Assert.InRange(car.Later, 100, 190);
        var kept = new JobForecast(
            car.Job,
            RandomShop.Monday,
            1,
            400,
            car.P50,
            car.P85,
            car.ShareByP50,
            car.ShareByP85,
            car.Promised,
            car.ShareOnPromise,
            car.LastDay!.Value,
            new ForecastInputs(1, 1, 50, 0, 1, 0.2)
        );
        Assert.Contains(
            "for 85 of 100 cases the day is later than 2026-03-10, the last day looked at",
            ForecastWords.Sentence(kept),
            StringComparison.Ordinal
        );
        // The promised day lies beyond what was looked at, so nothing is said of it.
        Assert.Null(car.ShareOnPromise);
    }

    [Fact]
    public void What_is_done_within_a_day_and_takes_longer_goes_on_the_next_day()
    {
        var question = Chain(60, new ForecastTask("fit", 7, 0, 0.5));
        question = question with
        {
            Problem = question.Problem with
            {
                Tasks = [question.Problem.Tasks[0] with { Slots = 28, InOneDay = true }],
            },
        };
        var result = Run(question, Known, new ForecastSettings(2000));

        var hours = new Reference.LogNormal(
            Math.Log(7) - (0.5 * 0.5 / 2),
            Math.Sqrt((CarSpread * CarSpread) + (0.5 * 0.5))
        );
        Assert.Equal(1 - hours.CumulativeDistribution(8), result.Cut / 2000.0, 0.03);
        Assert.Equal(0, result.Cars[0].Later);
        Assert.Equal(question.Problem.Axis.Days[0].Day, result.Cars[0].P50);
        Assert.Equal(question.Problem.Axis.Days[1].Day, result.Cars[0].P85);
    }

    [Fact]
    public void Work_in_hand_goes_on_when_whoever_is_at_it_is_back()
    {
        var question = Chain(60, new ForecastTask("fit", 10, 0, 0.05));
        var problem = question.Problem with
        {
            People = [Somebody with { Away = [(8, 64)] }, Somebody],
            Tasks = [question.Problem.Tasks[0] with { Slots = 8, Begun = true }],
        };
        var car = Run(
            question with
            {
                Problem = problem,
            },
            ShopSpread.Learn([], new SpreadPrior(0.01, 1e-9, 1e-9)),
            new ForecastSettings(200)
        ).Cars[0];
        // Two hours of ten are done before the person goes; the other eight, 32 quarter hours, after the second day.
        Assert.InRange(car.P50Slot!.Value, 64 + 29, 64 + 35);
    }

    [Fact]
    public void A_car_that_cannot_be_planned_has_the_plans_reason()
    {
        var question = Chain(60, new ForecastTask("fit", 10, 0, 0.2));
        question = question with
        {
            Problem = question.Problem with { Tasks = [question.Problem.Tasks[0] with { People = [] }] },
        };
        var result = Run(question, Known, new ForecastSettings(20));
        Assert.Contains("nobody who is at work", result.Cars[0].Why, StringComparison.Ordinal);
        Assert.Empty(JobForecast.Of(question, result, RandomShop.Monday));
    }

    [Fact]
    public void A_set_beginning_is_kept_or_comes_as_soon_after_as_can_be()
    {
        var question = Chain(100, new ForecastTask("fit", 8, 0, 0.05), new ForecastTask("weld", 8, 0, 0.05));
        var at = question.Problem.Axis.Days[10].FirstSlot;
        PlanTask[] tasks = [question.Problem.Tasks[0], question.Problem.Tasks[1] with { Fixed = at }];
        question = question with { Problem = question.Problem with { Tasks = tasks } };
        var car = Run(question, Known, new ForecastSettings()).Cars[0];
        Assert.Equal(at + 32, car.P50Slot!.Value, 3.0);
    }

    [Fact]
    public void It_says_how_far_it_is_and_can_be_called_off()
    {
        var seen = new Seen();
        Run(Random(3), Known, new ForecastSettings(40), seen);
        Assert.Equal(1, seen.Shares[^1]);
        Assert.Equal(seen.Shares.Order(), seen.Shares);
        Assert.True(seen.Shares.Count >= 5);

        using var source = new CancellationTokenSource();
        source.Cancel();
        Assert.Throws<OperationCanceledException>(() =>
            ShopForecast.Run(Random(3), Known, new ForecastSettings(40), null, source.Token)
        );
        Assert.Throws<ArgumentOutOfRangeException>(() => Run(Random(3), Known, new ForecastSettings(3)));
    }

    [Fact]
    public void A_forecast_is_kept_with_what_it_was_made_from_and_said_in_words()
    {
        var question = Chain(200, new ForecastTask("fit", 50, 10, 0.2), new ForecastTask("weld", 5, 7, 0.2));
        var result = Run(question, Known, new ForecastSettings());
        var kept = Assert.Single(JobForecast.Of(question, result, RandomShop.Monday));

        Assert.Equal((1, 400, 2), (kept.Seed, kept.Trials, kept.Inputs.OperationsLeft));
        Assert.Equal(40, kept.Inputs.HoursLeft);
        Assert.Equal(
            $"As likely done by {kept.P50:yyyy-MM-dd} as not; in 85 of 100 cases done by {kept.P85:yyyy-MM-dd}. Promised for 2026-03-13: kept in {Math.Round(100 * kept.ShareOnPromise!.Value)} of 100.",
            ForecastWords.Sentence(kept)
        );
        Assert.Contains("No finished car", ForecastWords.Basis(kept.Inputs), StringComparison.Ordinal);
        Assert.Contains(
            "12 % more hours than estimated",
            ForecastWords.Basis(kept.Inputs with { CarsLearnedFrom = 9, Bias = 1.12 }),
            StringComparison.Ordinal
        );
        Assert.Equal(5, ForecastWords.TakenForGranted.Count);
    }

    private static ShopForecastResult Run(
        ForecastQuestion question,
        ShopSpread shop,
        ForecastSettings settings,
        IProgress<double>? progress = null
    ) => ShopForecast.Run(question, shop, settings, progress, TestContext.Current.CancellationToken);

    private static ForecastQuestion Chain(int days, params ForecastTask[] tasks)
    {
        var problem = new PlanProblem(
            RandomShop.Axis(days, 32),
            [Somebody],
            [new("bay-1", "bay 1", "bay", "hall")],
            [new PlanJob(default, "J-1", "car", null, 2, null, true, [])],
            [
                .. tasks.Select(
                    (t, i) =>
                        new PlanTask(
                            0,
                            $"{(i + 1) * 10}",
                            t.Kind,
                            Phase.FinalWeld,
                            Math.Max(1, (int)(t.EstimatedHours - t.LoggedHours) * 4),
                            [0],
                            [0],
                            i == 0 ? [] : [new PlanBefore(i - 1, 0)],
                            0
                        )
                ),
            ]
        );
        return new ForecastQuestion(
            problem,
            tasks,
            [new ForecastCar(default, "J-1", new DateOnly(2026, 3, 13), [])],
            []
        );
    }

    private static ForecastQuestion Random(int seed)
    {
        var problem = RandomShop.Make(seed, 4, 6, days: 150);
        return new ForecastQuestion(
            problem,
            [.. problem.Tasks.Select(t => new ForecastTask(t.Code, t.Slots / 4.0, 0, 0.2))],
            [.. problem.Jobs.Select(j => new ForecastCar(j.Id, j.Number, null, []))],
            []
        );
    }

    private sealed class Seen : IProgress<double>
    {
        public List<double> Shares { get; } = [];

        public void Report(double value) => Shares.Add(value);
    }
}
