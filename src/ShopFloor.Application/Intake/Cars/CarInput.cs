using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Application.Intake.Cars;

/// <summary>A car as sent by a form or a program.</summary>
public sealed record CarInput(
    CustomerId? CustomerId = null,
    string? Make = null,
    string? Model = null,
    int? ModelYear = null,
    string? Vin = null,
    string? Registration = null,
    int? OdometerKm = null,
    bool? BuiltForNorthAmerica = null,
    CarFactsInput? Facts = null
)
{
    internal CarDetails Details(CarFacts known) =>
        new(
            Make,
            Model,
            ModelYear,
            Vin,
            Registration,
            OdometerKm,
            BuiltForNorthAmerica,
            (Facts ?? new CarFactsInput()).Over(known)
        );
}
