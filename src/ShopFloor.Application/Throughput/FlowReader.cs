using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Quoting;
using ShopFloor.Application.Routing;
using ShopFloor.Data;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Quoting;
using ShopFloor.Domain.Routing;
using ShopFloor.Domain.Stock;
using ShopFloor.Domain.Throughput;
using ShopFloor.Domain.Times;
using QuoteFact = ShopFloor.Domain.Throughput.QuoteFact;

namespace ShopFloor.Application.Throughput;

/// <summary>Reads what the figures of a range are worked out from.</summary>
/// <param name="Jobs">Every job that was open in the range, with its operations and times.</param>
/// <param name="Signed">When each was signed off, where the sign-off stands.</param>
internal sealed record FlowReader(
    ShopDbContext Db,
    ShopWeek Week,
    Shop Shop,
    DateTimeOffset Now,
    IReadOnlyList<Job> Jobs,
    IReadOnlyDictionary<QuoteId, Quote> Quotes,
    IReadOnlyDictionary<JobId, DateTimeOffset> Signed,
    IReadOnlyDictionary<JobId, Car> Cars
)
{
    public async Task<FlowFacts> ReadAsync(CancellationToken ct)
    {
        var names = await Db.Users.ToDictionaryAsync(u => u.Id, u => u.DisplayName, ct);
        var ledger = await LedgerAsync(ct);
        return new FlowFacts(
            await CarsAsync(names, ledger, ct),
            await PastDaysAsync(ct),
            await AttendanceAsync(names, ct),
            await QuotesAsync(ct),
            ledger
        );
    }

    private async Task<IReadOnlyList<CarLog>> CarsAsync(
        Dictionary<Guid, string> names,
        IReadOnlyList<LedgerFact> ledger,
        CancellationToken ct
    )
    {
        var ids = Jobs.Select(j => j.Id).ToList();
        var came = await Db.Set<DropOff>()
            .Where(d => ids.Contains(d.JobId))
            .Select(d => new { d.JobId, d.BroughtInAt })
            .ToDictionaryAsync(d => d.JobId, d => d.BroughtInAt, ct);
        var parts = (
            await Db.Set<CustomerPart>()
                .Where(p => ids.Contains(p.JobId) && p.State != CustomerPartState.Dropped)
                .ToListAsync(ct)
        ).ToLookup(p => p.JobId);
        var costs = (await Db.Set<JobCost>().Where(c => ids.Contains(c.JobId)).ToListAsync(ct)).ToLookup(c => c.JobId);
        var end = Week.To;
        var taken = (
            await Db.Set<JobStock>()
                .Where(u => ids.Contains(u.JobId) && u.At < end)
                .Select(u => new { u.JobId, u.ValueMinor })
                .ToListAsync(ct)
        ).ToLookup(u => u.JobId, u => u.ValueMinor);
        var books = await BooksAsync(ct);
        var invoiced = ledger.Where(e => e.IsPaper).Select(e => e.Job).ToHashSet();
        return
        [
            .. Jobs.Select(j => new CarLog(
                j.Id,
                j.Number,
                JobSubject.Title(j, Cars.GetValueOrDefault(j.Id)),
                j.Scope.KitCode ?? j.Scope.Kind.Title(),
                InAt(
                    came.TryGetValue(j.Id, out var at) ? at : null,
                    j.Operations.Select(o => o.BegunAt).Where(b => b is not null).Min()
                ),
                Signed.TryGetValue(j.Id, out var signed) ? signed : null,
                j.EndedAt,
                j.State == JobState.Cancelled,
                j.PromiseMoves.Count > 0 ? j.PromiseMoves[0].From : j.PromisedOn,
                j.PromisedOn,
                Quotes[j.QuoteId].Priced.Hours.P50,
                invoiced.Contains(j.Id) ? Quotes[j.QuoteId].Priced.Hours.Priced : null,
                costs[j.Id].Where(c => c.Counts && c.On <= Week.LastDay).Sum(c => c.AmountMinor) + taken[j.Id].Sum(),
                [.. j.Operations.Where(o => !IsLeftOut(o)).Select(o => Step(o, names))],
                [.. CarWaits.Of(j, parts[j.Id], Shop)]
            )
            {
                Rates = books[Quotes[j.QuoteId].PriceBookId],
            }),
        ];
    }

    /// <summary>What an hour costs, of each price book that these jobs' quotes were priced with.</summary>
    private async Task<IReadOnlyDictionary<PriceBookId, CostRates>> BooksAsync(CancellationToken ct)
    {
        var ids = Jobs.Select(j => Quotes[j.QuoteId].PriceBookId).Distinct().ToList();
        var books = await Db.Set<PriceBookEdition>().AsNoTracking().Where(b => ids.Contains(b.Id)).ToListAsync(ct);
        return books.ToDictionary(b => b.Id, b => CostRates.Of(b.Book));
    }

    /// <summary>Not needed and never worked on: no part of the car's way.</summary>
    private static bool IsLeftOut(Operation operation) =>
        operation is { Progress: OperationProgress.NotNeeded, Times.Count: 0, MinutesBefore: 0 };

    private static CarStep Step(Operation operation, Dictionary<Guid, string> names) =>
        new(
            operation.Code,
            operation.Phase,
            operation.Mends is not null,
            operation.FinishedAt
                ?? (operation.IsOver ? operation.Times.Max(t => t.EndedAt) ?? operation.BegunAt : null),
            [.. operation.Times.Select(t => new PersonSpan(NameOf(t.Worker, names), t.StartedAt, t.EndedAt))]
        )
        {
            Skill = operation.Skill,
            MinutesBefore = operation.MinutesBefore,
        };

    private static DateTimeOffset? InAt(DateTimeOffset? broughtIn, DateTimeOffset? firstWork) =>
        broughtIn is { } b && firstWork is { } w && w < b ? w : broughtIn ?? firstWork;

    private static string NameOf(Worker worker, Dictionary<Guid, string> names) =>
        worker.Person is { } person ? NameOf(person, names) : "A program, by its key";

    private static string NameOf(PersonId person, Dictionary<Guid, string> names) =>
        names.GetValueOrDefault(person.Value, "Somebody who has left");

    private async Task<IReadOnlyList<double>> PastDaysAsync(CancellationToken ct)
    {
        var until = Now < Week.To ? Now : Week.To;
        var since = until.AddMonths(-FigureDefinitions.PastMonths);
        var finished = await Db.Set<SignOff>()
            .Where(s => s.WithdrawnAt == null && s.SignedAt < until && s.SignedAt >= since)
            .OrderByDescending(s => s.SignedAt)
            .Take(FigureDefinitions.PastCars)
            .Select(s => new { s.JobId, s.SignedAt })
            .ToListAsync(ct);
        var ids = finished.Select(f => f.JobId).ToList();
        var came = await CameAsync(ids, ct);
        return
        [
            .. finished
                .Where(f => came.ContainsKey(f.JobId))
                .Select(f => WorkedTime.Minutes(came[f.JobId], f.SignedAt) / (24.0 * 60)),
        ];
    }

    /// <summary>Comings and goings of the cars of the weeks that are looked at together.</summary>
    public async Task<IReadOnlyCollection<CarStay>> StaysAsync(CancellationToken ct)
    {
        var from = Shop.StartOf(FlowWeek.FirstMonday(Week.LastDay));
        var to = Shop.StartOf(FlowWeek.MondayOf(Week.LastDay).AddDays(7));
        var jobs = await Db.Set<Job>()
            .Where(j => j.OpenedAt < to && (j.EndedAt == null || j.EndedAt >= from))
            .Select(j => new { j.Id, j.EndedAt })
            .ToListAsync(ct);
        var ids = jobs.ConvertAll(j => j.Id);
        var came = await CameAsync(ids, ct);
        var signed = await Db.Set<SignOff>()
            .Where(s => ids.Contains(s.JobId) && s.WithdrawnAt == null)
            .ToDictionaryAsync(s => s.JobId, s => s.SignedAt, ct);
        return
        [
            .. jobs.Select(j => new CarStay(
                came.TryGetValue(j.Id, out var inAt) ? inAt : null,
                signed.TryGetValue(j.Id, out var at) ? at : null,
                j.EndedAt
            )),
        ];
    }

    /// <summary>When each car came: its drop-off, or the first work on it; cars that have not come are left out.</summary>
    private async Task<Dictionary<JobId, DateTimeOffset>> CameAsync(List<JobId> ids, CancellationToken ct)
    {
        var came = await Db.Set<DropOff>()
            .Where(d => ids.Contains(d.JobId))
            .Select(d => new { d.JobId, d.BroughtInAt })
            .ToDictionaryAsync(d => d.JobId, d => d.BroughtInAt, ct);
        var begun = await Db.Set<Operation>()
            .Where(o => ids.Contains(o.JobId) && o.BegunAt != null)
            .GroupBy(o => o.JobId)
            .Select(g => new { JobId = g.Key, First = g.Min(o => o.BegunAt) })
            .ToDictionaryAsync(g => g.JobId, g => g.First, ct);
        return ids.Distinct()
            .Select(id => (id, At: InAt(came.TryGetValue(id, out var c) ? c : null, begun.GetValueOrDefault(id))))
            .Where(p => p.At is not null)
            .ToDictionary(p => p.id, p => p.At!.Value);
    }

    private async Task<IReadOnlyList<PersonSpan>> AttendanceAsync(Dictionary<Guid, string> names, CancellationToken ct)
    {
        var (from, to) = (Week.From, Week.To);
        // By their end only: asked for by their beginning too, SQLite would go through all spells there ever were.
        var spells = await Db.Set<ShopTime>()
            .Where(t => t.IsAttendance && (t.EndedAt == null || t.EndedAt > from))
            .ToListAsync(ct);
        return
        [
            .. spells
                .Where(t => t.StartedAt < to)
                .Select(t => new PersonSpan(NameOf(t.Person, names), t.StartedAt, t.EndedAt)),
        ];
    }

    private async Task<IReadOnlyList<QuoteFact>> QuotesAsync(CancellationToken ct)
    {
        var (from, to) = (Week.From, Week.To);
        var (dayBefore, lastDay) = (Week.FirstDay.AddDays(-1), Week.LastDay);
        var today = Shop.LocalDay(Now);
        var quotes = await Db.Set<Quote>()
            .Where(q =>
                (q.SentAt >= from && q.SentAt < to)
                || (q.ClosedAt >= from && q.ClosedAt < to)
                || (q.State == QuoteState.Sent && q.ValidUntil >= dayBefore && q.ValidUntil < lastDay)
            )
            .OrderBy(q => q.Number)
            .ThenBy(q => q.Revision)
            .Select(q => new
            {
                q.Number,
                q.Revision,
                q.State,
                q.TotalMinor,
                q.SentAt,
                q.ClosedAt,
                q.ValidUntil,
                q.LostReason,
            })
            .ToListAsync(ct);
        return
        [
            .. quotes.Select(q => new QuoteFact(
                $"{q.Number} revision {q.Revision}",
                Quote.Word(q.State == QuoteState.Sent && q.ValidUntil < today ? QuoteState.Expired : q.State),
                q.TotalMinor,
                q.SentAt,
                q.State == QuoteState.Accepted ? q.ClosedAt : null,
                q.State == QuoteState.Declined ? q.ClosedAt : null,
                q.State == QuoteState.Sent ? q.ValidUntil?.AddDays(1) : null,
                q.State == QuoteState.Declined ? LostReasons.Title(q.LostReason ?? LostReason.Other) : null
            )),
        ];
    }

    /// <summary>Entries of the range's days, of any job; and what was booked before them on the accounts that are looked at.</summary>
    private async Task<IReadOnlyList<LedgerFact>> LedgerAsync(CancellationToken ct)
    {
        var (firstDay, lastDay) = (Week.FirstDay, Week.LastDay);
        var back = Week.From.AddMonths(-FigureDefinitions.AccountMonths);
        var looked = Db.Set<Job>().Where(j => j.EndedAt == null || j.EndedAt >= back);
        var entries = await Db.Set<LedgerEntry>().Where(e => e.On >= firstDay && e.On <= lastDay).ToListAsync(ct);
        // Cut by the day here and not in the question: SQLite would go by the index of days, through all entries there ever were.
        var booked = await looked.Join(Db.Set<LedgerEntry>(), j => j.Id, e => e.JobId, (_, e) => e).ToListAsync(ct);
        entries.AddRange(booked.Where(e => e.On < firstDay));
        var titles = await TitlesAsync(entries.ConvertAll(e => e.JobId), looked, ct);
        return
        [
            .. entries.Select(e => new LedgerFact(
                e.JobId,
                titles[e.JobId],
                e.On,
                MoneyOf(e),
                e.CustomerMinor,
                -e.Sum(LedgerAccount.Sales),
                e.Paper is not null,
                e.Method is not null && e.Kind != EntryKind.TradeCredit
            )),
        ];
    }

    /// <summary>Number and car of the jobs that entries belong to; of the jobs no more is read than that.</summary>
    private async Task<Dictionary<JobId, string>> TitlesAsync(
        IEnumerable<JobId> wanted,
        IQueryable<Job> looked,
        CancellationToken ct
    )
    {
        var jobs = await HeadsAsync(looked, ct);
        var others = wanted.Except(jobs.Select(j => j.Id)).ToList();
        if (others.Count > 0)
        {
            jobs.AddRange(await HeadsAsync(Db.Set<Job>().Where(j => others.Contains(j.Id)), ct));
        }

        return jobs.ToDictionary(j => j.Id, j => $"{j.Number} {JobSubject.TitleOf(j.Scope, j.Car)}");
    }

    private async Task<List<(JobId Id, string Number, JobScope Scope, Car? Car)>> HeadsAsync(
        IQueryable<Job> jobs,
        CancellationToken ct
    )
    {
        var rows = await jobs.LeftJoin(
                Db.Set<Car>(),
                j => j.CarId,
                c => (CarId?)c.Id,
                (j, c) =>
                    new
                    {
                        j.Id,
                        j.Number,
                        j.Scope,
                        Car = c,
                    }
            )
            .ToListAsync(ct);
        return rows.ConvertAll(r => (r.Id, r.Number, r.Scope, r.Car));
    }

    /// <summary>Money in the shop's hands through an entry: above zero came in.</summary>
    internal static long MoneyOf(LedgerEntry entry) =>
        entry
            .Postings.Where(p =>
                p.Account is LedgerAccount.Cash or LedgerAccount.Card or LedgerAccount.Bank or LedgerAccount.Cheque
            )
            .Sum(p => p.Minor);
}
