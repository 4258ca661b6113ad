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
    /// <param name="end">Last local day; null: the seventh from the first.</param>
    public Task<Outcome<WeekReportView>> RunAsync(DateOnly? start, DateOnly? end, Actor actor, CancellationToken ct) =>
        queries.RunAsync<WeekReportView>(
            Permission.SeeFigures,
            actor,
            async db =>
            {
                var now = clock.GetUtcNow();
                var shop = await db.Shops.SingleAsync(ct);
                return RangeOf(start, end, shop, now).TryGet(out var week, out var failure)
                    ? await ReadAsync(db, week, shop, now, ct)
                    : failure;
            },
            ct
        );

    private static Outcome<ShopWeek> RangeOf(DateOnly? start, DateOnly? end, Shop shop, DateTimeOffset now)
    {
        var first = start ?? MondayOf(shop.LocalDay(now));
        if (first < Earliest || first > Latest)
        {
            return Failure.Field(
                "start",
                $"A week starts between {Earliest:yyyy-MM-dd} and {Latest:yyyy-MM-dd}, not on {first:yyyy-MM-dd}."
            );
        }

        return start is null && end is not null ? Failure.Field("start", "Give the first day too.")
            : end is { } last ? ShopWeek.Range(first, last, shop)
            : ShopWeek.Starting(first, shop);
    }

    private static async Task<WeekReportView> ReadAsync(
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
        // By themselves, so that an index finds them; asked for in one question with the paying ones, all jobs there ever were would be looked at.
        var inRange = await db.Set<Job>()
            .Where(j => j.OpenedAt < to && (j.EndedAt == null || j.EndedAt >= from))
            .Select(j => j.Id)
            .ToListAsync(ct);
        var ids = inRange.Union(paying).ToList();
        var jobs = await db.JobsWhole().Where(j => ids.Contains(j.Id)).ToListAsync(ct);
        var signed = await db.Set<SignOff>()
            .Where(s => ids.Contains(s.JobId) && s.WithdrawnAt == null)
            .ToDictionaryAsync(s => s.JobId, s => s.SignedAt, ct);
        var cars = await JobSubject.CarsAsync(db, jobs, ct);
        var quoteIds = jobs.Select(j => j.QuoteId).ToList();
        var quotes = await db.Set<Quote>().Where(q => quoteIds.Contains(q.Id)).ToDictionaryAsync(q => q.Id, ct);
        var reader = new FlowReader(db, week, shop, now, jobs, quotes, signed, cars);
        var report = WeekReport.Build(week, now, await JobsAsync(reader, entries, ct));
        var flow = FlowReport.Build(week, now, shop, await reader.ReadAsync(ct));
        return View(report, shop.Currency) with
        {
            Today = shop.LocalDay(now),
            Figures = [.. flow.Figures.Select(FigureView.Of)],
            Cars = [.. flow.Cars.Select(Row)],
            LittlesLaw = LittlesLawView.Of(flow.Law),
            TieOuts = flow.TieOuts,
            Flow = FlowWeek.Of(await reader.StaysAsync(ct), lastDay, now, shop),
        };
    }

    private static CarRowView Row(CarRow row) =>
        new(
            new WeekJobRef(row.Car.Id, row.Car.Number, row.Car.Car),
            row.Phase,
            row.Car.FinishedAt is not null,
            [.. row.Ribbon.Select(p => new RibbonPartView(p.Phase, p.WaitingFor, p.From, p.Until, p.Minutes))]
        );

    public static DateOnly MondayOf(DateOnly day) => FlowWeek.MondayOf(day);

    private static async Task<IReadOnlyList<WeekJob>> JobsAsync(
        FlowReader read,
        IReadOnlyCollection<LedgerEntry> entries,
        CancellationToken ct
    )
    {
        var shop = read.Shop;
        var facts = await JobFacts.OfAsync(read.Db, [.. read.Jobs], shop, read.Now, ct);
        return
        [
            .. read.Jobs.Select(j => new WeekJob(
                j.Id,
                j.Number,
                JobSubject.Title(j, read.Cars.GetValueOrDefault(j.Id)),
                j.OpenedAt,
                read.Signed.TryGetValue(j.Id, out var at) ? at : null,
                j.EndedAt,
                read.Quotes[j.QuoteId].Priced.Hours.P50,
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
        var minor = FlowReader.MoneyOf(entry);
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
