using CsCheck;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using Xunit;

namespace ShopFloor.Domain.Tests.Intake;

public class CarTests
{
    private static readonly DateOnly Today = new(2026, 3, 2);
    private static readonly DateTimeOffset At = new(2026, 3, 2, 9, 0, 0, TimeSpan.Zero);

    [Theory]
    [InlineData(1920, true)]
    [InlineData(2027, true)]
    [InlineData(1919, false)]
    [InlineData(2028, false)]
    [InlineData(null, false)]
    public void Model_years_run_from_1920_to_next_year(int? year, bool isTaken)
    {
        var outcome = Register(new CarDetails("Corvus", "Lynx", year));

        Assert.Equal(isTaken, outcome.IsSuccess);
        if (!isTaken)
        {
            Assert.Equal("modelYear", Assert.Single(Assert.IsType<Failure.Invalid>(outcome.Failure).Errors).Path);
        }
    }

    [Theory]
    [InlineData(0, true)]
    [InlineData(9_999_999, true)]
    [InlineData(-1, false)]
    [InlineData(10_000_000, false)]
    public void An_odometer_has_seven_digits(int km, bool isTaken) =>
        Assert.Equal(isTaken, Register(new CarDetails("Corvus", "Lynx", 2004, OdometerKm: km)).IsSuccess);

    [Fact]
    public void Miles_come_back_as_the_same_miles() =>
        Gen.Int[0, 6_000_000].Sample(miles => Odometer.MilesFromKm(Odometer.KmFromMiles(miles)) == miles);

    [Fact]
    public void Built_for_North_America_is_taken_from_the_VIN_unless_said_otherwise()
    {
        Assert.True(Register(new CarDetails("Corvus", "Lynx", 2024, "1X9TEST01RT000001")).Value.BuiltForNorthAmerica);
        Assert.False(Register(new CarDetails("Corvus", "Lynx", 2024, "SX9TEST01RT000001")).Value.BuiltForNorthAmerica);
        Assert.False(
            Register(
                new CarDetails("Corvus", "Lynx", 2024, "1X9TEST01RT000001", BuiltForNorthAmerica: false)
            ).Value.BuiltForNorthAmerica
        );
    }

    [Fact]
    public void A_car_is_found_by_make_year_registration_and_chassis_number()
    {
        var car = Register(new CarDetails("Corvus", "Lynx", 2004, "412-77", "nb 04 lyx")).Value;

        Assert.Equal("CORVUS LYNX 2004 NB 04 LYX 412-77", car.SearchText);
        car.EraseRegistration();
        Assert.Equal("CORVUS LYNX 2004 412-77", car.SearchText);
    }

    private static Outcome<Car> Register(CarDetails details) =>
        Car.Register(Ids.New<CarId>(At), Ids.New<CustomerId>(At), details, Today, At);
}
