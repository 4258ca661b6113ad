using ShopFloor.Application.Intake.Cars;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Web.Features.Cars;

/// <summary>What is typed on the car page.</summary>
public sealed class CarForm
{
    public CustomerId? CustomerId { get; set; }
    public string? Make { get; set; }
    public string? Model { get; set; }
    public int? ModelYear { get; set; }
    public string? Vin { get; set; }
    public string? Registration { get; set; }
    public int? OdometerKm { get; set; }

    /// <summary>Null: taken from the VIN.</summary>
    public bool? BuiltForNorthAmerica { get; set; }
    public CarFacts Facts { get; set; } = Car.UnknownFacts;

    public void Read(CarView car)
    {
        CustomerId = car.CustomerId;
        Make = car.Make;
        Model = car.Model;
        ModelYear = car.ModelYear;
        Vin = car.Vin;
        Registration = car.Registration;
        OdometerKm = car.OdometerKm;
        BuiltForNorthAmerica = car.BuiltForNorthAmerica;
        Facts = car.Facts;
    }

    public CarInput ToInput() =>
        new(
            CustomerId,
            Make,
            Model,
            ModelYear,
            Vin,
            Registration,
            OdometerKm,
            BuiltForNorthAmerica,
            CarFactsInput.Of(Facts)
        );
}
