using System.Globalization;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Papers;
using ShopFloor.Application.Quoting;
using ShopFloor.Documents.Papers;
using ShopFloor.Documents.Papers.Models;
using ShopFloor.Domain.Changes;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Changes;

/// <summary>A change order as a PDF, from what is stored: nothing is priced again.</summary>
public sealed class PrintChange(QueryRunner runner, PaperHeads heads, IPapers papers, TimeProvider clock) : IUseCase
{
    public Task<Outcome<PrintedPaper>> RunAsync(ChangeOrderId id, PaperSize? size, Actor actor, CancellationToken ct) =>
        runner.RunAsync<PrintedPaper>(
            Permission.SeeMoney,
            actor,
            async db =>
            {
                if (await db.Set<ChangeOrder>().SingleOrDefaultAsync(c => c.Id == id, ct) is not { } change)
                {
                    return Failure.Missing("change order");
                }

                var job = await db.Set<Job>().AsNoTracking().SingleAsync(j => j.Id == change.JobId, ct);
                var (shop, customer, car) = await PaperHeads.ReadAsync(db, job.CustomerId, job.CarId, ct);
                var view = await ReadChanges.ViewAsync(db, change, ct);
                var now = clock.GetUtcNow();
                var paper = new ChangePaper(
                    await heads.LetterheadAsync(shop, ct),
                    PaperHeads.Of(customer),
                    PaperHeads.Of(car, job.Scope.Kind.Title()),
                    change.Number,
                    job.Number,
                    change.State.ToString(),
                    change.State == ChangeState.Draft,
                    shop.LocalDay(change.OfferedAt ?? now),
                    change.Terms.Reason,
                    [
                        .. view.Photos.Select(
                            (p, i) => p.Caption ?? string.Create(CultureInfo.InvariantCulture, $"Photo {i + 1}")
                        ),
                    ],
                    change.Price.Sentences,
                    [.. Work(change.Terms)],
                    [.. change.Priced.Lines.Select(l => PrintQuote.Line(l, change.Priced))],
                    PrintQuote.Totals(change.Priced) with
                    {
                        TradeCredit = new Money(0, Currency.Of(change.Priced.CurrencyCode)),
                    },
                    [
                        ("The job before this change", Money(view.AgreedMinor, change), false),
                        ("The job with this change", Money(view.AgreedWithMinor, change), true),
                    ],
                    [.. Time(view)],
                    [.. Cautions(change)],
                    change.ContentHash,
                    change.State == ChangeState.Approved
                        ? new PaperSignature(
                            change.ApprovedBy!,
                            TimeZoneInfo.ConvertTime(change.ClosedAt!.Value, shop.Zone)
                        )
                        : null,
                    change.ApprovedHow?.Title()
                );
                return new PrintedPaper(
                    papers.Change(paper, PaperHeads.SettingsOf(shop, size, now)),
                    change.Number + ".pdf"
                );
            },
            ct
        );

    private static Money Money(long minor, ChangeOrder change) => new(minor, Currency.Of(change.Priced.CurrencyCode));

    private static IEnumerable<string> Work(ChangeTerms terms) =>
        terms
            .Operations.Select(o => $"{o.Route.Code} {o.Route.Title}")
            .Concat(terms.InspectionLines.Select(l => $"Checked: {l.What}"));

    private static IEnumerable<string> Time(ChangeView view)
    {
        var hours = view.Price.Priced.Hours;
        yield return $"Expected work: {Hours(hours.P50)}; priced: {Hours(hours.Priced)}.";
        yield return (view.PromisedBefore, view.PromisedAfter) switch
        {
            ({ } from, { } to) when from != to =>
                $"Promised day: {Day(to)} instead of {Day(from)}, once this change is approved.",
            ({ } from, _) => $"The promised day stays {Day(from)}.",
            (null, { } to) => $"Promised day: {Day(to)}, once this change is approved.",
            _ => "No day was promised.",
        };
    }

    private static string Hours(decimal hours) =>
        string.Create(
            CultureInfo.InvariantCulture,
            $"{Math.Abs(hours):0.0} h {(hours < 0 ? "less" : "more")} than agreed before"
        );

    private static string Day(DateOnly day) => day.ToString("dddd d MMMM yyyy", CultureInfo.InvariantCulture);

    private static IEnumerable<string> Cautions(ChangeOrder change) =>
        change
            .Terms.Operations.Select(o => o.Route.Caution)
            .Concat(change.Terms.InspectionLines.Select(l => l.Caution))
            .OfType<string>()
            .Concat(change.Priced.Precautions)
            .Concat(change.Priced.Gates)
            .Append(
                change.State == ChangeState.Offered
                    ? "The work that this change concerns waits until you have approved or declined it."
                    : null
            )
            .Append(MoneyCautions.Estimate)
            .OfType<string>()
            .Distinct(StringComparer.Ordinal);
}
