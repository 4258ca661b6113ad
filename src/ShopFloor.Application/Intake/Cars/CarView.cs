using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Application.Intake.Cars;

/// <summary>A sentence that helps and forbids nothing.</summary>
public sealed record Warning(string Code, string Text);

/// <summary>A car as shown.</summary>
public sealed record CarView(
    CarId Id,
    long Version,
    CustomerId CustomerId,
    string CustomerName,
    string Title,
    string Make,
    string Model,
    int ModelYear,
    string? Vin,
    string? Registration,
    int? OdometerKm,
    bool BuiltForNorthAmerica,
    CarFacts Facts,
    IReadOnlyList<Warning> Warnings
)
{
    public static CarView Of(Car car, string customerName) =>
        new(
            car.Id,
            car.Version,
            car.CustomerId,
            customerName,
            car.Title,
            car.Make,
            car.Model,
            car.ModelYear,
            car.ChassisNumber?.Text,
            car.Registration,
            car.OdometerKm,
            car.BuiltForNorthAmerica,
            car.Facts,
            [.. car.Warnings.Select(w => new Warning(w.Code, w.Text))]
        );
}
