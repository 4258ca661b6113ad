using System.Globalization;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Throughput;

namespace ShopFloor.Application.Throughput;

/// <summary>A figure as shown: its definition beside it and the rows behind it.</summary>
/// <param name="Definition">What is counted, how, and what is not.</param>
/// <param name="Value">Null where there is nothing to work it out from; then <paramref name="NotYet"/> says so.</param>
/// <param name="Columns">Titles of the rows: what a row is, its words where it has any, its amount, its second amount where it has one.</param>
public sealed record FigureView(
    string Code,
    string Name,
    string Definition,
    FigureUnit Unit,
    decimal? Value,
    string? NotYet,
    FigureColumnsView Columns,
    IReadOnlyList<FigureRow> Rows
)
{
    /// <summary>What must be said beside the value; null where there is nothing.</summary>
    public string? Remark { get; init; }

    internal static FigureView Of(Figure figure)
    {
        var d = figure.Definition;
        return new FigureView(
            d.Code,
            d.Name,
            d.Sentence,
            d.Unit,
            figure.Value,
            figure.Value is null || (figure.Value == 0 && figure.Rows.Count == 0) ? d.NotYet : null,
            new FigureColumnsView(d.RowTitle, d.DetailTitle, d.Amount, d.Other, d.Third),
            figure.Rows
        )
        {
            Remark = figure.Remark,
        };
    }
}

/// <summary>Headings of the rows behind a figure.</summary>
public sealed record FigureColumnsView(
    string Row,
    string? Detail,
    FigureColumn Amount,
    FigureColumn? Other,
    FigureColumn? Third
);

/// <summary>A definition alone.</summary>
public sealed record FigureDefinitionView(string Code, string Name, FigureUnit Unit, string Definition);

/// <summary>A stretch of a car's time in one phase.</summary>
/// <param name="WaitingFor">Null where somebody was on it.</param>
public sealed record RibbonPartView(
    Phase Phase,
    string? WaitingFor,
    DateTimeOffset FromAt,
    DateTimeOffset UntilAt,
    long Minutes
);

/// <summary>A car in hand during the range, with its ribbon.</summary>
/// <param name="Phase">At the end of the range, or now.</param>
public sealed record CarRowView(WeekJobRef Job, Phase Phase, bool IsFinished, IReadOnlyList<RibbonPartView> Ribbon);

/// <summary>Little's law with its numbers.</summary>
/// <param name="AtTheEnds">What the two ends of the range cut off: exactly the difference.</param>
public sealed record LittlesLawView(
    decimal CarsInHand,
    decimal EndedADay,
    decimal DaysInHand,
    decimal Product,
    decimal AtTheEnds,
    long CarMinutes,
    long EndedMinutes,
    long BeforeMinutes,
    long StillMinutes
)
{
    internal static LittlesLawView Of(LittlesLaw law) =>
        new(
            law.L,
            law.Lambda,
            law.W,
            law.LambdaW,
            law.AtTheEnds,
            law.CarMinutes,
            law.EndedMinutes,
            law.BeforeMinutes,
            law.StillMinutes
        );
}

/// <summary>Figures as text for people and as plain numbers for files.</summary>
public static class FigureText
{
    public static string Of(decimal? value, FigureUnit unit, Currency currency) =>
        value is not { } v
            ? "–"
            : unit switch
            {
                FigureUnit.MoneyMinor => new Money((long)v, currency).ToString(CultureInfo.InvariantCulture),
                FigureUnit.Percent => v.ToString("0", CultureInfo.InvariantCulture) + " %",
                FigureUnit.Hours => v.ToString("#,0.0", CultureInfo.InvariantCulture) + " h",
                FigureUnit.Days => v.ToString("0.0", CultureInfo.InvariantCulture)
                    + (Math.Abs(v) == 1 ? " day" : " days"),
                _ => v.ToString("0", CultureInfo.InvariantCulture),
            };

    /// <summary>For a cell of a file: a point before the decimals, no unit; money in the currency's whole units.</summary>
    public static string Cell(decimal? value, FigureUnit unit, Currency currency) =>
        value is not { } v ? ""
        : unit == FigureUnit.MoneyMinor
            ? (v / currency.MinorPerMajor).ToString("F" + currency.Exponent, CultureInfo.InvariantCulture)
        : decimal.Round(v, 6).ToString("0.######", CultureInfo.InvariantCulture);

    /// <summary>The unit behind a column's title.</summary>
    public static string Heading(FigureColumn column, Currency currency) =>
        column.Unit switch
        {
            FigureUnit.MoneyMinor => $"{column.Title} ({currency.Code})",
            FigureUnit.Percent => $"{column.Title} (%)",
            FigureUnit.Hours => $"{column.Title} (h)",
            FigureUnit.Days when !column.Title.Contains("ays", StringComparison.Ordinal) => $"{column.Title} (days)",
            _ => column.Title,
        };
}
