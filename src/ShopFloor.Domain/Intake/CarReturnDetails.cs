using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Intake;

/// <summary>How a part that was taken out goes back.</summary>
public enum RemovedPartPlace
{
    /// <summary>Fitted again.</summary>
    Fitted,
    InBox,
}

/// <summary>One of the parts the customer brought.</summary>
/// <param name="IsBack">It was given back.</param>
/// <param name="Note">Where it is otherwise; needed where it was not given back.</param>
public sealed record PartBack(CustomerPartId PartId, bool IsBack, string? Note);

/// <summary>A part of the car that was taken out for the work.</summary>
/// <param name="What">"Rear seat": needed.</param>
/// <param name="Place">Needed.</param>
public sealed record RemovedPart(string? What, RemovedPartPlace? Place);

/// <summary>The car as it goes back unfinished; <see cref="CarReturn"/> checks it.</summary>
/// <param name="OdometerKm">Whole kilometres; needed.</param>
/// <param name="WarningLights">Lamps that are lit; empty means looked at, none lit; needed.</param>
/// <param name="FuelPercent">0 to 100; state of charge on an electric car; needed.</param>
/// <param name="KeysReturned">How many keys were given back; needed.</param>
/// <param name="Looks">The walk-round, one entry a place.</param>
/// <param name="PartsBack">One entry for each part the customer brought.</param>
/// <param name="RemovedParts">What had been taken out of the car; empty means nothing had; needed.</param>
/// <param name="LeftOpen">What was cut, drilled, welded or left open, in words the customer understands; needed.</param>
/// <param name="Note">Anything else; needed where a lamp is lit that was not, or the odometer went back.</param>
/// <param name="Signature">Of whoever collects the car.</param>
public sealed record CarReturnDetails(
    int? OdometerKm,
    IReadOnlyList<WarningLight>? WarningLights,
    int? FuelPercent,
    int? KeysReturned,
    IReadOnlyList<WalkRoundLook>? Looks,
    IReadOnlyList<PartBack>? PartsBack,
    IReadOnlyList<RemovedPart>? RemovedParts,
    string? LeftOpen,
    string? Note,
    SignatureDetails? Signature
);
