namespace ShopFloor.Domain.Intake;

/// <summary>The words for what is chosen at the counter, the same on screens and papers.</summary>
public static class IntakeWords
{
    public static string Title(this Body body) =>
        body switch
        {
            Body.Unknown => "Not known",
            Body.Coupe => "Coupé",
            Body.Saloon => "Saloon",
            Body.Hatchback => "Hatchback",
            Body.Estate => "Estate",
            Body.Convertible => "Convertible",
            Body.Van => "Van",
            Body.PickUp => "Pick-up",
            _ => throw new ArgumentOutOfRangeException(nameof(body), body, "Unknown body."),
        };

    public static string Title(this SteeringSide side) =>
        side == SteeringSide.Left ? "Driver on the left" : "Driver on the right";

    public static string Title(this Energy energy) =>
        energy switch
        {
            Energy.Petrol => "Petrol",
            Energy.Diesel => "Diesel",
            Energy.Gas => "Gas",
            Energy.Hybrid => "Hybrid",
            Energy.Electric => "Electric",
            _ => throw new ArgumentOutOfRangeException(nameof(energy), energy, "Unknown energy."),
        };

    public static string Title(this Airbags airbags) =>
        airbags switch
        {
            Airbags.Unknown => "Not known",
            Airbags.None => "None",
            Airbags.Front => "Front",
            Airbags.FrontAndSide => "Front and side",
            Airbags.FrontSideAndCurtain => "Front, side and curtain",
            _ => throw new ArgumentOutOfRangeException(nameof(airbags), airbags, "Unknown airbags."),
        };

    public static string Title(this TankPosition position) =>
        position switch
        {
            TankPosition.Unknown => "Not known",
            TankPosition.RearFloor => "Under the rear floor",
            TankPosition.UnderRearSeat => "Under the rear seat",
            TankPosition.Boot => "In the boot",
            TankPosition.Centre => "In the middle",
            TankPosition.Front => "In front",
            _ => throw new ArgumentOutOfRangeException(nameof(position), position, "Unknown position."),
        };

    public static string Title(this WarningLight light) =>
        light switch
        {
            WarningLight.Engine => "Engine",
            WarningLight.OilPressure => "Oil pressure",
            WarningLight.Coolant => "Coolant",
            WarningLight.Charging => "Charging",
            WarningLight.Brakes => "Brakes",
            WarningLight.Abs => "Anti-lock brakes",
            WarningLight.Stability => "Stability",
            WarningLight.Airbag => "Airbag",
            WarningLight.SeatBelt => "Belt",
            WarningLight.TyrePressure => "Tyre pressure",
            WarningLight.HighVoltage => "High voltage",
            WarningLight.Other => "Another lamp",
            _ => throw new ArgumentOutOfRangeException(nameof(light), light, "Unknown lamp."),
        };

    public static string Title(this BatteryState state) =>
        state switch
        {
            BatteryState.Good => "Good",
            BatteryState.Weak => "Weak",
            BatteryState.Flat => "Flat",
            BatteryState.Disconnected => "Disconnected",
            _ => throw new ArgumentOutOfRangeException(nameof(state), state, "Unknown state."),
        };

    public static string Title(this PhotoConsent consent) =>
        consent switch
        {
            PhotoConsent.NotAsked => "Not asked yet",
            PhotoConsent.Refused => "No, keep them to the shop",
            PhotoConsent.WithoutPlates => "Yes, with number plates hidden",
            PhotoConsent.Given => "Yes",
            _ => throw new ArgumentOutOfRangeException(nameof(consent), consent, "Unknown answer."),
        };

    public static string Title(this SignatureKind kind) =>
        kind == SignatureKind.OnScreen ? "on the screen" : "on the printed sheet";

    public static string Title(this RemovedPartPlace place) =>
        place == RemovedPartPlace.Fitted ? "fitted again" : "in a box";

    public static string Title(this CustomerPartState state) =>
        state switch
        {
            CustomerPartState.Awaited => "Awaited",
            CustomerPartState.Arrived => "Arrived",
            CustomerPartState.Dropped => "Not coming",
            _ => throw new ArgumentOutOfRangeException(nameof(state), state, "Unknown state."),
        };
}
