using System.Globalization;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Papers;
using ShopFloor.Documents.Papers;
using ShopFloor.Documents.Papers.Models;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Throughput;

namespace ShopFloor.Application.Throughput;

/// <summary>The figures of some days as a PDF of a page or two, in the words and numbers of the page.</summary>
public sealed class PrintWeek(
    QueryRunner queries,
    GetWeekReport week,
    PaperHeads heads,
    IPapers papers,
    TimeProvider clock
) : IUseCase
{
    /// <summary>Rows of a table on paper; the page has them all.</summary>
    public const int MostRows = 8;

    public async Task<Outcome<PrintedPaper>> RunAsync(
        DateOnly? start,
        DateOnly? end,
        PaperSize? size,
        Actor actor,
        CancellationToken ct
    )
    {
        var read = await week.RunAsync(start, end, actor, ct);
        return read.TryGet(out var report, out var failure) ? await OfAsync(report, size, actor, ct) : failure;
    }

    /// <summary>Of a report that was read already.</summary>
    internal Task<Outcome<PrintedPaper>> OfAsync(
        WeekReportView report,
        PaperSize? size,
        Actor actor,
        CancellationToken ct
    ) =>
        queries.RunAsync<PrintedPaper>(
            Permission.SeeFigures,
            actor,
            async db =>
            {
                var shop = await db.Shops.SingleAsync(ct);
                var paper = Paper(report, await heads.LetterheadAsync(shop, ct), shop);
                return new PrintedPaper(
                    papers.Week(paper, PaperHeads.SettingsOf(shop, size, clock.GetUtcNow())),
                    $"week-{report.Start:yyyy-MM-dd}-to-{report.End:yyyy-MM-dd}.pdf"
                );
            },
            ct
        );

    private static WeekPaper Paper(WeekReportView report, PaperShop letterhead, Shop shop)
    {
        var currency = Currency.Of(report.Currency);
        return new WeekPaper(
            letterhead,
            WeekWords.Days(report),
            report.IsOver
                ? "the end of these days"
                : TimeZoneInfo
                    .ConvertTime(report.AsOf, shop.Zone)
                    .ToString("ddd d MMM yyyy, HH:mm", CultureInfo.InvariantCulture),
            WeekWords.InWords(report),
            [
                .. FigureDefinitions.Groups.Select(g => new WeekPaperGroup(
                    g.Title,
                    [
                        .. WeekWords
                            .Of(report, g)
                            .Select(f => new WeekPaperFigure(f.Name, WeekWords.Value(f, currency), WeekWords.Note(f))),
                    ]
                )),
            ],
            [.. Tables(report, currency)],
            [.. report.TieOuts.Select(WeekWords.Of)]
        );
    }

    private static IEnumerable<WeekPaperTable> Tables(WeekReportView report, Currency currency)
    {
        foreach (var definition in new[] { FigureDefinitions.Waiting, FigureDefinitions.Margin })
        {
            var figure = report.Figures.Single(f => f.Code == definition.Code);
            if (figure.Rows.Count > 0)
            {
                yield return Rows(figure, currency);
            }
        }

        yield return new WeekPaperTable(
            $"Flow of the last {report.Flow.Count} weeks",
            ["Week from", "Taken in", "Finished", "In hand at its end"],
            [
                .. report.Flow.Select(w =>
                    (IReadOnlyList<string>)
                        [
                            w.Monday.ToString("d MMM yyyy", CultureInfo.InvariantCulture),
                            Number(w.TakenIn),
                            Number(w.Finished),
                            Number(w.InHand),
                        ]
                ),
            ],
            null
        );
    }

    private static WeekPaperTable Rows(FigureView figure, Currency currency)
    {
        var columns = new[] { figure.Columns.Amount, figure.Columns.Other, figure.Columns.Third }
            .OfType<FigureColumn>()
            .ToList();
        return new WeekPaperTable(
            figure.Name,
            [figure.Columns.Row, .. columns.Select(c => FigureText.Heading(c, currency))],
            [
                .. figure
                    .Rows.Take(MostRows)
                    .Select(r =>
                        (IReadOnlyList<string>)
                            [
                                r.Label,
                                .. columns.Zip(
                                    new[] { r.Amount, r.Other, r.Third },
                                    (c, v) => FigureText.Of(v, c.Unit, currency)
                                ),
                            ]
                    ),
            ],
            figure.Rows.Count > MostRows ? $"{figure.Rows.Count - MostRows} more on the page." : null
        );
    }

    private static string Number(int value) => value.ToString(CultureInfo.InvariantCulture);
}
