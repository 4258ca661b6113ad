using ShopFloor.Domain.Common;
using ShopFloor.Domain.Stock;

namespace ShopFloor.Application.Stock;

/// <summary>A saw card as shown.</summary>
/// <param name="Notes">What sawing could not write down.</param>
public sealed record SawPlanView(
    SawPlanId Id,
    long Version,
    string Number,
    StockItemId ItemId,
    string Code,
    string Title,
    SawPlanState State,
    decimal KerfMm,
    decimal EndTrimMm,
    decimal KeepFromMm,
    IReadOnlyList<SawnBar> Bars,
    decimal StockUsedMm,
    decimal LowerBoundMm,
    bool IsProvenOptimal,
    string HowGood,
    DateTimeOffset PlannedAt,
    DateTimeOffset? EndedAt,
    string? EndReason,
    IReadOnlyList<StockLotView> Offcuts,
    IReadOnlyList<string> Notes
);

/// <summary>A job that has pieces to be sawn.</summary>
/// <param name="Tubes">By tube: open pieces that are on no card.</param>
public sealed record JobToSaw(JobId JobId, string Job, string Car, IReadOnlyList<TubeToSaw> Tubes);

public sealed record TubeToSaw(StockItemId ItemId, string Code, int Pieces, decimal TotalMm);
