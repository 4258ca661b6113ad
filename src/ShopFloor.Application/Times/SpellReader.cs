using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Routing;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;
using ShopFloor.Domain.Times;

namespace ShopFloor.Application.Times;

/// <summary>Turns times into what people see: names, cars, operations, and whether a timer was forgotten.</summary>
internal sealed record SpellReader(IReadOnlyList<SpellView> Spells)
{
    private sealed record Place(JobId Job, string Number, string Code, string Title, string Car);

    public static async Task<SpellReader> OfAsync(
        ShopDbContext db,
        IReadOnlyList<TimeEntry> entries,
        IReadOnlyList<ShopTime> others,
        DateTimeOffset now,
        CancellationToken ct
    )
    {
        var shop = await db.Shops.AsNoTracking().SingleAsync(ct);
        var names = await db.Users.AsNoTracking().ToDictionaryAsync(u => u.Id, u => u.DisplayName, ct);
        var places = await PlacesAsync(db, entries, ct);
        string NameOf(Worker worker) =>
            worker.Person is { } p
                ? names.GetValueOrDefault(p.Value, "Somebody who has left")
                : "A program, by its key";
        return new SpellReader([
            .. entries.Select(t =>
            {
                var place = places[t.OperationId];
                return new SpellView(
                    t.Id.Value,
                    t.Person,
                    NameOf(t.Worker),
                    place.Job,
                    place.Number,
                    place.Code,
                    null,
                    $"{place.Code} {place.Title} ({place.Car})",
                    null,
                    t.StartedAt,
                    t.EndedAt,
                    t.Minutes(now),
                    Forgotten(t.StartedAt, t.EndedAt, t.ConfirmedAt),
                    t.Entered is { } entered ? NameOf(entered.By) : null,
                    t.Entered?.Reason,
                    Trace(t.Corrections),
                    t.Entered?.Paper ?? PaperPart.None
                );
            }),
            .. others.Select(t => new SpellView(
                t.Id.Value,
                t.Person,
                NameOf(new Worker(t.Person, null)),
                null,
                null,
                null,
                t.Kind,
                t.Kind.Title(),
                t.Note,
                t.StartedAt,
                t.EndedAt,
                WorkedTime.Minutes(t.StartedAt, t.EndedAt ?? now),
                Forgotten(t.StartedAt, t.EndedAt, t.ConfirmedAt),
                t.Entered is { } entered ? NameOf(entered.By) : null,
                t.Entered?.Reason,
                Trace(t.Corrections),
                PaperPart.None
            )),
        ]);

        DateTimeOffset? Forgotten(DateTimeOffset start, DateTimeOffset? end, DateTimeOffset? confirmed) =>
            end is null && LongTimers.AskFrom(start, confirmed, shop) is var from && from <= now ? from : null;

        IReadOnlyList<TimeCorrectionView> Trace(IReadOnlyList<TimeCorrection> corrections) =>
            [
                .. corrections.Select(c => new TimeCorrectionView(
                    c.FromStart,
                    c.FromEnd,
                    c.ToStart,
                    c.ToEnd,
                    c.Reason,
                    NameOf(c.By),
                    c.At
                )),
            ];
    }

    private static async Task<IReadOnlyDictionary<OperationId, Place>> PlacesAsync(
        ShopDbContext db,
        IReadOnlyList<TimeEntry> entries,
        CancellationToken ct
    )
    {
        var ids = entries.Select(t => t.OperationId).Distinct().ToList();
        var operations = await db.Set<Operation>()
            .AsNoTracking()
            .Where(o => ids.Contains(o.Id))
            .Select(o => new
            {
                o.Id,
                o.JobId,
                o.Code,
                o.Title,
            })
            .ToListAsync(ct);
        var jobIds = operations.Select(o => o.JobId).Distinct().ToList();
        var jobs = await db.Set<Job>()
            .AsNoTracking()
            .Where(j => jobIds.Contains(j.Id))
            .ToDictionaryAsync(j => j.Id, ct);
        var cars = await JobSubject.CarsAsync(db, jobs.Values, ct);
        return operations.ToDictionary(
            o => o.Id,
            o => new Place(
                o.JobId,
                jobs[o.JobId].Number,
                o.Code,
                o.Title,
                JobSubject.Title(jobs[o.JobId], cars.GetValueOrDefault(o.JobId))
            )
        );
    }
}
