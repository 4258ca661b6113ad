using System.Globalization;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Routing;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Diary;
using ShopFloor.Domain.HotWork;
using ShopFloor.Domain.Messages;
using ShopFloor.Domain.Planning;
using ShopFloor.Domain.Progress;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Planning;

/// <summary>Finds the calendar behind a secret and writes it by RFC 5545. It names jobs, cars and operations; no customer, no price.</summary>
public sealed class SeeCalendarFeed(IDbContextFactory<ShopDbContext> contexts, TimeProvider clock) : IUseCase
{
    /// <summary>Most entries of one calendar, the next ones.</summary>
    public const int MostEntries = 2000;

    /// <summary>The feed behind a secret; null where there is none, or none any more.</summary>
    public async Task<CalendarFeed?> FindAsync(string token, CancellationToken ct)
    {
        var hash = ProgressToken.Hash(token);
        await using var db = await contexts.CreateDbContextAsync(ct);
        return await db.Set<CalendarFeed>()
            .AsNoTracking()
            .SingleOrDefaultAsync(f => f.TokenHash == hash && f.RevokedAt == null, ct);
    }

    public async Task<string> WriteAsync(CalendarFeed feed, CancellationToken ct)
    {
        ArgumentNullException.ThrowIfNull(feed);
        await using var db = await contexts.CreateDbContextAsync(ct);
        db.ChangeTracker.QueryTrackingBehavior = QueryTrackingBehavior.NoTrackingWithIdentityResolution;
        var entries =
            feed.Kind == FeedKind.Appointments ? await AppointmentsAsync(db, ct) : await WorkAsync(db, feed, ct);
        return CalendarEntry.Write(entries.Take(MostEntries));
    }

    private async Task<IEnumerable<CalendarEntry>> WorkAsync(ShopDbContext db, CalendarFeed feed, CancellationToken ct)
    {
        var material = await PlanLoading.ReadAsync(db, clock.GetUtcNow(), ct);
        var question = material.Question();
        var problem = question.Problem;
        var places = ShopPlaces.Of(material.Shop.Places);
        var made = material.Last?.EndedAt ?? material.Last?.AskedAt ?? material.Now;
        return
        [
            .. StandingPlan
                .Of(material, question)
                .Entries.Where(e =>
                    feed.Kind == FeedKind.Person
                        ? problem.People[e.Person].Id == feed.Person
                        : problem.Places[e.Place].Code == feed.Place
                )
                .OrderBy(e => e.Start)
                .SelectMany(e => Days(e)),
        ];

        // A night is no work: an operation that goes over it is an entry on each of its days.
        IEnumerable<CalendarEntry> Days(PlanEntry entry)
        {
            var task = problem.Tasks[entry.Task];
            var job = problem.Jobs[task.Job];
            var first = problem.Axis.DayIndexOf(entry.Start);
            for (var d = first; d <= problem.Axis.DayIndexOf(entry.End - 1); d++)
            {
                var day = problem.Axis.Days[d];
                yield return new CalendarEntry(
                    string.Create(CultureInfo.InvariantCulture, $"plan-{job.Id}-{task.Code}-{d - first}@shopfloor"),
                    Sequence(made),
                    made,
                    day.Day,
                    problem.Axis.StartOf(Math.Max(entry.Start, day.FirstSlot)),
                    $"{job.Number} {job.Title}: {task.Code} {task.Title}, {problem.People[entry.Person].Name}",
                    places.Title(problem.Places[entry.Place].Code)
                )
                {
                    End = problem.Axis.EndOf(Math.Min(entry.End, day.EndSlot)),
                };
            }
        }
    }

    private static async Task<IEnumerable<CalendarEntry>> AppointmentsAsync(ShopDbContext db, CancellationToken ct)
    {
        var shop = await db.Shops.SingleAsync(ct);
        var jobs = await db.Set<Job>()
            .Where(j => j.State == JobState.Open)
            .OrderBy(j => j.PromisedOn)
            .Take(MostEntries)
            .ToListAsync(ct);
        var ids = jobs.Select(j => j.Id).ToList();
        var cars = await JobSubject.CarsAsync(db, jobs, ct);
        var agreed = (await db.Set<Appointment>().Where(a => ids.Contains(a.JobId)).ToListAsync(ct)).ToLookup(a =>
            a.JobId
        );
        var found = new List<CalendarEntry>();
        foreach (var job in jobs)
        {
            var title = $"{job.Number} {JobSubject.Title(job, cars.GetValueOrDefault(job.Id))}";
            foreach (var one in agreed[job.Id])
            {
                var isDropOff = one.Kind == AppointmentKind.DropOff;
                found.Add(
                    new CalendarEntry(
                        $"{(isDropOff ? "drop-off" : "collection")}-{job.Id}@shopfloor",
                        one.Moves,
                        job.OpenedAt,
                        one.Day,
                        one.Time is { } time ? shop.InstantOf(one.Day, time) : null,
                        $"{(isDropOff ? "Comes" : "Is fetched")}: {title}",
                        shop.Name
                    )
                );
            }

            if (job.PromisedOn is { } promised)
            {
                found.Add(
                    new CalendarEntry(
                        $"promised-{job.Id}@shopfloor",
                        job.PromiseMoves.Count,
                        job.PromiseMoves.Count > 0 ? job.PromiseMoves[^1].At : job.OpenedAt,
                        promised,
                        null,
                        $"Promised: {title}",
                        shop.Name
                    )
                );
            }
        }

        return found.OrderBy(e => e.Day);
    }

    /// <summary>Rises with every plan: minutes since the beginning of 2020.</summary>
    private static int Sequence(DateTimeOffset made) =>
        (int)(made - new DateTimeOffset(2020, 1, 1, 0, 0, 0, TimeSpan.Zero)).TotalMinutes;
}
