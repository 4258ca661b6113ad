using ShopFloor.Domain.Common;
using ShopFloor.Domain.Forecast;

namespace ShopFloor.Domain.Tests.Forecast;

public sealed class CalibrationTests
{
    private static readonly DateTimeOffset Made = new(2026, 3, 2, 8, 0, 0, TimeSpan.Zero);
    private static readonly DateOnly Day = new(2026, 4, 1);
    private static readonly DateOnly Today = new(2026, 6, 1);

    [Fact]
    public void It_is_said_how_many_were_done_by_their_days_and_what_so_few_can_tell()
    {
        var past = Enumerable.Range(0, 23).Select(i => Past(i, i < 20 ? 0 : 3)).ToList();
        var calibration = Calibration.Of(past, Today);

        Assert.Equal((23, 20), (calibration.P85.Cars, calibration.P85.Kept));
        Assert.Equal(
            "Of 23 cars forecast, 20 were done by their P85 day: 87 %; expected 85 %; the range for so few cars is 68 to 95 %.",
            calibration.P85.Sentence
        );
        Assert.True(calibration.P85.Fits);
        Assert.Equal((23, 0), (calibration.P50.Cars, calibration.P50.Kept));
        Assert.False(calibration.P50.Fits);
        Assert.EndsWith("so the forecasts promised too early.", calibration.P50.Sentence, StringComparison.Ordinal);
        Assert.Equal("No promised day that was forecast is over yet.", calibration.OnPromise.Sentence);
    }

    [Fact]
    public void Of_several_forecasts_of_a_car_the_first_counts_and_the_expected_share_is_what_they_said()
    {
        var first = Past(1, 1) with { ExpectedByP85 = 0.95, Promised = Day.AddDays(9), ShareOnPromise = 0.99 };
        var second = Past(1, 0) with { MadeAt = Made.AddDays(3), P85 = Day.AddDays(30) };
        var other = Past(2, 0) with { ExpectedByP85 = 0.87, P85 = null };

        var calibration = Calibration.Of([second, first, other], Today);

        Assert.Equal(2, calibration.Cars);
        Assert.Equal((1, 0, 0.95), (calibration.P85.Cars, calibration.P85.Kept, calibration.P85.Expected));
        Assert.Equal(
            (1, 1, 0.99),
            (calibration.OnPromise.Cars, calibration.OnPromise.Kept, calibration.OnPromise.Expected)
        );
        Assert.StartsWith(
            "Of 1 car forecast, 0 were done by its P85 day",
            calibration.P85.Sentence,
            StringComparison.Ordinal
        );
    }

    /// <summary>Looking at finished cars alone would count the quick ones first: a car that is still here when its day is over did not keep it, and one whose day is still to come says nothing, finished or not.</summary>
    [Fact]
    public void A_car_that_is_still_here_counts_once_its_day_is_over()
    {
        var quick = Past(1, -2);
        var late = Past(2, 0) with { FinishedOn = null };
        var early = Past(3, -20) with { P85 = Today, P50 = Today };
        var calibration = Calibration.Of([quick, late, early], Today);
        Assert.Equal((2, 1), (calibration.P85.Cars, calibration.P85.Kept));
        Assert.Equal(
            (0, 0),
            (Calibration.Of([quick, late], Day).P85.Cars, Calibration.Of([quick, late], Day).P85.Kept)
        );
    }

    [Fact]
    public void The_range_holds_the_true_share_in_95_of_100_samples()
    {
        var dice = new Dice(9);
        var held = Enumerable
            .Range(0, 2000)
            .Count(_ => Wilson.Interval(Enumerable.Range(0, 40).Count(_ => dice.Share() < 0.85), 40).Contains(0.85));
        Assert.InRange(held / 2000.0, 0.93, 0.98);
    }

    /// <summary>Finished so many days after its P85 day.</summary>
    private static PastForecast Past(int car, int late) =>
        new(
            JobId.From(new Guid(car + 1, 0, 0x7000, 0x80, 0, 0, 0, 0, 0, 0, 0)),
            Made,
            Day.AddDays(-10),
            Day,
            null,
            null,
            null,
            null,
            Day.AddDays(late)
        );
}
