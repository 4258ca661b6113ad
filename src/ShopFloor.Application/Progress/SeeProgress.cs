using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Inspection;
using ShopFloor.Application.Routing;
using ShopFloor.Data;
using ShopFloor.Domain.Changes;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Progress;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Progress;

/// <summary>What a customer's link shows. Whoever holds the token may see it; nobody else is asked who they are.</summary>
public sealed class SeeProgress(IDbContextFactory<ShopDbContext> contexts, TimeProvider clock) : IUseCase
{
    /// <summary>The page's content; null for a wrong, an expired and a revoked token alike, by one and the same look-up.</summary>
    public async Task<ProgressView?> RunAsync(string token, CancellationToken ct)
    {
        var hash = ProgressToken.Hash(token);
        var now = clock.GetUtcNow();
        await using var db = await contexts.CreateDbContextAsync(ct);
        db.ChangeTracker.QueryTrackingBehavior = QueryTrackingBehavior.NoTrackingWithIdentityResolution;
        var link = await db.Set<ProgressLink>().SingleOrDefaultAsync(l => l.TokenHash == hash, ct);
        return link?.IsValidAt(now) == true ? await TellAsync(db, link.JobId, now, ct) : null;
    }

    /// <summary>The job that a link opens now; null as for the page.</summary>
    public async Task<JobId?> JobOfAsync(string token, CancellationToken ct)
    {
        var hash = ProgressToken.Hash(token);
        await using var db = await contexts.CreateDbContextAsync(ct);
        var link = await db.Set<ProgressLink>().AsNoTracking().SingleOrDefaultAsync(l => l.TokenHash == hash, ct);
        return link?.IsValidAt(clock.GetUtcNow()) == true ? link.JobId : null;
    }

    /// <summary>Number of the job's newest event; 0 where it has none.</summary>
    public async Task<long> LatestAsync(JobId job, CancellationToken ct)
    {
        await using var db = await contexts.CreateDbContextAsync(ct);
        return await LatestAsync(db, job, ct);
    }

    private static async Task<long> LatestAsync(ShopDbContext db, JobId job, CancellationToken ct) =>
        await db.Events.Where(e => e.Job == job).MaxAsync(e => (long?)e.Sequence, ct) ?? 0;

    private static async Task<ProgressView> TellAsync(
        ShopDbContext db,
        JobId id,
        DateTimeOffset now,
        CancellationToken ct
    )
    {
        // Before anything else is read: a change in between is then told by the stream.
        var seen = await LatestAsync(db, id, ct);
        var shop = await db.Shops.SingleAsync(ct);
        var job = await db.Set<Job>().Include(j => j.Operations).SingleAsync(j => j.Id == id, ct);
        var car = await JobSubject.CarAsync(db, job, ct);
        var isSignedOff = await db.Set<SignOff>().AnyAsync(s => s.JobId == id && s.WithdrawnAt == null, ct);
        var isAuthorised =
            !job.Operations.Any(o => o.Route.Gates.Any(g => g.Kind == GateKind.Authorisation))
            || await db.Set<DropOff>().AnyAsync(d => d.JobId == id && d.Authorisation != null, ct);
        var parts = await db.Set<CustomerPart>()
            .Where(p => p.JobId == id && p.State == CustomerPartState.Awaited)
            .OrderBy(p => p.DueOn)
            .ToListAsync(ct);
        var changes = await db.Set<ChangeOrder>()
            .Where(c => c.JobId == id && c.State == ChangeState.Offered)
            .OrderBy(c => c.Number)
            .Select(c => new { c.Number, c.OfferedAt })
            .ToListAsync(ct);
        var stand = job.State switch
        {
            JobState.Closed => ProgressStand.HandedOver,
            JobState.Cancelled => ProgressStand.Ended,
            _ => isSignedOff ? ProgressStand.ReadyForCollection : ProgressStand.InTheShop,
        };
        return new ProgressView(
            shop.Name,
            shop.Phone,
            shop.Email,
            shop.OpeningHours,
            shop.Accent,
            JobSubject.Title(job, car),
            job.Scope.Kind,
            job.Number,
            stand,
            ProgressStory.Tell(
                [.. job.Operations.Select(o => new StepTaken(o.Phase, o.IsOver, o.BegunAt is not null))],
                job.Scope.Kind
            ),
            stand == ProgressStand.InTheShop
                ?
                [
                    .. changes.Select(c => Answer(c.Number, shop.LocalDay(c.OfferedAt!.Value))),
                    .. Awaited(parts, isAuthorised, shop.LocalDay(now)),
                ]
                : [],
            job.PromisedOn,
            job.PromiseMoves.Count > 0 ? job.PromiseMoves[^1].From : null,
            TimeZoneInfo.ConvertTime(now, shop.Zone),
            seen
        )
        {
            MayAttend = stand == ProgressStand.InTheShop ? await ReadWitnessPoints.ForCustomerAsync(db, job, ct) : [],
        };
    }

    /// <summary>Words only: what it is about and what it costs, the shop has told the customer itself.</summary>
    private static string Answer(string number, DateOnly on) =>
        $"Your answer to our change order {number} of {Day(on)}. The work it concerns waits until we have it.";

    private static List<string> Awaited(IEnumerable<CustomerPart> parts, bool isAuthorised, DateOnly today)
    {
        var awaited = parts
            .Select(p =>
                p.IsLate(today)
                    ? $"{p.What}: were due on {Day(p.DueOn)}. Please tell us when they come."
                    : $"{p.What}: due on {Day(p.DueOn)}."
            )
            .ToList();
        if (!isAuthorised)
        {
            awaited.Insert(0, "Your signature that we may cut and weld. Nothing is cut before it.");
        }

        return awaited;
    }

    private static string Day(DateOnly day) =>
        day.ToString("dddd d MMMM", System.Globalization.CultureInfo.InvariantCulture);
}
