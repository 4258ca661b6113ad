using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Domain.Tests.Quoting;

public sealed class ThreePointTests
{
    [Fact]
    public void Two_four_nine_hours_have_the_published_mean_and_deviation()
    {
        // PERT, Malcolm et al. 1959 (from memory): mean (a + 4m + b)/6, deviation (b − a)/6.
        var result = ThreePoint.Calculate([new(2, 4, 9)]).Value;

        Assert.Equal(4.5, result.MeanHours, 1e-12);
        Assert.Equal(7.0 / 6, result.StandardDeviationHours, 1e-12);
        Assert.Equal(4.5, result.P50Hours, 1e-12);
        Assert.Equal(4.5 + (0.8416212335729143 * 7 / 6), result.P80Hours, 1e-12);
    }

    [Fact]
    public void Means_and_variances_of_independent_items_add()
    {
        var result = ThreePoint.Calculate([new(2, 4, 9), new(1, 1, 1), new(0, 3, 6)]).Value;

        Assert.Equal(4.5 + 1 + 3, result.MeanHours, 1e-12);
        Assert.Equal(Math.Sqrt((49.0 / 36) + 0 + 1), result.StandardDeviationHours, 1e-12);
    }

    [Theory]
    [InlineData(-1, 1, 2, "items[0].lowHours")]
    [InlineData(2, 1, 3, "items[0].likelyHours")]
    [InlineData(1, 3, 2, "items[0].highHours")]
    [InlineData(0, 0, 0, "items[0].highHours")]
    [InlineData(double.NaN, 1, 2, "items[0].lowHours")]
    [InlineData(0, 1, double.PositiveInfinity, "items[0].highHours")]
    public void Hours_out_of_order_or_range_are_named(double low, double likely, double high, string path)
    {
        var failure = Assert.IsType<Failure.Invalid>(ThreePoint.Calculate([new(low, likely, high)]).Failure);

        Assert.Contains(failure.Errors, e => e.Path == path);
    }

    [Fact]
    public void At_least_one_item_is_needed() =>
        Assert.Equal("items", Assert.IsType<Failure.Invalid>(ThreePoint.Calculate([]).Failure).Errors[0].Path);
}
