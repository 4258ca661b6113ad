using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Routing;
using ShopFloor.Data;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Quoting;
using ShopFloor.Domain.Routing;
using ShopFloor.Domain.Throughput;

namespace ShopFloor.Application.Throughput;

/// <summary>The owner's week: what was finished, what is in hand, hours, what is blocked and why, money taken.</summary>
public sealed class GetWeekReport(QueryRunner queries, TimeProvider clock) : IUseCase
{
    /// <summary>First and last day a report can begin on: within them every shop's history lies.</summary>
    public static readonly DateOnly Earliest = new(2000, 1, 1);
    public static readonly DateOnly Latest = new(2100, 1, 1);

    /// <param name="start">First local day; null: Monday of the current week.</param>
    public Task<Outcome<WeekReportView>> RunAsync(DateOnly? start, Actor actor, CancellationToken ct) =>
        queries.RunAsync<WeekReportView>(
            Permission.SeeFigures,
            actor,
            async db =>
            {
                var now = clock.GetUtcNow();
                var shop = await db.Shops.SingleAsync(ct);
                var first = start ?? MondayOf(shop.LocalDay(now));
                if (first < Earliest || first > Latest)
                {
                    return Failure.Field(
                        "start",
                        $"A week starts between {Earliest:yyyy-MM-dd} and {Latest:yyyy-MM-dd}, not on {first:yyyy-MM-dd}."
                    );
                }

                var week = ShopWeek.Starting(first, shop);
                var report = WeekReport.Build(week, now, await JobsAsync(db, week, shop, now, ct));
                return View(report, shop.Currency);
            },
            ct
        );

    public static DateOnly MondayOf(DateOnly day) => day.AddDays(-(((int)day.DayOfWeek + 6) % 7));

    private static async Task<IReadOnlyList<WeekJob>> JobsAsync(
        ShopDbContext db,
        ShopWeek week,
        Shop shop,
        DateTimeOffset now,
        CancellationToken ct
    )
    {
        var (firstDay, lastDay, from, to) = (week.FirstDay, week.LastDay, week.From, week.To);
        var entries = await db.Set<LedgerEntry>().Where(e => e.On >= firstDay && e.On <= lastDay).ToListAsync(ct);
        var paying = entries.Select(e => e.JobId).Distinct().ToList();
        var jobs = await db.JobsWhole()
            .Where(j => (j.OpenedAt < to && (j.EndedAt == null || j.EndedAt >= from)) || paying.Contains(j.Id))
            .ToListAsync(ct);
        var ids = jobs.Select(j => j.Id).ToList();
        var signed = await db.Set<SignOff>()
            .Where(s => ids.Contains(s.JobId) && s.WithdrawnAt == null)
            .ToDictionaryAsync(s => s.JobId, s => s.SignedAt, ct);
        var cars = await JobSubject.CarsAsync(db, jobs, ct);
        var quoteIds = jobs.Select(j => j.QuoteId).ToList();
        var hours = await db.Set<Quote>().Where(q => quoteIds.Contains(q.Id)).ToDictionaryAsync(q => q.Id, ct);
        var facts = await JobFacts.OfAsync(db, jobs, shop, now, ct);
        return
        [
            .. jobs.Select(j => new WeekJob(
                j.Id,
                j.Number,
                JobSubject.Title(j, cars.GetValueOrDefault(j.Id)),
                j.OpenedAt,
                signed.TryGetValue(j.Id, out var at) ? at : null,
                j.EndedAt,
                hours[j.QuoteId].Priced.Hours.P50,
                [.. j.Operations.SelectMany(o => o.Times).Select(t => new WorkedSpan(t.StartedAt, t.EndedAt))],
                [.. Blocked(j, facts[j.Id])],
                [.. entries.Where(e => e.JobId == j.Id).Select(e => Moved(e, shop)).OfType<CashMoved>()]
            )),
        ];
    }

    /// <summary>Holds with their span; and, for a job that is open now, what its next operations wait for from outside the floor.</summary>
    private static IEnumerable<BlockedSpan> Blocked(Job job, GateFacts facts)
    {
        foreach (var operation in job.Operations)
        {
            foreach (var hold in operation.Holds)
            {
                yield return new BlockedSpan(
                    $"On hold: {hold.Words()}.",
                    operation.Code,
                    hold.From,
                    hold.Until ?? job.EndedAt
                );
            }
        }

        if (job.State != JobState.Open)
        {
            yield break;
        }

        var next = job.Operations.Where(o =>
            o.Progress is OperationProgress.NotBegun or OperationProgress.Paused
            && o.Route.After.All(code => job.Operation(code)!.IsOver)
        );
        foreach (var operation in next)
        {
            foreach (
                var gate in job.Gates(operation, facts)
                    .Where(g => !g.IsMet && g.Kind is not (GateKind.Operation or GateKind.AccessWay))
            )
            {
                yield return new BlockedSpan(gate.Text, operation.Code, null, null);
            }
        }
    }

    /// <summary>Money in the shop's hands through this entry; null where it moved none. The entry's own day counts, at its first instant.</summary>
    private static CashMoved? Moved(LedgerEntry entry, Shop shop)
    {
        var minor = entry
            .Postings.Where(p =>
                p.Account is LedgerAccount.Cash or LedgerAccount.Card or LedgerAccount.Bank or LedgerAccount.Cheque
            )
            .Sum(p => p.Minor);
        return minor == 0 ? null : new CashMoved(shop.StartOf(entry.On), new Money(minor, shop.Currency));
    }

    private static WeekReportView View(WeekReport report, Currency currency)
    {
        static WeekJobRef Ref<T>(Share<T> share) => new(share.Id, share.Number, share.Car);
        return new WeekReportView(
            report.Week.FirstDay,
            report.Week.LastDay,
            report.AsOf,
            report.AsOf == report.Week.To,
            currency.Code,
            new FinishedFigure(
                report.Finished.Count,
                report.FinishedHoursEstimated,
                report.FinishedHoursLogged,
                [.. report.Finished.Select(s => new FinishedRow(Ref(s), s.Amount.HoursEstimated, s.Amount.HoursLogged))]
            ),
            new InHandFigure(report.InHand.Count, [.. report.InHand.Select(s => new InHandRow(Ref(s), s.Amount))]),
            new HoursFigure(
                report.HoursLoggedTotal,
                [.. report.HoursLogged.Select(s => new HoursRow(Ref(s), s.Amount))]
            ),
            new BlockedFigure(
                report.Blocked.Count,
                [
                    .. report.Blocked.Select(s => new BlockedRow(
                        Ref(s),
                        s.Amount.Operation,
                        s.Amount.Why,
                        s.Amount.From,
                        s.Amount.Until
                    )),
                ]
            ),
            new MoneyFigure(
                report.MoneyTakenTotal(currency).Minor,
                [.. report.MoneyTaken.Select(s => new MoneyRow(Ref(s), s.Amount.Minor))]
            )
        );
    }
}
