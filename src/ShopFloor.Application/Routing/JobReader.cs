using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Accounts;
using ShopFloor.Application.Changes;
using ShopFloor.Application.Common;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Quoting;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Routing;

/// <summary>Builds the whole view of one job from the rows of all slices.</summary>
internal static class JobReader
{
    public static async Task<JobView> ViewAsync(
        ShopDbContext db,
        Job job,
        Actor actor,
        DateTimeOffset now,
        CancellationToken ct
    )
    {
        var shop = await db.Shops.AsNoTracking().SingleAsync(ct);
        var facts = await JobFacts.OfAsync(db, job, shop, now, ct);
        var customer = await db.Set<Customer>().Where(c => c.Id == job.CustomerId).Select(c => c.Name).SingleAsync(ct);
        var car = await JobSubject.CarAsync(db, job, ct);
        var quote = await db.Set<Quote>().AsNoTracking().SingleAsync(q => q.Id == job.QuoteId, ct);
        var estimates = ApprovedChanges.Hours(quote, await ApprovedChanges.OfAsync(db, job.Id, ct));
        var maySeeMoney = actor.May(Permission.SeeMoney);
        var balances = maySeeMoney ? await JobAccounts.BalancesAsync(db, [job.Id], ct) : new Dictionary<JobId, long>();
        return new JobView(
            job.Id,
            job.Version,
            job.Number,
            job.State,
            job.QuoteId,
            job.CustomerId,
            customer,
            job.CarId,
            JobSubject.Title(job, car),
            car?.Registration,
            job.HasCarHere
                ? new CarFactsView(
                    job.Scope.Car.SteeringSide.ToString(),
                    job.Scope.Car.Energy.ToString(),
                    job.Scope.Car.Airbags.ToString(),
                    job.Scope.Car.TankPosition.ToString()
                )
                : null,
            job.Scope.Kind,
            job.Scope.RouteKey,
            job.Scope.UseCode,
            job.CurrentPhase.Title(),
            job.PromisedOn,
            IsLate(job, shop.LocalDay(now)),
            [.. job.PromiseMoves.Select(m => new PromiseMoveView(m.From, m.To, m.Reason, facts.Name(m.By), m.At))],
            job.OpenedAt,
            job.EndedAt,
            job.EnteredMidRoute,
            job.CancelReason,
            await CancelledCarAsync(db, job, ct),
            await EarlierAsync(db, job, ct),
            await db.Set<Job>()
                .Where(j => j.ReturnOf == job.Id)
                .OrderBy(j => j.Number)
                .Select(j => new JobLink(j.Id, j.Number))
                .ToListAsync(ct),
            await db.Set<GoodsOut>()
                .Where(g => g.JobId == job.Id)
                .Select(g => (DateOnly?)g.On)
                .SingleOrDefaultAsync(ct),
            job.Operations.Any(o => o.Route.Gates.Any(g => g.Kind == GateKind.Isolation)),
            job.Isolation is { } i ? new IsolationView(i.QualifiedPerson, i.Reference, i.RecordedAt) : null,
            JobViews.WaitsFor(job, facts),
            [.. job.Operations.Select(o => JobViews.Of(job, o, facts, estimates))],
            await ReadingsAsync(db, job.Id, ct),
            balances.TryGetValue(job.Id, out var balance) ? balance : null,
            maySeeMoney ? shop.Currency.Code : null
        )
        {
            Places =
            [
                .. facts
                    .HotWork.Places.All.Where(p => facts.HotWork.Places.OfKind(p.Kind).Count > 1)
                    .Select(p => new JobPlaceView(
                        p.Kind,
                        p.Code,
                        p.Title,
                        job.Places.GetValueOrDefault(p.Kind) == p.Code
                    )),
            ],
            Ways = [.. job.Ways.Select(w => ReadJobRoute.WayOf(job, w))],
        };
    }

    public static bool IsLate(Job job, DateOnly today) => job.State == JobState.Open && job.PromisedOn < today;

    private static async Task<JobLink?> EarlierAsync(ShopDbContext db, Job job, CancellationToken ct) =>
        job.ReturnOf is { } earlier
            ? await db.Set<Job>().Where(j => j.Id == earlier).Select(j => new JobLink(j.Id, j.Number)).SingleAsync(ct)
            : null;

    private static async Task<CancelledCarView?> CancelledCarAsync(ShopDbContext db, Job job, CancellationToken ct) =>
        job.State != JobState.Cancelled || !job.HasCarHere
            ? null
            : new CancelledCarView(
                job.EnteredMidRoute || await db.Set<DropOff>().AnyAsync(d => d.JobId == job.Id, ct),
                await db.Set<CarReturn>()
                    .Where(r => r.JobId == job.Id)
                    .Select(r => (DateTimeOffset?)r.ReturnedAt)
                    .SingleOrDefaultAsync(ct)
            );

    private static async Task<IReadOnlyList<JobReadingView>> ReadingsAsync(
        ShopDbContext db,
        JobId job,
        CancellationToken ct
    )
    {
        var lines = await db.Set<InspectionLine>()
            .AsNoTracking()
            .Include(l => l.Readings)
            .Where(l => l.JobId == job)
            .OrderBy(l => l.Position)
            .ToListAsync(ct);
        return
        [
            .. lines.SelectMany(l =>
                l.Readings.OrderBy(r => r.Number)
                    .Select(r => new JobReadingView(
                        r.Id,
                        l.Code,
                        l.OperationCode,
                        l.What,
                        r.Number,
                        r.Value,
                        l.Unit,
                        r.Passed ? "passed" : "failed",
                        r.Note,
                        r.PhotoIds,
                        r.OccurredAt,
                        r.RecordedAt
                    ))
            ),
        ];
    }
}
