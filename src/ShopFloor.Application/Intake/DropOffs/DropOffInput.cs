using ShopFloor.Application.Intake.Cars;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Application.Intake.DropOffs;

/// <summary>The intake record as sent, as far as it has been asked. Fields as in <see cref="DropOffDetails"/>.</summary>
/// <param name="Facts">Facts of the car as seen at the counter; what is left out stays.</param>
public sealed record DropOffInput(
    CarFactsInput? Facts = null,
    int? OdometerKm = null,
    IReadOnlyList<WarningLight>? WarningLights = null,
    string? WarningLightsNote = null,
    int? FuelPercent = null,
    int? Keys = null,
    string? KeysNote = null,
    IReadOnlyDictionary<string, string?>? ConditionFound = null,
    IReadOnlyList<string?>? StaysFitted = null,
    IReadOnlyList<string?>? InTheCar = null,
    BatteryState? Battery = null,
    PhotoConsent? PhotoConsent = null,
    string? Note = null
)
{
    public DropOffDetails Details =>
        new(
            OdometerKm,
            WarningLights,
            WarningLightsNote,
            FuelPercent,
            Keys,
            KeysNote,
            ConditionFound,
            StaysFitted,
            InTheCar,
            Battery,
            PhotoConsent,
            Note
        );
}
