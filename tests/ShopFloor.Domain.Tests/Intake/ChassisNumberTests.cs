using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using Xunit;

namespace ShopFloor.Domain.Tests.Intake;

public class ChassisNumberTests
{
    [Theory]
    [InlineData("AB 12-345/c", "AB 12-345/C")]
    [InlineData("  00412  ", "00412")]
    [InlineData("QIO-1971", "QIO-1971")]
    public void Numbers_of_other_lengths_are_kept_as_they_are_stamped(string entered, string kept) =>
        Assert.Equal(kept, ChassisNumber.Parse(entered, "vin").Value.Text);

    [Fact]
    public void Thirty_two_characters_are_kept_and_thirty_three_are_refused()
    {
        Assert.True(ChassisNumber.Parse(new string('7', 32), "vin").IsSuccess);
        Assert.Equal("vin", PathOf(ChassisNumber.Parse(new string('7', 33), "vin")));
    }

    [Theory]
    [InlineData("1M8GDM9AXKPO42788")]
    [InlineData("1M8GDM9AXKPI42788")]
    [InlineData("1M8GDM9AXKPQ42788")]
    [InlineData("1m8gdm9axkpo-42788")]
    public void Seventeen_characters_with_I_O_or_Q_are_refused(string entered) =>
        Assert.Equal("vin", PathOf(ChassisNumber.Parse(entered, "vin")));

    [Fact]
    public void A_failed_check_digit_warns_for_a_car_built_for_North_America_and_never_blocks()
    {
        var number = ChassisNumber.Parse("1G4AH59H45G118342", "vin").Value;

        Assert.Equal("checkDigit", Assert.Single(number.Warnings(2005, builtForNorthAmerica: true)).Code);
        Assert.Empty(number.Warnings(2005, builtForNorthAmerica: false));
    }

    [Fact]
    public void A_model_year_that_the_code_does_not_name_warns()
    {
        var number = ChassisNumber.Parse("1M8GDM9AXKP042788", "vin").Value;

        Assert.Empty(number.Warnings(1989, builtForNorthAmerica: true));
        Assert.Equal("modelYear", Assert.Single(number.Warnings(1990, builtForNorthAmerica: true)).Code);
    }

    [Fact]
    public void A_short_number_warns_only_where_seventeen_characters_were_the_rule()
    {
        var number = ChassisNumber.Parse("412-77", "vin").Value;

        Assert.Equal("notSeventeen", Assert.Single(number.Warnings(1981, builtForNorthAmerica: true)).Code);
        Assert.Empty(number.Warnings(1980, builtForNorthAmerica: true));
        Assert.Empty(number.Warnings(1995, builtForNorthAmerica: false));
    }

    private static string PathOf(Outcome<ChassisNumber> outcome) =>
        Assert.Single(Assert.IsType<Failure.Invalid>(outcome.Failure).Errors).Path;
}
