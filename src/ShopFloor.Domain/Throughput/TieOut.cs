namespace ShopFloor.Domain.Throughput;

/// <summary>Two ways to the same number, held against one another.</summary>
/// <param name="Code">Stable name.</param>
/// <param name="Sentence">What was compared, with the numbers.</param>
public sealed record TieOut(string Code, string Sentence, bool Holds);
