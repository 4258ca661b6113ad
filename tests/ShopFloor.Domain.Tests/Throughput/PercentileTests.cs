using CsCheck;
using MathNet.Numerics.Statistics;
using ShopFloor.Domain.Throughput;

namespace ShopFloor.Domain.Tests.Throughput;

/// <summary>Percentiles of type 7 (Hyndman and Fan 1996; the default of R and NumPy).</summary>
public sealed class PercentileTests
{
    [Theory]
    // Computed from the closed formula h = (n − 1)p + 1.
    [InlineData("1 2 3 4", 0.25, 1.75)]
    [InlineData("1 2 3 4", 0.5, 2.5)]
    [InlineData("1 2 3 4", 0.75, 3.25)]
    [InlineData("15 20 35 40 50", 0.4, 29)]
    [InlineData("15 20 35 40 50", 0.75, 40)]
    [InlineData("15 20 35 40 50", 0.9, 46)]
    [InlineData("2 3 5 7 11 13 17 19 23 29", 0.25, 5.5)]
    [InlineData("2 3 5 7 11 13 17 19 23 29", 0.5, 12)]
    [InlineData("2 3 5 7 11 13 17 19 23 29", 0.85, 21.6)]
    [InlineData("2 3 5 7 11 13 17 19 23 29", 0.9, 23.6)]
    [InlineData("2 3 5 7 11 13 17 19 23 29", 0.95, 26.3)]
    // R's manual of quantile, 1:10.
    [InlineData("1 2 3 4 5 6 7 8 9 10", 0.25, 3.25)]
    [InlineData("1 2 3 4 5 6 7 8 9 10", 0.75, 7.75)]
    [InlineData("1 2 3 4 5 6 7 8 9 10", 0, 1)]
    [InlineData("1 2 3 4 5 6 7 8 9 10", 1, 10)]
    public void Published_samples_come_out(string sample, double share, double expected) =>
        Assert.Equal(expected, Percentile.Of(sample.Split(' ').Select(Number).Reverse(), share)!.Value, 12);

    [Fact]
    public void Random_samples_come_out_as_with_MathNets_type_7() =>
        Gen.Double[0, 1000]
            .Array[1, 40]
            .Select(Gen.Double[0, 1])
            .Sample(
                (values, share) =>
                    Assert.Equal(
                        Statistics.QuantileCustom(values, share, QuantileDefinition.R7),
                        Percentile.Of(values, share)!.Value,
                        1e-9
                    )
            );

    [Fact]
    public void Nothing_has_no_percentile_and_one_value_is_every_percentile()
    {
        Assert.Null(Percentile.Of([], 0.5));
        Assert.Equal(7, Percentile.Of([7], 0.85));
        Assert.Null(Percentile.StandingOf(3, []));
        Assert.Equal(50, Percentile.StandingOf(3, [1, 3, 4, 9]));
    }

    private static double Number(string text) => double.Parse(text, System.Globalization.CultureInfo.InvariantCulture);
}
