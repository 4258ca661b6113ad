using ShopFloor.Domain.Intake;

namespace ShopFloor.Application.Intake.Cars;

/// <summary>Facts of a car as sent; what is left out stays as it was, or unknown.</summary>
public sealed record CarFactsInput(
    Body? Body = null,
    SteeringSide? SteeringSide = null,
    Energy? Energy = null,
    Airbags? Airbags = null,
    TankPosition? TankPosition = null,
    bool? RearSeatsUsed = null
)
{
    public static CarFactsInput Of(CarFacts facts) =>
        new(facts.Body, facts.SteeringSide, facts.Energy, facts.Airbags, facts.TankPosition, facts.RearSeatsUsed);

    public CarFacts Over(CarFacts known) =>
        new(
            Body ?? known.Body,
            SteeringSide ?? known.SteeringSide,
            Energy ?? known.Energy,
            Airbags ?? known.Airbags,
            TankPosition ?? known.TankPosition,
            RearSeatsUsed ?? known.RearSeatsUsed
        );
}
