namespace ShopFloor.Domain.Common;

/// <summary>How a figure came about: the rule in words, what went in, where the rule or the inputs come from, what came out, and the parts it was made of.</summary>
/// <param name="Rule">A sentence: "Minutes of work × standard × condition factors".</param>
/// <param name="Inputs">Each with its value and unit, as a person reads it.</param>
/// <param name="Source">"Price book 3 of 2026-05-01", "condition as assumed", "FIA Appendix J art. 253".</param>
/// <param name="Result">The figure with its unit.</param>
/// <param name="Parts">Explanations of the figures that went in.</param>
public sealed record Explanation(
    string Rule,
    IReadOnlyList<ExplanationInput> Inputs,
    string Source,
    string Result,
    IReadOnlyList<Explanation> Parts
);

/// <summary>One value that went into a figure.</summary>
public sealed record ExplanationInput(string Name, string Value);
