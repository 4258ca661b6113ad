using System.Globalization;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Accounts;
using ShopFloor.Application.Routing;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Diary;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Quoting;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Diary;

/// <summary>An open job with the words that name it.</summary>
internal sealed record DiaryJobWords(DiaryJob Facts, string Number, string Car, string Customer, string? Phone);

/// <summary>Everything that the diary is made from.</summary>
/// <param name="Owing">Jobs whose car is gone and that owe money.</param>
internal sealed record DiaryMaterial(
    IReadOnlyList<DiaryJobWords> Jobs,
    IReadOnlyList<(Reminder Reminder, string? Number, string? Customer)> Reminders,
    IReadOnlyList<DiaryEnquiry> Enquiries,
    IReadOnlyDictionary<QuoteId, string?> Phones,
    IReadOnlyList<DiaryCall> Owing,
    bool IsCut
)
{
    public IReadOnlyList<DiaryLine> Lines(DateOnly today)
    {
        int Over(DateOnly day) => Math.Max(0, today.DayNumber - day.DayNumber);
        return
        [
            .. Jobs.SelectMany(j =>
                DiaryRules
                    .Marks(j.Facts)
                    .Select(m => new DiaryLine(
                        m.Matter,
                        m.Day,
                        Clock(m.Time),
                        m.Standing,
                        j.Facts.Job,
                        j.Number,
                        j.Car,
                        j.Customer,
                        m.What,
                        Over(m.Day),
                        null,
                        0
                    ))
            ),
            .. Reminders.Select(r => new DiaryLine(
                DiaryMatter.Reminder,
                r.Reminder.Day,
                Clock(r.Reminder.Time),
                r.Reminder.DoneAt is null ? DiaryStanding.Open : DiaryStanding.Done,
                r.Reminder.JobId,
                r.Number,
                null,
                r.Customer,
                r.Reminder.Text,
                Over(r.Reminder.Day),
                r.Reminder.Id,
                r.Reminder.Version
            )),
        ];
    }

    public IReadOnlyList<DiaryCall> Calls(DateOnly today) =>
        [
            .. Jobs.SelectMany(j =>
                DiaryRules
                    .Calls(j.Facts, today)
                    .Select(why => new DiaryCall(
                        why,
                        j.Facts.Job,
                        null,
                        j.Number,
                        j.Car,
                        j.Customer,
                        j.Phone,
                        why switch
                        {
                            CallReason.NoCollectionAgreed => j.Facts.ReadyOn,
                            CallReason.CollectionTooEarly => j.Facts.PromisedOn,
                            _ => null,
                        }
                    ))
            ),
            .. Enquiries
                .Select(e => (e, Why: DiaryRules.Call(e.IsAccepted, e.SentOn, e.ValidUntil, today)))
                .Where(p => p.Why is not null)
                .Select(p => new DiaryCall(
                    p.Why!.Value,
                    null,
                    p.e.Quote,
                    p.e.Number,
                    p.e.Car,
                    p.e.Customer,
                    Phones.GetValueOrDefault(p.e.Quote),
                    p.Why is CallReason.OfferEnds or CallReason.OfferEnded ? p.e.ValidUntil : p.e.SentOn
                )),
            .. Owing,
        ];

    private static string? Clock(TimeOnly? time) => time?.ToString(Appointment.Clock, CultureInfo.InvariantCulture);
}

internal static class DiaryLoading
{
    /// <summary>Most open jobs that are read, those promised first.</summary>
    public const int MostJobs = 500;

    /// <summary>Most enquiries that are read, the newest.</summary>
    public const int MostEnquiries = 200;

    /// <summary>How long after the car has gone an open balance is called for here; the money pages keep it longer.</summary>
    public const int OwingDays = 120;

    /// <summary>Days for which reminders that are done stay visible.</summary>
    private const int DoneDays = 31;

    public static async Task<DiaryMaterial> ReadAsync(
        ShopDbContext db,
        Shop shop,
        DateTimeOffset now,
        bool withMoney,
        CancellationToken ct
    )
    {
        var jobs = await db.Set<Job>()
            .Where(j => j.State == JobState.Open)
            .OrderBy(j => j.PromisedOn == null)
            .ThenBy(j => j.PromisedOn)
            .ThenBy(j => j.Id)
            .Take(MostJobs + 1)
            .ToListAsync(ct);
        var isCut = jobs.Count > MostJobs;
        jobs = [.. jobs.Take(MostJobs)];
        var enquiries = withMoney ? await EnquiriesAsync(db, shop, now, ct) : [];
        return new DiaryMaterial(
            await WordsAsync(db, shop, jobs, ct),
            await RemindersAsync(db, now, ct),
            [.. enquiries.Select(e => e.Enquiry)],
            enquiries.ToDictionary(e => e.Enquiry.Quote, e => e.Phone),
            withMoney ? await OwingAsync(db, shop, now, ct) : [],
            isCut || enquiries.Count == MostEnquiries
        );
    }

    private static async Task<IReadOnlyList<DiaryJobWords>> WordsAsync(
        ShopDbContext db,
        Shop shop,
        List<Job> jobs,
        CancellationToken ct
    )
    {
        var ids = jobs.Select(j => j.Id).ToList();
        var cars = await JobSubject.CarsAsync(db, jobs, ct);
        var people = await CustomersAsync(db, jobs, ct);
        var came = await db.Set<DropOff>()
            .Where(d => ids.Contains(d.JobId))
            .ToDictionaryAsync(d => d.JobId, d => shop.LocalDay(d.BroughtInAt), ct);
        var ready = (
            await db.Set<SignOff>().Where(s => ids.Contains(s.JobId) && s.WithdrawnAt == null).ToListAsync(ct)
        ).ToLookup(s => s.JobId, s => shop.LocalDay(s.SignedAt));
        var times = (await db.Set<Appointment>().Where(a => ids.Contains(a.JobId)).ToListAsync(ct)).ToLookup(
            a => a.JobId,
            a => new DiaryTime(a.Kind, a.Day, a.Time, a.Answer)
        );
        var parts = (
            await db.Set<CustomerPart>()
                .Where(p => ids.Contains(p.JobId) && p.State == CustomerPartState.Awaited)
                .ToListAsync(ct)
        ).ToLookup(p => p.JobId, p => new DiaryPart(p.What, p.DueOn));
        return
        [
            .. jobs.Select(j => new DiaryJobWords(
                new DiaryJob(
                    j.Id,
                    j.HasCarHere,
                    came.TryGetValue(j.Id, out var day) ? day : null,
                    j.PromisedOn,
                    ready[j.Id].Order().Select(d => (DateOnly?)d).LastOrDefault(),
                    [.. times[j.Id]],
                    [.. parts[j.Id]]
                ),
                j.Number,
                JobSubject.Title(j, cars.GetValueOrDefault(j.Id)),
                people[j.CustomerId].Name,
                people[j.CustomerId].Phone
            )),
        ];
    }

    private static async Task<Dictionary<CustomerId, Customer>> CustomersAsync(
        ShopDbContext db,
        IEnumerable<Job> jobs,
        CancellationToken ct
    )
    {
        var ids = jobs.Select(j => j.CustomerId).Distinct().ToList();
        return await db.Set<Customer>().Where(c => ids.Contains(c.Id)).ToDictionaryAsync(c => c.Id, ct);
    }

    private static async Task<IReadOnlyList<(Reminder, string?, string?)>> RemindersAsync(
        ShopDbContext db,
        DateTimeOffset now,
        CancellationToken ct
    )
    {
        var since = now.AddDays(-DoneDays);
        var rows = await (
            from reminder in db.Set<Reminder>()
            where reminder.DoneAt == null || reminder.DoneAt > since
            join job in db.Set<Job>() on reminder.JobId equals job.Id into ofJob
            from job in ofJob.DefaultIfEmpty()
            join customer in db.Set<Customer>() on reminder.CustomerId equals customer.Id into ofCustomer
            from customer in ofCustomer.DefaultIfEmpty()
            orderby reminder.DoneAt == null descending, reminder.Day
            select new
            {
                reminder,
                Number = job == null ? null : job.Number,
                Name = customer == null ? null : customer.Name,
            }
        )
            .Take(KeepReminders.MostOpen + MostJobs)
            .ToListAsync(ct);
        return rows.ConvertAll(r => (r.reminder, (string?)r.Number, (string?)r.Name));
    }

    /// <summary>Drafts, offers without an answer, and accepted ones without a job.</summary>
    private static async Task<IReadOnlyList<(DiaryEnquiry Enquiry, string? Phone)>> EnquiriesAsync(
        ShopDbContext db,
        Shop shop,
        DateTimeOffset now,
        CancellationToken ct
    )
    {
        var oldest = shop.LocalDay(now).AddDays(-DiaryRules.EndedDays);
        var rows = await (
            from quote in db.Set<Quote>()
            where
                quote.State == QuoteState.Draft
                || (quote.State == QuoteState.Sent && (quote.ValidUntil == null || quote.ValidUntil >= oldest))
                || (quote.State == QuoteState.Accepted && !db.Set<Job>().Any(j => j.QuoteId == quote.Id))
            join customer in db.Set<Customer>() on quote.CustomerId equals customer.Id
            join car in db.Set<Car>() on quote.CarId equals car.Id into cars
            from car in cars.DefaultIfEmpty()
            orderby quote.State == QuoteState.Accepted descending, quote.CreatedAt descending, quote.Id
            select new
            {
                quote,
                customer.Id,
                customer.Name,
                customer.Phone,
                car,
            }
        )
            .Take(MostEnquiries)
            .ToListAsync(ct);
        return rows.ConvertAll(r =>
            (
                new DiaryEnquiry(
                    r.quote.Id,
                    r.quote.Number,
                    r.car?.Title ?? r.quote.Scope.Kind.Title(),
                    r.Id,
                    r.Name,
                    shop.LocalDay(r.quote.CreatedAt),
                    r.quote.SentAt is { } sent ? shop.LocalDay(sent) : null,
                    r.quote.ValidUntil,
                    r.quote.State == QuoteState.Accepted
                ),
                (string?)r.Phone
            )
        );
    }

    private static async Task<IReadOnlyList<DiaryCall>> OwingAsync(
        ShopDbContext db,
        Shop shop,
        DateTimeOffset now,
        CancellationToken ct
    )
    {
        var since = now.AddDays(-OwingDays);
        var gone = await db.Set<Job>()
            .Where(j => j.State != JobState.Open && j.EndedAt > since)
            .OrderByDescending(j => j.EndedAt)
            .Take(MostJobs)
            .ToListAsync(ct);
        var balances = await JobAccounts.BalancesAsync(db, [.. gone.Select(j => j.Id)], ct);
        var owing = gone.Where(j => balances.GetValueOrDefault(j.Id) > 0).ToList();
        var cars = await JobSubject.CarsAsync(db, owing, ct);
        var people = await CustomersAsync(db, owing, ct);
        return
        [
            .. owing.Select(j => new DiaryCall(
                CallReason.BalanceOpen,
                j.Id,
                null,
                j.Number,
                JobSubject.Title(j, cars.GetValueOrDefault(j.Id)),
                people[j.CustomerId].Name,
                people[j.CustomerId].Phone,
                shop.LocalDay(j.EndedAt!.Value)
            )),
        ];
    }
}
