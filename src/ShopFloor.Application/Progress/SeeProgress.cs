using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Accounts;
using ShopFloor.Application.Common;
using ShopFloor.Application.Diary;
using ShopFloor.Application.Forecasting;
using ShopFloor.Application.Inspection;
using ShopFloor.Application.Routing;
using ShopFloor.Data;
using ShopFloor.Domain.Changes;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Diary;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Progress;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Progress;

/// <summary>A link that opens its page now.</summary>
public sealed record OpenLink(ProgressLinkId Id, JobId Job, DateTimeOffset ExpiresAt);

/// <summary>What a customer's link shows. Whoever holds the token may see it; nobody else is asked who they are.</summary>
public sealed class SeeProgress(
    IDbContextFactory<ShopDbContext> contexts,
    IEnumerable<ICustomerLanguage> languages,
    TimeProvider clock
) : IUseCase
{
    /// <summary>The link behind a token's hash; null for a wrong, an expired and a revoked token alike, by one and the same look-up.</summary>
    public async Task<OpenLink?> FindAsync(string tokenHash, CancellationToken ct)
    {
        await using var db = await contexts.CreateDbContextAsync(ct);
        var link = await db.Set<ProgressLink>().AsNoTracking().SingleOrDefaultAsync(l => l.TokenHash == tokenHash, ct);
        return link?.IsValidAt(clock.GetUtcNow()) == true ? new OpenLink(link.Id, link.JobId, link.ExpiresAt) : null;
    }

    /// <summary>Number of the job's newest event; 0 where it has none.</summary>
    public async Task<long> LatestAsync(JobId job, CancellationToken ct)
    {
        await using var db = await contexts.CreateDbContextAsync(ct);
        return await LatestAsync(db, job, ct);
    }

    /// <summary>All that the page of a job says now.</summary>
    public async Task<ProgressView> TellAsync(JobId id, CancellationToken ct)
    {
        var now = clock.GetUtcNow();
        await using var db = await contexts.CreateDbContextAsync(ct);
        db.ChangeTracker.QueryTrackingBehavior = QueryTrackingBehavior.NoTrackingWithIdentityResolution;
        // Before anything else is read: a change in between is then told by the stream.
        var seen = await LatestAsync(db, id, ct);
        var shop = await db.Shops.SingleAsync(ct);
        var job = await db.Set<Job>().Include(j => j.Operations).SingleAsync(j => j.Id == id, ct);
        var car = await JobSubject.CarAsync(db, job, ct);
        var sharing = await db.Set<ProgressSharing>().SingleOrDefaultAsync(s => s.JobId == id, ct);
        var isSignedOff = await db.Set<SignOff>().AnyAsync(s => s.JobId == id && s.WithdrawnAt == null, ct);
        var stand = job.State switch
        {
            JobState.Closed => ProgressStand.HandedOver,
            JobState.Cancelled => ProgressStand.Ended,
            _ => isSignedOff ? ProgressStand.ReadyForCollection : ProgressStand.InTheShop,
        };
        var notes = await SharingView.StandingNotes(db, id).ToListAsync(ct);
        return new ProgressView(
            shop.Name,
            shop.Phone,
            shop.Email,
            shop.OpeningHours,
            car?.Title,
            job.Scope.Kind,
            job.Number,
            stand,
            ProgressStory.Tell([
                .. job.Operations.Select(o => new StepTaken(o.Phase, o.IsOver, o.BegunAt is not null)),
            ]),
            stand == ProgressStand.InTheShop ? await AwaitedAsync(db, job, shop, sharing, now, ct) : [],
            Promised(job, sharing),
            [.. notes.Select(n => new ShownNote(n.Text ?? "", shop.LocalDay(n.WrittenAt)))],
            await PhotosAsync(db, id, shop, ct),
            await ProgressPapers.ListAsync(db, job, sharing, isSignedOff, ct),
            sharing?.ShowsPrices == true ? await PricesAsync(db, job, ct) : null,
            TimeZoneInfo.ConvertTime(now, shop.Zone),
            seen,
            await languages.ChosenAsync(db, job.CustomerId, ct)
        )
        {
            Likely =
                stand == ProgressStand.InTheShop && sharing?.ShowsForecast == true
                    ? await LikelyAsync(db, id, shop.LocalDay(now), now, ct)
                    : null,
            Times = await TimesAsync(db, job, shop.LocalDay(now), ct),
            MayAttend = stand == ProgressStand.InTheShop ? await ReadWitnessPoints.ForCustomerAsync(db, job, ct) : [],
        };
    }

    private static async Task<long> LatestAsync(ShopDbContext db, JobId job, CancellationToken ct) =>
        await db.Events.Where(e => e.Job == job).MaxAsync(e => (long?)e.Sequence, ct) ?? 0;

    private static async Task<LikelyDays?> LikelyAsync(
        ShopDbContext db,
        JobId job,
        DateOnly today,
        DateTimeOffset now,
        CancellationToken ct
    ) =>
        await ReadForecasts.ForCustomerAsync(db, job, today, now, ct) is { P50: { } from, P85: { } to }
            ? new LikelyDays(from < today ? today : from, to)
            : null;

    private static async Task<IReadOnlyList<AgreedTime>> TimesAsync(
        ShopDbContext db,
        Job job,
        DateOnly today,
        CancellationToken ct
    )
    {
        var times = new List<AgreedTime>();
        foreach (
            var time in await db.Set<Appointment>().Where(a => a.JobId == job.Id).OrderBy(a => a.Day).ToListAsync(ct)
        )
        {
            if (await AppointmentBook.WhyOverAsync(db, time, today, ct) is null)
            {
                times.Add(new AgreedTime(time.Kind, time.Day, time.TimeText));
            }
        }

        return times;
    }

    private static PromisedDay? Promised(Job job, ProgressSharing? sharing)
    {
        var move = job.PromiseMoves.Count > 0 ? job.PromiseMoves[^1] : null;
        return job.PromisedOn is { } on
            ? new PromisedDay(on, move?.From, move is null ? null : sharing?.ReasonFor(move))
            : null;
    }

    private static async Task<IReadOnlyList<AwaitedThing>> AwaitedAsync(
        ShopDbContext db,
        Job job,
        Shop shop,
        ProgressSharing? sharing,
        DateTimeOffset now,
        CancellationToken ct
    )
    {
        var today = shop.LocalDay(now);
        var changes = await db.Set<ChangeOrder>()
            .Where(c => c.JobId == job.Id && c.State == ChangeState.Offered)
            .OrderBy(c => c.Number)
            .Select(c => new
            {
                c.Number,
                c.OfferedAt,
                c.TotalMinor,
            })
            .ToListAsync(ct);
        var isAuthorised =
            !job.Operations.Any(o => o.Route.Gates.Any(g => g.Kind == GateKind.Authorisation))
            || await db.Set<DropOff>().AnyAsync(d => d.JobId == job.Id && d.Authorisation != null, ct);
        var parts = await db.Set<CustomerPart>()
            .Where(p => p.JobId == job.Id && p.State == CustomerPartState.Awaited)
            .OrderBy(p => p.DueOn)
            .ToListAsync(ct);
        return
        [
            .. changes.Select(c => new AwaitedThing.Answer(
                c.Number,
                shop.LocalDay(c.OfferedAt!.Value),
                sharing?.ShowsPrices == true ? new Money(c.TotalMinor, shop.Currency) : null
            )),
            .. isAuthorised ? Array.Empty<AwaitedThing>() : [new AwaitedThing.Signature()],
            .. parts.Select(p => new AwaitedThing.Part(p.What, p.DueOn, p.IsLate(today))),
        ];
    }

    private static async Task<IReadOnlyList<ShownPhoto>> PhotosAsync(
        ShopDbContext db,
        JobId job,
        Shop shop,
        CancellationToken ct
    )
    {
        var photos = await db.Set<Photo>()
            .Where(p => p.JobId == job && p.IsShown && p.RemovedAt == null)
            .OrderBy(p => p.AddedAt)
            .ThenBy(p => p.Id)
            .ToListAsync(ct);
        return
        [
            .. photos.Select(p => new ShownPhoto(
                p.Id,
                p.Kind,
                p.Place is { } place ? PlanZone.Nearest(place).Code : null,
                shop.LocalDay(p.TakenAt ?? p.AddedAt),
                p.Width,
                p.Height
            )),
        ];
    }

    private static async Task<ShownPrices?> PricesAsync(ShopDbContext db, Job job, CancellationToken ct) =>
        await JobAccounts.FindAsync(db, job.Id, ct) is { } account
            ? new ShownPrices(
                new Money(account.ChargedMinor, account.Currency),
                new Money(account.ChargedMinor - account.BalanceMinor, account.Currency),
                new Money(account.BalanceMinor, account.Currency)
            )
            : null;
}
