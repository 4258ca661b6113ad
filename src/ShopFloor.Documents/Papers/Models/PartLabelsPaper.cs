namespace ShopFloor.Documents.Papers.Models;

/// <summary>Labels for the bags and shelves with what came out of one car, to be cut apart.</summary>
/// <param name="JobNumber">Stands on each.</param>
/// <param name="Car">Year, make and model.</param>
public sealed record PartLabelsPaper(PaperShop Shop, string JobNumber, string Car, IReadOnlyList<PartLabel> Labels);

/// <summary>One label.</summary>
/// <param name="Code">E.g. <c>J-2026-0001/07</c>.</param>
/// <param name="What">The part.</param>
/// <param name="TakenFrom">Where it sat in the car.</param>
/// <param name="Fasteners">How many came out with it.</param>
/// <param name="Url">Opens the part on a tablet.</param>
public sealed record PartLabel(string Code, string What, string TakenFrom, int Fasteners, string Place, string Url);
