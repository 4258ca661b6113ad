namespace ShopFloor.Domain.Intake;

/// <summary>Lamps of the instrument panel that matter when a car comes and goes.</summary>
public enum WarningLight
{
    Engine,
    OilPressure,
    Coolant,
    Charging,
    Brakes,
    Abs,
    Stability,
    Airbag,
    SeatBelt,
    TyrePressure,
    HighVoltage,
    Other,
}

public enum BatteryState
{
    Good,
    Weak,
    Flat,
    Disconnected,
}

/// <summary>Whether the shop may publish photos of the car. Not asked counts as refused.</summary>
public enum PhotoConsent
{
    NotAsked,
    Refused,
    WithoutPlates,
    Given,
}

/// <summary>The car as it was brought in, as far as it has been asked; <see cref="DropOff"/> checks it.</summary>
/// <param name="OdometerKm">Whole kilometres.</param>
/// <param name="WarningLights">Lamps that are lit; an empty list means looked at, none lit; absent means not looked at.</param>
/// <param name="WarningLightsNote">What else the panel showed.</param>
/// <param name="FuelPercent">0 to 100; state of charge on an electric car.</param>
/// <param name="Keys">How many keys were handed in.</param>
/// <param name="KeysNote">Which, and where they hang.</param>
/// <param name="ConditionFound">Question code to answer code, as at the quote.</param>
/// <param name="StaysFitted">What is not taken out (a roof lining, a stereo), one line each.</param>
/// <param name="InTheCar">Loose things that stay in the car, one line each.</param>
/// <param name="Battery">State of the 12 V battery.</param>
/// <param name="PhotoConsent">Absent: not asked yet.</param>
/// <param name="Note">Anything else.</param>
public sealed record DropOffDetails(
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
);
