namespace ShopFloor.Documents.Papers.Models;

/// <summary>A figure as worded elsewhere.</summary>
/// <param name="Note">Why there is none, or what must be said beside it; null where there is nothing.</param>
public sealed record WeekPaperFigure(string Name, string Value, string? Note);

/// <summary>Figures under a heading.</summary>
public sealed record WeekPaperGroup(string Title, IReadOnlyList<WeekPaperFigure> Figures);

/// <summary>A small table of words and numbers; the first column is words, the others numbers.</summary>
/// <param name="Note">What was left out; null where nothing was.</param>
public sealed record WeekPaperTable(
    string Title,
    IReadOnlyList<string> Columns,
    IReadOnlyList<IReadOnlyList<string>> Rows,
    string? Note
);

/// <summary>The owner's figures of some days.</summary>
/// <param name="Days">The days in words: <c>16 Nov to 22 Nov 2026</c>.</param>
/// <param name="CountedUpTo">Until when they were counted.</param>
/// <param name="InWords">What they come to in a few sentences.</param>
/// <param name="Ties">Two ways to the same number, each a sentence with its sign.</param>
public sealed record WeekPaper(
    PaperShop Shop,
    string Days,
    string CountedUpTo,
    string InWords,
    IReadOnlyList<WeekPaperGroup> Groups,
    IReadOnlyList<WeekPaperTable> Tables,
    IReadOnlyList<string> Ties
);
