using ShopFloor.Domain.Intake;

namespace ShopFloor.Domain.Common;

public enum DoorSide
{
    Left,
    Right,
}

/// <summary>Which hinge option (a price-book code) the customer chose for a door bar.</summary>
public sealed record DoorChoice(DoorSide Door, string HingeOptionCode);

/// <summary>What is to be built, into which car, in which condition: the one input from which price, route and inspection plan are all derived.</summary>
/// <param name="KitCode">Price-book code, e.g. <c>six-point-weld-in</c>.</param>
/// <param name="UseCode">Intended use, e.g. <c>street</c>.</param>
/// <param name="RuleSetCodes">Rule sets the bar is built to; may be empty.</param>
/// <param name="Doors">Left and right at most once each; empty where the kit has no door bars.</param>
/// <param name="Condition">Question code to answer code, assumed or found; questions left out take the price book's default.</param>
/// <param name="Car">Facts of this car.</param>
public sealed record JobScope(
    string KitCode,
    string UseCode,
    IReadOnlyList<string> RuleSetCodes,
    IReadOnlyList<DoorChoice> Doors,
    IReadOnlyDictionary<string, string> Condition,
    CarFacts Car
);

/// <summary>Work content of one operation: so many units of one labour standard, before any condition factor.</summary>
/// <param name="OperationCode">Number of the operation on the route, e.g. <c>170</c>.</param>
/// <param name="OperationTitle">As people read it.</param>
/// <param name="Phase">For "labour per phase" on the quote.</param>
/// <param name="Skill">Skill code whose rate applies, e.g. <c>welder</c>.</param>
/// <param name="StandardCode">Labour standard of the price book, e.g. <c>weld-plate-mm</c>.</param>
/// <param name="Quantity">Units of that standard; over 0.</param>
public sealed record WorkContent(
    string OperationCode,
    string OperationTitle,
    Phase Phase,
    string Skill,
    string StandardCode,
    decimal Quantity
);
