using ShopFloor.Domain.Common;

namespace ShopFloor.Documents.Papers.Models;

/// <summary>A change to running work, for the customer to read and sign.</summary>
/// <param name="Number">E.g. <c>CO-2026-0001</c>.</param>
/// <param name="State">A word for the state; a draft is marked as such on every page.</param>
/// <param name="Photos">What the photos show, a caption each.</param>
/// <param name="Sentences">What each answer found otherwise changes; empty for further work.</param>
/// <param name="Work">Operations and inspection lines that are added, in words.</param>
/// <param name="JobTotals">The job's total before and with the change.</param>
/// <param name="Time">Hours and the effect on the promised day, a paragraph each.</param>
/// <param name="Cautions">Precautions and what the work waits for.</param>
/// <param name="ContentHash">SHA-256 of the frozen content; null for a draft.</param>
/// <param name="Approved">Who approved it, when and how, once it was.</param>
public sealed record ChangePaper(
    PaperShop Shop,
    PaperParty Customer,
    PaperCar Car,
    string Number,
    string JobNumber,
    string State,
    bool IsDraft,
    DateOnly Date,
    string Reason,
    IReadOnlyList<string> Photos,
    IReadOnlyList<string> Sentences,
    IReadOnlyList<string> Work,
    IReadOnlyList<PaperLine> Lines,
    PaperTotals Totals,
    IReadOnlyList<(string Label, Money Amount, bool Strong)> JobTotals,
    IReadOnlyList<string> Time,
    IReadOnlyList<string> Cautions,
    string? ContentHash,
    PaperSignature? Approved,
    string? ApprovedHow
);
