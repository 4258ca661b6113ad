using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.HotWork;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.HotWork;

/// <summary>What the history keeps of how a permit stood before a change: instants and ids, no words.</summary>
internal sealed record PermitTrace(PersonId Watcher, int Running, DateTimeOffset? LastSparkAt, bool IsClosed)
{
    public static PermitTrace Of(HotWorkPermit permit) =>
        new(permit.Watcher, permit.Spells.Count(s => s.Until is null), permit.LastSparkAt, permit.IsClosed);
}

/// <summary>Loads and follows the shop's hot-work permits.</summary>
internal static class HotWorkLoading
{
    /// <summary>Series of permit numbers; whoever may change what burns or fumes holds its lock until the end of the command.</summary>
    public const string Series = "H";

    public static async Task<HotWorkFacts> ReadAsync(ShopDbContext db, CancellationToken ct)
    {
        var unclosed = await db.Set<HotWorkPermit>()
            .Where(p => p.ClosedAt == null)
            .OrderBy(p => p.Number)
            .ToListAsync(ct);
        var running = await db.Set<Operation>()
            .AsNoTracking()
            .Where(o => o.Progress == OperationProgress.InWork)
            .Select(o => new
            {
                o.JobId,
                o.Code,
                o.Title,
                o.Place,
                o.Route,
            })
            .ToListAsync(ct);
        var paint = running.Where(o => o.Route.PaintOrSolvent).ToList();
        var jobs = paint.Select(o => o.JobId).Distinct().ToList();
        var known =
            jobs.Count == 0
                ? []
                : await db.Set<Job>()
                    .AsNoTracking()
                    .Where(j => jobs.Contains(j.Id))
                    .ToDictionaryAsync(j => j.Id, j => (j.Number, j.Places), ct);
        var places = await PlacesAsync(db, ct);
        return new HotWorkFacts(
            unclosed,
            [
                .. paint.Select(o => new PaintUnderWay(
                    o.JobId,
                    known[o.JobId].Number,
                    o.Code,
                    o.Title,
                    places.Possible(known[o.JobId].Places, o.Place)
                )),
            ]
        )
        {
            Places = places,
        };
    }

    public static async Task<ShopPlaces> PlacesAsync(ShopDbContext db, CancellationToken ct) =>
        ShopPlaces.Of(await db.Shops.AsNoTracking().Select(s => s.Places).SingleOrDefaultAsync(ct) ?? []);

    /// <summary>Notes what a tap began or stopped on the permits, with its events.</summary>
    public static void Follow(CommandScope scope, HotWorkFacts facts, Job job, Operation? finishedUnbegun)
    {
        var before = facts.Unclosed.ToDictionary(p => p.Id, PermitTrace.Of);
        foreach (var step in facts.Follow(job, finishedUnbegun, scope.Now))
        {
            scope.Record(
                new EventDraft(
                    step.IsStop ? "permit.watchBegan" : "permit.hotWorkBegan",
                    "hotWorkPermit",
                    step.Permit.Id.Value,
                    job.Id,
                    before[step.Permit.Id],
                    new
                    {
                        number = step.Permit.Number,
                        operation = step.Code,
                        watchUntil = step.IsStop ? step.Permit.WatchUntil : null,
                    }
                )
            );
        }
    }

    /// <summary>Why a job's car or goods may not leave: a permit that concerns it is not closed.</summary>
    public static async Task<IReadOnlyList<Reason>> ObstaclesAsync(ShopDbContext db, JobId job, CancellationToken ct)
    {
        var places = await PlacesAsync(db, ct);
        return
        [
            .. (await db.Set<HotWorkPermit>().AsNoTracking().Where(p => p.ClosedAt == null).ToListAsync(ct))
                .Where(p => p.Concerns(job))
                .Select(p => new Reason(
                    "fireWatch",
                    $"Hot-work permit {p.Number} in {places.Title(p.Place)} is not closed. Its fire watcher confirms it after the watch; until then nothing leaves."
                )),
        ];
    }

    /// <summary>The watcher works on nothing and watches no other place.</summary>
    public static async Task<bool> IsFreeAsync(
        CommandScope scope,
        PersonId watcher,
        string place,
        HotWorkFacts facts
    ) =>
        !facts.Unclosed.Any(p => p.Watcher == watcher && p.Place != place)
        && !await scope.Db.Set<TimeEntry>().AnyAsync(t => t.Person == watcher && t.EndedAt == null, scope.Cancellation);

    /// <summary>An active person of the shop.</summary>
    public static Task<bool> WorksHereAsync(CommandScope scope, Guid person) =>
        scope.Db.Users.AnyAsync(u => u.Id == person && u.IsActive, scope.Cancellation);
}
