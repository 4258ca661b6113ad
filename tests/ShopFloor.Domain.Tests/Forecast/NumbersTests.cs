using CsCheck;
using MathNet.Numerics.RootFinding;
using ShopFloor.Domain.Forecast;
using Reference = MathNet.Numerics.Distributions;

namespace ShopFloor.Domain.Tests.Forecast;

/// <summary>The forecast's own distributions held against MathNet's.</summary>
public sealed class NumbersTests
{
    [Fact]
    public void Normal_quantiles_are_MathNets_and_the_published_ones()
    {
        Gen.Double[1e-12, 1 - 1e-12]
            .Sample(share => Assert.Equal(Reference.Normal.InvCDF(0, 1, share), Normal.Quantile(share), 1e-9));

        // To seven decimals as in any table of the normal distribution.
        Assert.Equal(0, Normal.Quantile(0.5), 1e-15);
        Assert.Equal(0.8416212, Normal.Quantile(0.8), 5e-8);
        Assert.Equal(1.0364334, Normal.Quantile(0.85), 5e-8);
        Assert.Equal(1.6448536, Normal.Quantile(0.95), 5e-8);
        Assert.Equal(Normal.Z95, Normal.Quantile(0.975), 1e-14);
    }

    [Fact]
    public void Normal_shares_are_MathNets_and_go_on_far_out()
    {
        Gen.Double[-8, 8]
            .Sample(x =>
            {
                Assert.Equal(Reference.Normal.CDF(0, 1, x), Normal.Under(x), 1e-14);
                Assert.Equal(
                    Math.Log(0.5 * MathNet.Numerics.SpecialFunctions.Erfc(x / Math.Sqrt(2))),
                    Normal.LogAbove(x),
                    1e-11
                );
            });
        // ln of the density over x, less 1/x²: the first two terms of the asymptotic series; the third is 3/x⁴.
        Assert.Equal(
            (-0.5 * 60 * 60) - Math.Log(60 * Math.Sqrt(2 * Math.PI)) - (1 / 3600.0),
            Normal.LogAbove(60),
            1e-6
        );
    }

    [Fact]
    public void Log_normal_quantiles_means_and_chances_are_MathNets() =>
        Gen.Select(Gen.Double[-2, 4], Gen.Double[0.05, 1.2], Gen.Double[0.001, 0.999])
            .Sample(
                (mean, spread, share) =>
                {
                    var ours = new LogNormal(mean, spread);
                    var theirs = new Reference.LogNormal(mean, spread);
                    Near(theirs.InverseCumulativeDistribution(share), ours.Quantile(share));
                    Near(theirs.Mean, ours.Mean);
                    Near(theirs.Mean, LogNormal.OfMean(theirs.Mean, spread).Mean);
                    Near(spread, LogNormal.SpreadOf(theirs.Mean, theirs.StdDev));
                    var value = theirs.InverseCumulativeDistribution(share);
                    Near(1 - theirs.CumulativeDistribution(value), Math.Exp(ours.LogChanceOver(value)));
                }
            );

    [Fact]
    public void What_is_longer_than_what_is_logged_has_MathNets_quantiles() =>
        Gen.Select(Gen.Double[-1, 3], Gen.Double[0.05, 0.9], Gen.Double[0.01, 0.99], Gen.Double[0.01, 0.99])
            .Sample(
                (mean, spread, loggedShare, share) =>
                {
                    var theirs = new Reference.LogNormal(mean, spread);
                    var logged = theirs.InverseCumulativeDistribution(loggedShare);
                    Near(
                        theirs.InverseCumulativeDistribution(loggedShare + (share * (1 - loggedShare))),
                        new LogNormal(mean, spread).QuantileOver(logged, share)
                    );
                }
            );

    [Fact]
    public void A_draw_far_beyond_what_was_thought_possible_stays_longer_than_what_is_logged_and_keeps_its_chance() =>
        Gen.Select(Gen.Double[0.05, 0.5], Gen.Double[3, 60], Gen.Double[0.001, 0.999])
            .Sample(
                (spread, deviations, share) =>
                {
                    var work = new LogNormal(1, spread);
                    var logged = Math.Exp(1 + (spread * deviations));
                    var whole = work.QuantileOver(logged, share);
                    Assert.True(whole >= logged);
                    Assert.Equal(
                        Math.Log(1 - share),
                        work.LogChanceOver(whole) - work.LogChanceOver(logged),
                        1e-6 * (1 + (deviations * deviations))
                    );
                }
            );

    [Fact]
    public void The_score_interval_ends_where_the_score_test_does()
    {
        Gen.Int[1, 400]
            .SelectMany(n => Gen.Select(Gen.Const(n), Gen.Int[0, n]))
            .Sample(
                (n, hits) =>
                {
                    var share = hits / (double)n;
                    var range = Wilson.Interval(hits, n);
                    double Score(double p) => ((share - p) * (share - p)) - (Normal.Z95 * Normal.Z95 * p * (1 - p) / n);
                    var low = hits == 0 ? 0 : Brent.FindRoot(Score, 1e-12, Math.Min(share, 1 - 1e-6), 1e-13);
                    var high = hits == n ? 1 : Brent.FindRoot(Score, Math.Max(share, 1e-6), 1 - 1e-12, 1e-13);
                    Assert.Equal(low, range.Low, 1e-9);
                    Assert.Equal(high, range.High, 1e-9);
                }
            );
        // Worked by hand from the closed formula.
        Assert.Equal(0.6787, Wilson.Interval(20, 23).Low, 5e-5);
        Assert.Equal(0.9546, Wilson.Interval(20, 23).High, 5e-5);
    }

    [Fact]
    public void Dice_of_one_seed_fall_alike_and_of_two_trials_apart()
    {
        var first = Enumerable.Range(0, 50).Select(t => Dice.Of(7, t).Share()).ToList();
        Assert.Equal(first, Enumerable.Range(0, 50).Select(t => Dice.Of(7, t).Share()));
        Assert.Equal(50, first.Distinct().Count());
        Assert.NotEqual(first, Enumerable.Range(0, 50).Select(t => Dice.Of(-8, t).Share()));

        var dice = new Dice(3);
        var many = Enumerable.Range(0, 20_000).Select(_ => dice.Normal()).ToList();
        Assert.Equal(0, many.Average(), 0.03);
        Assert.Equal(1, many.Average(x => x * x), 0.05);
    }

    private static void Near(double expected, double actual) =>
        Assert.Equal(expected, actual, 1e-8 * Math.Max(1, Math.Abs(expected)));
}
