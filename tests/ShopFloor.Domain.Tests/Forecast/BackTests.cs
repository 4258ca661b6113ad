using ShopFloor.Domain.Forecast;

namespace ShopFloor.Domain.Tests.Forecast;

/// <summary>Forecasts of cars whose end is known: the forecaster sees estimates and history only, and learns as cars finish.</summary>
/// <remarks>
/// A day is longer than a quarter hour: by the end of the day on which the 85 % quarter hour lies a little more than 85 % are done, the more the surer the
/// forecast is. So the share is judged on the quarter hour, on the day, and against what each forecast said of its day.
/// </remarks>
public sealed class BackTests(ITestOutputHelper output)
{
    private const int Trials = 80;

    /// <param name="isWide">The end of a car is so unsure that a day is little beside it.</param>
    [Theory]
    [InlineData("cars and operations that differ little, hours as estimated", 1.0, 0.15, 1.0, false)]
    [InlineData("cars that differ, operations twice as unsure as stated, a third more hours", 1.35, 0.35, 2.0, true)]
    [InlineData("operations three times as unsure as stated, fewer hours than estimated", 0.85, 0.25, 3.0, true)]
    public void Of_two_thousand_cars_85_of_100_are_done_by_their_P85_day(
        string what,
        double bias,
        double carSpread,
        double taskTimes,
        bool isWide
    )
    {
        var shop = new HiddenShop(new Truth(bias, carSpread, taskTimes), 11);
        var tally = new Tally();
        while (tally.Cars < 2000)
        {
            Look(shop, tally);
        }

        Report(what, tally);
        Assert.InRange(tally.Share(tally.P85Slot), 0.82, 0.88);
        Assert.InRange(tally.Share(tally.P85Day), 0.82, isWide ? 0.88 : 0.9);
        Assert.InRange(tally.Share(tally.P50Slot), 0.46, 0.54);
        Assert.InRange(tally.Share(tally.P85Day) - (tally.Expected85 / tally.Cars), -0.02, 0.02);
        var learned = ShopSpread.Learn(shop.History, new SpreadPrior());
        Assert.Equal(bias, learned.Bias, 0.08);
        Assert.Equal(carSpread, learned.CarSpread, 0.05);
        Assert.Equal(taskTimes * 0.2, learned.SpreadOf("weld", 0.2), 0.06);
    }

    [Fact]
    public void Of_the_first_cars_of_many_shops_that_know_little_of_themselves_85_of_100_are_done_by_their_P85_day()
    {
        var tally = new Tally();
        for (var seed = 0; tally.Cars < 1200; seed++)
        {
            // Shops differ as the prior says that they do.
            var prior = new SpreadPrior();
            var dice = new Dice(seed);
            var truth = new Truth(
                Math.Exp(prior.Bias * dice.Normal()),
                Math.Min(0.6, prior.CarSpread * Math.Exp(prior.CarSpreadDoubt * dice.Normal())),
                0.7 + dice.Share()
            );
            var shop = new HiddenShop(truth, 1000 + seed);
            for (var look = 0; look < 5; look++)
            {
                Look(shop, tally);
            }
        }

        Report("new shops", tally);
        Assert.InRange(tally.Share(tally.P85Slot), 0.82, 0.88);
        Assert.InRange(tally.Share(tally.P85Day), 0.82, 0.88);
    }

    private static void Look(HiddenShop shop, Tally tally)
    {
        var learned = ShopSpread.Learn(shop.History, new SpreadPrior());
        var (question, ends) = shop.Meet();
        var result = ShopForecast.Run(question, learned, new ForecastSettings(Trials, tally.Cars + 1));
        foreach (var (forecast, end) in result.Cars.Zip(ends))
        {
            tally.Add(forecast, end, question.Problem.Axis.DayOf(end - 1).Day);
        }
    }

    private void Report(string what, Tally tally) =>
        output.WriteLine(
            $"{what}: {tally.Cars} cars; by P50 slot {tally.Share(tally.P50Slot):P1}, day {tally.Share(tally.P50Day):P1} (said {tally.Expected50 / tally.Cars:P1}); by P85 slot {tally.Share(tally.P85Slot):P1}, day {tally.Share(tally.P85Day):P1} (said {tally.Expected85 / tally.Cars:P1})"
        );

    private sealed class Tally
    {
        public int Cars { get; private set; }
        public int P50Slot { get; private set; }
        public int P85Slot { get; private set; }
        public int P50Day { get; private set; }
        public int P85Day { get; private set; }
        public double Expected50 { get; private set; }
        public double Expected85 { get; private set; }

        public double Share(int count) => count / (double)Cars;

        public void Add(CarForecast forecast, int end, DateOnly day)
        {
            Cars++;
            P50Slot += end <= forecast.P50Slot ? 1 : 0;
            P85Slot += end <= forecast.P85Slot ? 1 : 0;
            P50Day += day <= forecast.P50 ? 1 : 0;
            P85Day += day <= forecast.P85 ? 1 : 0;
            Expected50 += forecast.ShareByP50 ?? 0;
            Expected85 += forecast.ShareByP85 ?? 0;
        }
    }
}
