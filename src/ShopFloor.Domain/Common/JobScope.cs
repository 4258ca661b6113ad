using System.Text.Json.Serialization;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Domain.Common;

public enum DoorSide
{
    Left,
    Right,
}

/// <summary>Which hinge option (a price-book code) the customer chose for a door bar.</summary>
public sealed record DoorChoice(DoorSide Door, string HingeOptionCode);

/// <summary>What is sold. All kinds are priced by the same engine and have their own route.</summary>
public enum SaleKind
{
    /// <summary>A kit welded into the customer's car.</summary>
    Fitted,

    /// <summary>A kit packed and sent; nobody here works on a car.</summary>
    Shipped,

    /// <summary>Work on a part that comes without its car.</summary>
    Bench,

    /// <summary>A car that comes back after an earlier job.</summary>
    ReturnVisit,
}

public static class SaleKinds
{
    /// <summary>True where the customer's car is in the shop: it is dropped off and handed over. Goods and parts go out instead.</summary>
    public static bool HasCarHere(this SaleKind kind) => kind is SaleKind.Fitted or SaleKind.ReturnVisit;

    /// <summary>What leaves the shop in the end, for sentences: car, kit or part.</summary>
    public static string Thing(this SaleKind kind) =>
        kind switch
        {
            SaleKind.Shipped => "kit",
            SaleKind.Bench => "part",
            _ => "car",
        };

    /// <summary>As people read it.</summary>
    public static string Title(this SaleKind kind) =>
        kind switch
        {
            SaleKind.Fitted => "Fitted in the shop",
            SaleKind.Shipped => "Kit packed and shipped",
            SaleKind.Bench => "Work on a part",
            SaleKind.ReturnVisit => "Return visit",
            _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "Unknown kind of sale."),
        };
}

/// <summary>A piece of work named by its standard, where no kit says what is done: on the bench or on a return visit.</summary>
/// <param name="Skill">Whose rate applies.</param>
/// <param name="StandardCode">Labour standard of the price book.</param>
/// <param name="Quantity">Units of it, over 0.</param>
public sealed record BenchItem(string Skill, string StandardCode, decimal Quantity);

/// <summary>What is to be built, into which car, in which condition: the one input from which price, route and inspection plan are all derived.</summary>
/// <param name="KitCode">Price-book code, e.g. <c>six-point-weld-in</c>; null for bench work and return visits.</param>
/// <param name="UseCode">Intended use, e.g. <c>street</c>.</param>
/// <param name="RuleSetCodes">Rule sets the bar is built to; may be empty.</param>
/// <param name="Doors">Left and right at most once each; empty where the kit has no door bars.</param>
/// <param name="Condition">Question code to answer code, assumed or found; questions left out take the price book's default.</param>
/// <param name="Car">Facts of this car.</param>
public sealed record JobScope(
    string? KitCode,
    string UseCode,
    IReadOnlyList<string> RuleSetCodes,
    IReadOnlyList<DoorChoice> Doors,
    IReadOnlyDictionary<string, string> Condition,
    CarFacts Car
)
{
    public SaleKind Kind { get; init; }

    /// <summary>The work of a sale without a kit; empty for kits.</summary>
    public IReadOnlyList<BenchItem> Bench { get; init; } = [];

    /// <summary>What a route template or an inspection plan is looked up by: the kit where it is fitted, else the kind of sale.</summary>
    [JsonIgnore]
    public string RouteKey =>
        Kind switch
        {
            SaleKind.Shipped => "kit-shipped",
            SaleKind.Bench => "bench-work",
            SaleKind.ReturnVisit => "return-visit",
            _ => KitCode ?? "",
        };
}

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
