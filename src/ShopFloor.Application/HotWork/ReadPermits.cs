using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.HotWork;

namespace ShopFloor.Application.HotWork;

/// <summary>Somebody who can be named as fire watcher.</summary>
/// <param name="IsBusy">On an operation, or watching already.</param>
public sealed record WatcherChoice(PersonId Id, string Name, bool IsBusy);

/// <summary>Reads hot-work permits and fire watches.</summary>
public sealed class ReadPermits(QueryRunner queries, TimeProvider clock) : IUseCase
{
    /// <summary>Every permit that is not closed, the oldest first: what stands on every screen.</summary>
    public Task<Outcome<IReadOnlyList<PermitView>>> UnclosedAsync(Actor actor, CancellationToken ct) =>
        queries.RunAsync<IReadOnlyList<PermitView>>(
            Permission.SeeFloor,
            actor,
            async db =>
            {
                var permits = await db.Set<HotWorkPermit>()
                    .Where(p => p.ClosedAt == null)
                    .OrderBy(p => p.Number)
                    .ToListAsync(ct);
                return Outcome<IReadOnlyList<PermitView>>.Success(
                    await PermitViews.OfAsync(db, permits, clock.GetUtcNow(), ct)
                );
            },
            ct
        );

    /// <summary>Unclosed ones first, then by number downward.</summary>
    /// <param name="state"><c>open</c> for those that are not closed, <c>closed</c>, or <c>all</c>.</param>
    public Task<Outcome<Page<PermitView>>> ListAsync(
        string? state,
        PageRequest page,
        Actor actor,
        CancellationToken ct
    ) =>
        queries.RunAsync<Page<PermitView>>(
            Permission.SeeFloor,
            actor,
            async db =>
            {
                IQueryable<HotWorkPermit> query = db.Set<HotWorkPermit>();
                switch (state)
                {
                    case null or "" or "all":
                        break;
                    case "open":
                        query = query.Where(p => p.ClosedAt == null);
                        break;
                    case "closed":
                        query = query.Where(p => p.ClosedAt != null);
                        break;
                    default:
                        return Failure.Field("state", "The state is open, closed or all.");
                }

                var total = await query.CountAsync(ct);
                var permits = await query
                    .OrderBy(p => p.ClosedAt != null)
                    .ThenByDescending(p => p.Number)
                    .Skip((page.Number - 1) * page.Size)
                    .Take(page.Size)
                    .ToListAsync(ct);
                return new Page<PermitView>(
                    await PermitViews.OfAsync(db, permits, clock.GetUtcNow(), ct),
                    page.Number,
                    page.Size,
                    total
                );
            },
            ct
        );

    public Task<Outcome<PermitView>> OneAsync(HotWorkPermitId id, Actor actor, CancellationToken ct) =>
        queries.RunAsync<PermitView>(
            Permission.SeeFloor,
            actor,
            async db =>
                await db.Set<HotWorkPermit>().SingleOrDefaultAsync(p => p.Id == id, ct) is { } permit
                    ? (await PermitViews.OfAsync(db, [permit], clock.GetUtcNow(), ct))[0]
                    : Failure.Missing("hot-work permit"),
            ct
        );

    /// <summary>Who could watch: everybody who works here but the one who asks.</summary>
    public Task<Outcome<IReadOnlyList<WatcherChoice>>> WatchersAsync(Actor actor, CancellationToken ct) =>
        queries.RunAsync<IReadOnlyList<WatcherChoice>>(
            Permission.KeepFireWatch,
            actor,
            async db =>
            {
                var self = actor.Person?.Value;
                var people = await db
                    .Users.Where(u => u.IsActive && u.Id != self)
                    .OrderBy(u => u.DisplayName)
                    .Select(u => new { u.Id, u.DisplayName })
                    .Take(PageRequest.LargestSize)
                    .ToListAsync(ct);
                var working = await db.Set<Domain.Routing.TimeEntry>()
                    .Where(t => t.EndedAt == null && t.Person != null)
                    .Select(t => t.Person)
                    .ToListAsync(ct);
                var watching = await db.Set<HotWorkPermit>()
                    .Where(p => p.ClosedAt == null)
                    .Select(p => p.Watcher)
                    .ToListAsync(ct);
                return people
                    .Select(p => new WatcherChoice(
                        new PersonId(p.Id),
                        p.DisplayName,
                        working.Contains(new PersonId(p.Id)) || watching.Contains(new PersonId(p.Id))
                    ))
                    .ToList();
            },
            ct
        );
}
