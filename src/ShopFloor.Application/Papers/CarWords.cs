using ShopFloor.Domain.Intake;

namespace ShopFloor.Application.Papers;

/// <summary>A car's facts in words, for papers.</summary>
internal static class CarWords
{
    public static string Of(Energy energy) =>
        energy switch
        {
            Energy.Petrol => "petrol",
            Energy.Diesel => "diesel",
            Energy.Gas => "gas",
            Energy.Hybrid => "hybrid, high voltage",
            Energy.Electric => "electric, high voltage",
            _ => throw new ArgumentOutOfRangeException(nameof(energy), energy, "Unknown energy."),
        };

    public static string Of(Airbags airbags) =>
        airbags switch
        {
            Airbags.Unknown => "not known: look before work",
            Airbags.None => "none",
            Airbags.Front => "front",
            Airbags.FrontAndSide => "front and side",
            Airbags.FrontSideAndCurtain => "front, side and curtain",
            _ => throw new ArgumentOutOfRangeException(nameof(airbags), airbags, "Unknown airbags."),
        };

    public static string Of(TankPosition tank) =>
        tank switch
        {
            TankPosition.Unknown => "not known: look before work",
            TankPosition.RearFloor => "under the rear floor",
            TankPosition.UnderRearSeat => "under the rear seat",
            TankPosition.Boot => "in the boot",
            TankPosition.Centre => "in the middle",
            TankPosition.Front => "in front",
            _ => throw new ArgumentOutOfRangeException(nameof(tank), tank, "Unknown position."),
        };
}
