namespace ShopFloor.Documents.Papers.Models;

/// <summary>Labels for what lies in the store, to be cut apart.</summary>
public sealed record StockLabelsPaper(PaperShop Shop, IReadOnlyList<StockLabel> Labels);

/// <summary>One label.</summary>
/// <param name="Number">E.g. <c>L-2026-0012</c>.</param>
/// <param name="What">The item's short name, of tube with the length.</param>
/// <param name="Lines">Title, heat, place.</param>
/// <param name="Url">Opens the lot.</param>
public sealed record StockLabel(string Number, string What, IReadOnlyList<string> Lines, string Url);

/// <summary>A sheet for counting the store by hand.</summary>
public sealed record CountingPaper(PaperShop Shop, IReadOnlyList<CountingPlace> Places);

public sealed record CountingPlace(string Location, IReadOnlyList<CountingRow> Rows);

/// <param name="Unit">In what it is counted.</param>
public sealed record CountingRow(string Number, string What, string Unit);
