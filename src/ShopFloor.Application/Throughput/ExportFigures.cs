using System.Globalization;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Throughput;

namespace ShopFloor.Application.Throughput;

/// <summary>A file and the name it is saved under.</summary>
public sealed record FigureFile(string Name, string Content);

/// <summary>The rows behind a figure as CSV (RFC 4180); text that a spreadsheet would run is guarded.</summary>
public sealed class ExportFigures(GetWeekReport week) : IUseCase
{
    /// <summary>The table of all figures, and that of the cars' ribbons.</summary>
    public const string AllFigures = "figures";
    public const string Ribbons = "ribbons";

    public async Task<Outcome<FigureFile>> RunAsync(
        string table,
        DateOnly? start,
        DateOnly? end,
        Actor actor,
        CancellationToken ct
    )
    {
        var read = await week.RunAsync(start, end, actor, ct);
        return read.TryGet(out var report, out var failure) ? File(table, report) : failure;
    }

    private static Outcome<FigureFile> File(string table, WeekReportView report)
    {
        var currency = Currency.Of(report.Currency);
        var lines =
            table == AllFigures ? All(report, currency)
            : table == Ribbons ? RibbonsOf(report)
            : report.Figures.FirstOrDefault(f => f.Code == table) is { } figure ? Of(figure, currency)
            : null;
        return lines is null
            ? Failure.Missing("table of figures by this name")
            : new FigureFile($"{table}-{report.Start:yyyy-MM-dd}-to-{report.End:yyyy-MM-dd}.csv", CsvText.Write(lines));
    }

    private static IEnumerable<string?[]> All(WeekReportView report, Currency currency) =>
        report
            .Figures.Select(f =>
                new[]
                {
                    f.Code,
                    CsvText.Guard(f.Name),
                    FigureText.Cell(f.Value, f.Unit, currency),
                    f.Unit == FigureUnit.MoneyMinor ? currency.Code : f.Unit.ToString().ToLowerInvariant(),
                    CsvText.Guard(f.Definition),
                    CsvText.Guard(f.NotYet ?? f.Remark ?? ""),
                }
            )
            .Prepend(["code", "name", "value", "unit", "definition", "remark"]);

    private static IEnumerable<string?[]> Of(FigureView figure, Currency currency)
    {
        var columns = figure.Columns;
        string?[] Cells(string? row, string? detail, string? amount, string? other, string? third) =>
            [
                row,
                .. columns.Detail is null ? Array.Empty<string?>() : [detail],
                amount,
                .. columns.Other is null ? Array.Empty<string?>() : [other],
                .. columns.Third is null ? Array.Empty<string?>() : [third],
            ];
        return figure
            .Rows.Select(r =>
                Cells(
                    CsvText.Guard(r.Label),
                    CsvText.Guard(r.Detail ?? ""),
                    FigureText.Cell(r.Amount, columns.Amount.Unit, currency),
                    columns.Other is { } other ? FigureText.Cell(r.Other, other.Unit, currency) : null,
                    columns.Third is { } third ? FigureText.Cell(r.Third, third.Unit, currency) : null
                )
            )
            .Prepend(
                Cells(
                    columns.Row,
                    columns.Detail,
                    FigureText.Heading(columns.Amount, currency),
                    columns.Other is { } second ? FigureText.Heading(second, currency) : null,
                    columns.Third is { } last ? FigureText.Heading(last, currency) : null
                )
            );
    }

    private static IEnumerable<string?[]> RibbonsOf(WeekReportView report) =>
        report
            .Cars.SelectMany(c =>
                c.Ribbon.Select(p =>
                    new[]
                    {
                        c.Job.Number,
                        CsvText.Guard(c.Job.Car),
                        p.Phase.Title(),
                        CsvText.Guard(p.WaitingFor ?? "worked on"),
                        Instant(p.FromAt),
                        Instant(p.UntilAt),
                        p.Minutes.ToString(CultureInfo.InvariantCulture),
                    }
                )
            )
            .Prepend(["Job", "Car", "Phase", "Worked on, or waiting for", "From (UTC)", "Until (UTC)", "Minutes"]);

    private static string Instant(DateTimeOffset at) =>
        at.UtcDateTime.ToString("yyyy-MM-ddTHH:mm:ss'Z'", CultureInfo.InvariantCulture);
}
