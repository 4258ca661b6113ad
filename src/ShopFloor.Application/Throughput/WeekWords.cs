using System.Globalization;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Throughput;

namespace ShopFloor.Application.Throughput;

/// <summary>The week in words, the same on the page, in the mail and on paper.</summary>
public static class WeekWords
{
    /// <summary><c>16 Nov to 22 Nov 2026</c></summary>
    public static string Days(WeekReportView report) =>
        $"{report.Start.ToString("d MMM", CultureInfo.InvariantCulture)} to {report.End.ToString("d MMM yyyy", CultureInfo.InvariantCulture)}";

    public static string Value(FigureView figure, Currency currency) =>
        FigureText.Of(figure.Value, figure.Unit, currency);

    /// <summary>What is said beside a value; null where there is nothing.</summary>
    public static string? Note(FigureView figure) => figure.NotYet ?? figure.Remark;

    /// <summary>A tie-out with its sign and its word.</summary>
    public static string Of(TieOut tie) => $"{Sign(tie)} {tie.Sentence}";

    public static string Sign(TieOut tie) => tie.Holds ? "✓ ties out" : "✗ does not tie out";

    /// <summary>Figures of one heading, in their order.</summary>
    public static IEnumerable<FigureView> Of(WeekReportView report, FigureGroup group) =>
        report.Figures.Where(f => group.Has(f.Code));

    /// <summary>Medians and what cars waited for, in a few sentences.</summary>
    public static string InWords(WeekReportView report)
    {
        var currency = Currency.Of(report.Currency);
        FigureView Of(FigureDefinition d) => report.Figures.Single(f => f.Code == d.Code);
        string Value(FigureDefinition d) => WeekWords.Value(Of(d), currency);
        return string.Join(
            " ",
            new[]
            {
                Of(FigureDefinitions.CycleMedian) is { Value: not null }
                    ? $"Finished cars took {Value(FigureDefinitions.CycleMedian)} at the median, 85 in 100 of them no more than {Value(FigureDefinitions.CycleP85)}."
                    : Of(FigureDefinitions.CycleMedian).NotYet,
                Of(FigureDefinitions.Waiting) is { Rows: [var first, ..] }
                    ? $"Cars waited longest for: {first.Label} ({FigureText.Of(first.Amount, FigureUnit.Hours, currency)})."
                    : null,
                Of(FigureDefinitions.OnTimeLast) is { Value: not null }
                    ? $"On time by the last promise: {Value(FigureDefinitions.OnTimeLast)}; by the first: {Value(FigureDefinitions.OnTimeFirst)}."
                    : Of(FigureDefinitions.OnTimeLast).NotYet,
            }.OfType<string>()
        );
    }
}
