using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Accounts;
using ShopFloor.Application.HotWork;
using ShopFloor.Data;
using ShopFloor.Domain.Changes;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Routing;

/// <summary>Loads what the gates of jobs ask for from the rest of the shop's data.</summary>
public static class JobFacts
{
    /// <summary>Jobs with their operations and times.</summary>
    public static IQueryable<Job> JobsWhole(this ShopDbContext db) =>
        db.Set<Job>().Include(j => j.Operations).ThenInclude(o => o.Times).AsSplitQuery();

    /// <summary>Facts of one job at the server's time <paramref name="now"/>.</summary>
    public static async Task<GateFacts> OfAsync(
        ShopDbContext db,
        Job job,
        Shop shop,
        DateTimeOffset now,
        CancellationToken ct
    ) => (await OfAsync(db, [job], shop, now, ct))[job.Id];

    /// <summary>Facts of several jobs at once.</summary>
    public static async Task<IReadOnlyDictionary<JobId, GateFacts>> OfAsync(
        ShopDbContext db,
        IReadOnlyCollection<Job> jobs,
        Shop shop,
        DateTimeOffset now,
        CancellationToken ct
    )
    {
        var ids = jobs.Select(j => j.Id).ToList();
        var signed = await db.Set<DropOff>()
            .Where(d => ids.Contains(d.JobId) && d.Authorisation != null)
            .Select(d => d.JobId)
            .ToListAsync(ct);
        var parts = await db.Set<CustomerPart>()
            .Where(p => ids.Contains(p.JobId) && p.Code != null && p.State != CustomerPartState.Dropped)
            .Select(p => new
            {
                p.JobId,
                p.Code,
                p.What,
                p.DueOn,
                p.State,
            })
            .ToListAsync(ct);
        var lines = await db.Set<InspectionLine>()
            .Where(l =>
                ids.Contains(l.JobId)
                && l.Point == InspectionPoint.Hold
                && l.State != LineState.Passed
                && l.State != LineState.Accepted
            )
            .OrderBy(l => l.Position)
            .Select(l => new
            {
                l.JobId,
                l.OperationCode,
                l.What,
                l.State,
            })
            .ToListAsync(ct);
        var signedOff = await db.Set<SignOff>()
            .Where(s => ids.Contains(s.JobId) && s.WithdrawnAt == null)
            .Select(s => s.JobId)
            .ToListAsync(ct);
        var failed = await db.Set<InspectionLine>()
            .Where(l => signedOff.Contains(l.JobId) && l.State == LineState.Failed)
            .OrderBy(l => l.Position)
            .Select(l => new
            {
                l.JobId,
                l.OperationCode,
                l.What,
                At = l.Readings.Max(r => (DateTimeOffset?)r.RecordedAt),
            })
            .ToListAsync(ct);
        var deposits = await JobAccounts.MissingDepositsAsync(db, ids, ct);
        var owing = await JobAccounts.NotSettledAsync(db, ids, ct);
        var changes = await OpenChangesAsync(db, ids, shop, ct);
        var hotWork = await HotWorkLoading.ReadAsync(db, ct);
        var people = PeopleOf(jobs);
        people.UnionWith(hotWork.Unclosed.Select(p => p.Watcher.Value));
        var names = await NamesAsync(db, people, ct);
        return ids.ToDictionary(
            id => id,
            id => new GateFacts
            {
                Now = now,
                Zone = shop.Zone,
                AuthorisationSigned = signed.Contains(id),
                IsSignedOff = signedOff.Contains(id),
                CustomerParts =
                [
                    .. parts
                        .Where(p => p.JobId == id)
                        .Select(p => new CustomerPartFact(
                            p.Code!,
                            p.What,
                            p.DueOn,
                            p.State == CustomerPartState.Arrived
                        )),
                ],
                OpenHoldLines =
                [
                    .. lines
                        .Where(l => l.JobId == id)
                        .Select(l => new OpenHoldLine(l.OperationCode, l.What, l.State == LineState.Failed)),
                ],
                FailedSinceSignOff =
                [
                    .. failed
                        .Where(l => l.JobId == id)
                        .Select(l => new FailedLine(l.OperationCode, l.What, l.At ?? now)),
                ],
                IsBalanceDue = owing.Contains(id),
                MissingDeposit = deposits.GetValueOrDefault(id),
                OpenChanges = [.. changes[id]],
                HotWork = hotWork,
                NameOf = person => names.GetValueOrDefault(person.Value, "Somebody who has left"),
            }
        );
    }

    private static async Task<ILookup<JobId, OpenChange>> OpenChangesAsync(
        ShopDbContext db,
        List<JobId> jobs,
        Shop shop,
        CancellationToken ct
    )
    {
        var open = await db.Set<ChangeOrder>()
            .Where(c => jobs.Contains(c.JobId) && (c.State == ChangeState.Draft || c.State == ChangeState.Offered))
            .OrderBy(c => c.Number)
            .Select(c => new
            {
                c.JobId,
                c.Number,
                c.State,
                c.Terms,
                c.CreatedAt,
                c.OfferedAt,
            })
            .ToListAsync(ct);
        return open.Where(c => c.State == ChangeState.Offered || c.Terms.FromDropOff)
            .ToLookup(
                c => c.JobId,
                c => new OpenChange(
                    c.Number,
                    shop.LocalDay(c.OfferedAt ?? c.CreatedAt),
                    c.State == ChangeState.Offered,
                    c.Terms.Holds
                )
            );
    }

    private static HashSet<Guid> PeopleOf(IEnumerable<Job> jobs) =>
        [
            .. jobs.SelectMany(j => j.Operations)
                .SelectMany(o =>
                    o.Times.Select(t => t.Person)
                        .Append(o.FinishedBy)
                        .Concat(o.Holds.SelectMany(h => new[] { h.By.Person, h.LiftedBy?.Person }))
                )
                .Concat(jobs.SelectMany(j => j.Presences).Select(p => p.RecordedBy.Person))
                .Concat(jobs.SelectMany(j => j.Awaited).SelectMany(a => new[] { a.By.Person, a.EndedBy?.Person }))
                .Concat(jobs.SelectMany(j => j.OwnerHolds).SelectMany(h => new[] { h.By.Person, h.LiftedBy?.Person }))
                .Concat(jobs.SelectMany(j => j.Operations).Select(o => o.Override?.By.Person))
                .Where(p => p is not null)
                .Select(p => p!.Value.Value),
        ];

    private static async Task<Dictionary<Guid, string>> NamesAsync(
        ShopDbContext db,
        HashSet<Guid> people,
        CancellationToken ct
    ) =>
        people.Count == 0
            ? []
            : await db
                .Users.AsNoTracking()
                .Where(u => people.Contains(u.Id))
                .ToDictionaryAsync(u => u.Id, u => u.DisplayName, ct);
}
