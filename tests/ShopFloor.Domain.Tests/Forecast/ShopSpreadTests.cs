using MathNet.Numerics.Integration;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Forecast;
using ShopFloor.Domain.Quoting;
using ShopFloor.Domain.Tests.Quoting;

namespace ShopFloor.Domain.Tests.Forecast;

/// <summary>What is learned from finished cars, held against the same belief integrated numerically with MathNet.</summary>
public sealed class ShopSpreadTests
{
    private static readonly SpreadPrior Prior = new();

    [Fact]
    public void Without_cars_the_prior_stands()
    {
        var shop = ShopSpread.Learn([], Prior);

        Assert.Equal(1, shop.Bias, 1e-12);
        Assert.Equal(0, shop.Cars);
        // Mean of the log-normal belief, a little under exp(0.7²/2) because it is cut at three deviations.
        Assert.Equal(Prior.CarSpread * Math.Exp(0.7 * 0.7 / 2), shop.CarSpread, 0.01);
        Assert.Equal(0.2, shop.SpreadOf("any", 0.2), 1e-12);
    }

    [Fact]
    public void Bias_and_car_spread_are_those_of_the_belief_integrated_numerically()
    {
        double[] logs = [0.31, 0.12, -0.05, 0.4, 0.22];
        var shop = ShopSpread.Learn([.. logs.Select(l => One(Math.Exp(l)))], Prior);

        // One operation a car: nothing is learned of operations, so the car's variance from them is that stated.
        const double Own = 0.1 * 0.1;
        double Joint(double u, double z)
        {
            var (mean, spread) = (Prior.Bias * u, Prior.CarSpread * Math.Exp(Prior.CarSpreadDoubt * z));
            var v = (spread * spread) + Own;
            return Math.Exp(
                -(u * u / 2)
                    - (z * z / 2)
                    - logs.Sum(l => ((l + (Own / 2) - mean) * (l + (Own / 2) - mean) / v) + Math.Log(v)) / 2
            );
        }

        double Whole(Func<double, double, double> of) =>
            GaussLegendreRule.Integrate((u, z) => of(u, z) * Joint(u, z), -6, 6, -3, 3, 128);
        var total = Whole((_, _) => 1);
        Assert.Equal(Whole((u, _) => Prior.Bias * u) / total, Math.Log(shop.Bias), 2e-4);
        Assert.Equal(
            Whole((_, z) => Prior.CarSpread * Math.Exp(Prior.CarSpreadDoubt * z)) / total,
            shop.CarSpread,
            2e-4
        );
    }

    [Fact]
    public void One_odd_car_moves_little_and_many_cars_speak_for_themselves()
    {
        var one = ShopSpread.Learn([One(2)], Prior);
        Assert.InRange(one.Bias, 1.05, 1.6);

        var many = ShopSpread.Learn(
            [.. Enumerable.Range(0, 150).Select(i => One(1.4 * Math.Exp(0.1 * (i % 3 - 1))))],
            Prior
        );
        Assert.Equal(1.4 * Math.Exp(0.1 * 0.1 / 2), many.Bias, 0.02);
    }

    [Fact]
    public void Only_the_last_200_cars_with_timed_hours_count()
    {
        var old = Enumerable.Range(0, 50).Select(_ => One(5));
        var newer = Enumerable.Range(0, 200).Select(_ => One(1));
        var untimed = new WorkedCar(default, [new("weld", 10, 0, 0.2), new("fit", 4, 5, 0.2)]);

        var shop = ShopSpread.Learn([.. old, .. newer, untimed], Prior);

        Assert.Equal(200, shop.Cars);
        Assert.Equal(200, shop.Operations);
        Assert.Equal(1, shop.Bias, 0.02);
    }

    [Fact]
    public void The_spread_of_a_kind_of_operation_is_learned_and_one_forgotten_clock_does_not_spoil_it()
    {
        var dice = new Dice(5);
        var cars = Enumerable.Range(0, 120).Select(_ => Drawn(dice, 0.15, 0.4)).ToList();
        var shop = ShopSpread.Learn(cars, Prior);
        Assert.Equal(0.15, shop.SpreadOf("fit", 0.2), 0.02);
        Assert.Equal(0.4, shop.SpreadOf("weld", 0.2), 0.04);
        Assert.InRange(shop.SpreadOf("unknown", 0.2), 0.2, 0.4);

        var forgotten = cars[0] with
        {
            Operations = [cars[0].Operations[0] with { LoggedHours = 60 }, .. cars[0].Operations.Skip(1)],
        };
        Assert.Equal(
            shop.SpreadOf("fit", 0.2),
            ShopSpread.Learn([forgotten, .. cars.Skip(1)], Prior).SpreadOf("fit", 0.2),
            0.02
        );
    }

    [Fact]
    public void Hours_that_nobody_estimated_count_with_the_car()
    {
        var plain = new WorkedCar(default, [new("weld", 10, 10, 0.2)]);
        var mended = plain with { Operations = [.. plain.Operations, new("rework", 0, 5, 0.3)] };
        var factor = mended.Factor(_ => 0.2)!.Value;
        Assert.Equal(Math.Log(1.5), factor.Value - plain.Factor(_ => 0.2)!.Value.Value, 1e-12);
        Assert.Equal(0.04, factor.Variance, 1e-12);
        Assert.Null(new WorkedCar(default, []).Factor(_ => 0.2));
    }

    [Fact]
    public void Three_points_are_read_as_the_price_engine_reads_them()
    {
        // 2, 4, 9 h: mean 4.5 h, deviation 1.1667 h.
        Assert.Equal(
            Math.Sqrt(Math.Log(1 + Math.Pow(7 / 6.0 / 4.5, 2))),
            TaskSpread.Of(new ThreePointItem(2, 4, 9)),
            1e-12
        );
        var two = TaskSpread.Of([new ThreePointItem(2, 4, 9), new ThreePointItem(2, 4, 9)]);
        Assert.Equal(LogNormal.SpreadOf(9, 7 / 6.0 * Math.Sqrt(2)), two, 1e-12);
        Assert.Equal(TaskSpread.Least, TaskSpread.Of(new ThreePointItem(3, 3, 3)));
        Assert.Equal(TaskSpread.Usual, TaskSpread.Of([]));
        Assert.Equal(
            LogNormal.SpreadOf(1, 0.25),
            SpreadPrior.Of(TestBook.Book with { WholeCarSpread = 0.25m }).CarSpread,
            1e-12
        );
    }

    private static WorkedCar One(double ratio) => new(JobId.From(Guid.Empty), [new("weld", 40, 40 * ratio, 0.1)]);

    private static WorkedCar Drawn(Dice dice, double fit, double weld)
    {
        var car = Math.Exp(0.3 * dice.Normal());
        return new WorkedCar(
            default,
            [
                .. Enumerable
                    .Range(0, 8)
                    .Select(o =>
                    {
                        var s = o % 2 == 0 ? fit : weld;
                        return new WorkedOperation(
                            o % 2 == 0 ? "fit" : "weld",
                            5,
                            5 * car * Math.Exp((s * dice.Normal()) - (s * s / 2)),
                            0.2
                        );
                    }),
            ]
        );
    }
}
