namespace ShopFloor.Domain.Intake;

public enum Body
{
    Unknown,
    Coupe,
    Saloon,
    Hatchback,
    Estate,
    Convertible,
    Van,
    PickUp,
}

/// <summary>The side the driver sits on; the passenger door, through which the bar leaves the car, is on the other.</summary>
public enum SteeringSide
{
    Left,
    Right,
}

public enum Energy
{
    Petrol,
    Diesel,
    Gas,
    Hybrid,
    Electric,
}

public enum Airbags
{
    Unknown,
    None,
    Front,
    FrontAndSide,
    FrontSideAndCurtain,
}

/// <summary>Where the fuel tank (or traction battery) lies: heat near it needs its own precautions.</summary>
public enum TankPosition
{
    Unknown,
    RearFloor,
    UnderRearSeat,
    Boot,
    Centre,
    Front,
}

/// <summary>What the shop must know of a car before it prices or plans anything.</summary>
public sealed record CarFacts(
    Body Body,
    SteeringSide SteeringSide,
    Energy Energy,
    Airbags Airbags,
    TankPosition TankPosition,
    bool RearSeatsUsed
);
