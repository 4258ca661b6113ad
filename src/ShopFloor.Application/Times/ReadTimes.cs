using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Routing;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;
using ShopFloor.Domain.Times;

namespace ShopFloor.Application.Times;

/// <summary>Reads times: of a job, of a day, those taken for forgotten, and one's own.</summary>
public sealed class ReadTimes(QueryRunner queries, TimeProvider clock) : IUseCase
{
    private const int MostOfADay = 2000;
    private const int MostRunning = 500;

    /// <summary>One job's times with their trace.</summary>
    public Task<Outcome<JobTimesView>> OfJobAsync(JobId id, Actor actor, CancellationToken ct) =>
        queries.RunAsync<JobTimesView>(
            Permission.KeepTimes,
            actor,
            async db =>
                await db.JobsWhole().SingleOrDefaultAsync(j => j.Id == id, ct) is { } job
                    ? await OfJobAsync(db, job, clock.GetUtcNow(), ct)
                    : Failure.Missing("job"),
            ct
        );

    internal static async Task<JobTimesView> OfJobAsync(
        ShopDbContext db,
        Job job,
        DateTimeOffset now,
        CancellationToken ct
    )
    {
        var entries = job.Operations.SelectMany(o => o.Times.OrderBy(t => t.StartedAt).Select(t => t.Id)).ToList();
        var reader = await SpellReader.OfAsync(db, job.Operations.SelectMany(o => o.Times).ToList(), [], now, ct);
        var spells = entries.Select(id => reader.Spells.Single(s => s.Id == id.Value)).ToList();
        return new JobTimesView(job.Id, job.Version, job.Number, job.Operations.Sum(o => o.Minutes(now)), spells);
    }

    /// <summary>Everybody's times of one local day; a spell that lasts past midnight stands in both days with its part.</summary>
    /// <param name="on">Null: today.</param>
    public Task<Outcome<DayView>> DayAsync(DateOnly? on, Actor actor, CancellationToken ct) =>
        queries.RunAsync<DayView>(
            Permission.KeepTimes,
            actor,
            async db =>
            {
                var now = clock.GetUtcNow();
                var shop = await db.Shops.SingleAsync(ct);
                var day = on ?? shop.LocalDay(now);
                if (day > shop.LocalDay(now) || day < shop.LocalDay(now - SpellGiven.Oldest))
                {
                    return Failure.Field("on", "Choose today or a day of the last 400.");
                }

                var (from, to) = (shop.StartOf(day), shop.StartOf(day.AddDays(1)));
                var entries = await db.Set<TimeEntry>()
                    .Where(t => t.StartedAt < to && (t.EndedAt == null || t.EndedAt > from))
                    .OrderBy(t => t.StartedAt)
                    .Take(MostOfADay)
                    .ToListAsync(ct);
                var others = await db.Set<ShopTime>()
                    .Where(t => t.StartedAt < to && (t.EndedAt == null || t.EndedAt > from))
                    .OrderBy(t => t.StartedAt)
                    .Take(MostOfADay)
                    .ToListAsync(ct);
                var reader = await SpellReader.OfAsync(db, entries, others, now, ct);
                var upTo = now < to ? now : to;
                var people = reader
                    .Spells.Select(s =>
                        s with
                        {
                            Minutes = WorkedTime.Minutes(s.StartedAt, s.EndedAt ?? upTo, from, upTo),
                        }
                    )
                    .GroupBy(s => (s.Person, s.Name))
                    .OrderBy(g => g.Key.Name, StringComparer.OrdinalIgnoreCase)
                    .Select(g => OfPerson(g.Key.Person, g.Key.Name, [.. g.OrderBy(s => s.StartedAt)]))
                    .ToList();
                return new DayView(day, people, entries.Count == MostOfADay || others.Count == MostOfADay);
            },
            ct
        );

    /// <summary>Running timers that are taken for forgotten, the longest first.</summary>
    public Task<Outcome<IReadOnlyList<SpellView>>> ForgottenAsync(Actor actor, CancellationToken ct) =>
        queries.RunAsync<IReadOnlyList<SpellView>>(
            Permission.KeepTimes,
            actor,
            async db =>
                (await RunningAsync(db, null, ct))
                    .Spells.Where(s => s.ForgottenSince is not null)
                    .OrderBy(s => s.StartedAt)
                    .ToList(),
            ct
        );

    /// <summary>One's own day as it stands now.</summary>
    public Task<Outcome<MyDayView>> MineAsync(Actor actor, CancellationToken ct) =>
        queries.RunAsync<MyDayView>(
            Permission.LogTime,
            actor,
            async db =>
            {
                if (actor.Person is not { } person)
                {
                    return new MyDayView(null, null, [], [], null, null, 0);
                }

                var now = clock.GetUtcNow();
                var shop = await db.Shops.SingleAsync(ct);
                var running = (await RunningAsync(db, person, ct)).Spells;
                var from = shop.StartOf(shop.LocalDay(now));
                var today = await db.Set<ShopTime>()
                    .Where(t => t.Person == person && t.IsAttendance && (t.EndedAt == null || t.EndedAt > from))
                    .Select(t => new { t.StartedAt, t.EndedAt })
                    .ToListAsync(ct);
                var shiftEnd = LongTimers.NextShiftEnd(now, shop);
                return new MyDayView(
                    running.FirstOrDefault(s => s.Kind == ShopTimeKind.Attendance)?.StartedAt,
                    running.FirstOrDefault(s => s.Kind is not null and not ShopTimeKind.Attendance),
                    [
                        .. running.Where(s =>
                            s.Kind is null || s is { Kind: ShopTimeKind.Attendance, ForgottenSince: not null }
                        ),
                    ],
                    await LeftAsync(db, person, ct),
                    shiftEnd,
                    shiftEnd - LongTimers.Reminder,
                    today.Sum(t => WorkedTime.Minutes(t.StartedAt, t.EndedAt ?? now, from, now))
                );
            },
            ct
        );

    /// <summary>People for the forms of the office.</summary>
    public Task<Outcome<IReadOnlyList<(PersonId Id, string Name)>>> PeopleAsync(Actor actor, CancellationToken ct) =>
        queries.RunAsync<IReadOnlyList<(PersonId Id, string Name)>>(
            Permission.KeepTimes,
            actor,
            async db =>
                (
                    await db
                        .Users.Where(u => u.IsActive)
                        .OrderBy(u => u.NormalizedUserName)
                        .Take(PageRequest.LargestSize)
                        .Select(u => new { u.Id, u.DisplayName })
                        .ToListAsync(ct)
                )
                    .Select(u => (new PersonId(u.Id), u.DisplayName))
                    .ToList(),
            ct
        );

    private async Task<SpellReader> RunningAsync(ShopDbContext db, PersonId? person, CancellationToken ct)
    {
        var entries = await db.Set<TimeEntry>()
            .Where(t => t.EndedAt == null && (person == null || t.Person == person))
            .OrderBy(t => t.StartedAt)
            .Take(MostRunning)
            .ToListAsync(ct);
        var others = await db.Set<ShopTime>()
            .Where(t => t.EndedAt == null && (person == null || t.Person == person))
            .OrderBy(t => t.StartedAt)
            .Take(MostRunning)
            .ToListAsync(ct);
        return await SpellReader.OfAsync(db, entries, others, clock.GetUtcNow(), ct);
    }

    private static PersonDayView OfPerson(PersonId? person, string name, IReadOnlyList<SpellView> spells)
    {
        long Sum(Func<SpellView, bool> wanted) => spells.Where(wanted).Sum(s => s.Minutes);
        return new PersonDayView(
            person,
            name,
            Sum(s => s.Kind == ShopTimeKind.Attendance),
            Sum(s => s.Kind is null),
            Sum(s => s.Kind == ShopTimeKind.Break),
            Sum(s => s.Kind is not null and not ShopTimeKind.Attendance and not ShopTimeKind.Break),
            spells
        );
    }

    /// <summary>What was left for the last spell without a job, as long as nobody finished it and its person is on nothing.</summary>
    private static async Task<IReadOnlyList<LeftWorkView>> LeftAsync(
        ShopDbContext db,
        PersonId person,
        CancellationToken ct
    )
    {
        var last = await db.Set<ShopTime>()
            .Where(t => t.Person == person && !t.IsAttendance && t.Entered == null)
            .OrderByDescending(t => t.StartedAt)
            .FirstOrDefaultAsync(ct);
        if (
            last is not { Left.Count: > 0 }
            || await db.Set<TimeEntry>().AnyAsync(t => t.Person == person && t.StartedAt > last.StartedAt, ct)
        )
        {
            return [];
        }

        var ids = last.Left.Select(l => l.Job).Distinct().ToList();
        var jobs = await db.JobsWhole().Where(j => ids.Contains(j.Id) && j.State == JobState.Open).ToListAsync(ct);
        var cars = await JobSubject.CarsAsync(db, jobs, ct);
        return
        [
            .. from left in last.Left
            from job in jobs
            where job.Id == left.Job
            let operation = job.Operation(left.Operation)
            where operation is { IsOver: false }
            select new LeftWorkView(
                job.Id,
                job.Number,
                JobSubject.Title(job, cars.GetValueOrDefault(job.Id)),
                operation.Code,
                operation.Title
            ),
        ];
    }
}
