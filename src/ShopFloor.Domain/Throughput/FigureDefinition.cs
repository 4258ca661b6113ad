using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Throughput;

/// <summary>What a number counts.</summary>
public enum FigureUnit
{
    Cars,
    Days,
    Hours,
    Percent,
    Quotes,

    /// <summary>Minor units of the shop's currency.</summary>
    MoneyMinor,
}

/// <summary>A column of the rows behind a figure.</summary>
public sealed record FigureColumn(string Title, FigureUnit Unit);

/// <summary>What a figure means, said once for the page, the files and the page of definitions.</summary>
/// <param name="Code">Stable name.</param>
/// <param name="Sentence">What is counted, how, and what is not.</param>
/// <param name="NotYet">What is said where there is nothing to work it out from.</param>
/// <param name="RowTitle">What a row is.</param>
/// <param name="DetailTitle">Heading of the row's words; null where it has none.</param>
/// <param name="Amount">Each row's own number.</param>
/// <param name="Other">A second number of each row; null where it has none.</param>
/// <param name="Third">A third; null where it has none.</param>
public sealed record FigureDefinition(
    string Code,
    string Name,
    FigureUnit Unit,
    string Sentence,
    string NotYet,
    string RowTitle,
    string? DetailTitle,
    FigureColumn Amount,
    FigureColumn? Other = null,
    FigureColumn? Third = null
);

/// <summary>Figures under one heading.</summary>
public sealed record FigureGroup(string Title, IReadOnlyList<FigureDefinition> Figures)
{
    public bool Has(string code) => Figures.Any(f => f.Code == code);
}

/// <summary>A row behind a figure.</summary>
/// <param name="Job">Null where the row is no job.</param>
public sealed record FigureRow(
    JobId? Job,
    string Label,
    string? Detail,
    decimal? Amount,
    decimal? Other = null,
    decimal? Third = null
);

/// <summary>A figure with the rows behind it.</summary>
/// <param name="Value">Null where there is nothing to work it out from.</param>
/// <param name="Remark">What must be said beside it; null where there is nothing.</param>
public sealed record Figure(
    FigureDefinition Definition,
    decimal? Value,
    IReadOnlyList<FigureRow> Rows,
    string? Remark = null
);
