using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Accounts;
using ShopFloor.Application.Common;
using ShopFloor.Application.Routing;
using ShopFloor.Data;
using ShopFloor.Domain.Changes;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Decisions;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Quoting;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Changes;

/// <summary>Reads change orders: one, or those of a job.</summary>
public sealed class ReadChanges(QueryRunner runner, ChangePricer pricer, TimeProvider clock) : IUseCase
{
    public Task<Outcome<ChangeView>> OneAsync(ChangeOrderId id, Actor actor, CancellationToken ct) =>
        runner.RunAsync<ChangeView>(
            Permission.SeeMoney,
            actor,
            async db =>
                await db.Set<ChangeOrder>().SingleOrDefaultAsync(c => c.Id == id, ct) is { } change
                    ? await ViewAsync(db, change, ct)
                    : Failure.Missing("change order"),
            ct
        );

    public Task<Outcome<JobChanges>> OfJobAsync(JobId id, Actor actor, CancellationToken ct) =>
        runner.RunAsync<JobChanges>(
            Permission.SeeMoney,
            actor,
            async db =>
            {
                if (await db.Set<Job>().AsNoTracking().SingleOrDefaultAsync(j => j.Id == id, ct) is not { } job)
                {
                    return Failure.Missing("job");
                }

                var quote = await db.Set<Quote>().AsNoTracking().SingleAsync(q => q.Id == job.QuoteId, ct);
                var changes = await db.Set<ChangeOrder>().AsNoTracking().Where(c => c.JobId == id).ToListAsync(ct);
                var account = await JobAccounts.FindAsync(db, id, ct);
                return new JobChanges(
                    job.Id,
                    job.State,
                    quote.Number,
                    quote.Priced.CurrencyCode,
                    quote.TotalMinor,
                    changes.Where(c => c.State == ChangeState.Approved).Sum(c => c.TotalMinor),
                    account?.ChargedMinor ?? 0,
                    [
                        .. changes
                            .OrderBy(c => c.Number, StringComparer.Ordinal)
                            .Select(c => new ChangeRow(
                                c.Id,
                                c.Number,
                                c.State,
                                c.Terms.Basis == ChangeBasis.ConditionFound,
                                c.Terms.Reason,
                                c.TotalMinor,
                                c.Priced.Hours.Priced,
                                c.CreatedAt,
                                c.OfferedAt,
                                c.ClosedAt
                            )),
                    ]
                );
            },
            ct
        );

    /// <summary>Prices a request without keeping anything, while it is being filled in.</summary>
    public Task<Outcome<PricedChange>> PreviewAsync(
        JobId id,
        ChangeRequest request,
        Actor actor,
        CancellationToken ct
    ) =>
        runner.RunAsync<PricedChange>(
            Permission.Quote,
            actor,
            async db =>
                await db.JobsWhole().SingleOrDefaultAsync(j => j.Id == id, ct) is { } job
                    ? await pricer.PriceAsync(db, job, request, "CO-0", clock.GetUtcNow(), ct)
                    : Failure.Missing("job"),
            ct
        );

    internal static async Task<ChangeView> ViewAsync(ShopDbContext db, ChangeOrder change, CancellationToken ct)
    {
        var job = await db.Set<Job>().AsNoTracking().SingleAsync(j => j.Id == change.JobId, ct);
        var quote = await db.Set<Quote>().AsNoTracking().SingleAsync(q => q.Id == job.QuoteId, ct);
        var customer = await db.Set<Customer>().Where(c => c.Id == job.CustomerId).Select(c => c.Name).SingleAsync(ct);
        var car = await JobSubject.CarAsync(db, job, ct);
        var others = await db.Set<ChangeOrder>()
            .Where(c => c.JobId == job.Id && c.State == ChangeState.Approved && c.Id != change.Id)
            .SumAsync(c => c.TotalMinor, ct);
        var ids = change.Terms.PhotoIds.ToList();
        var photos = await db.Set<Photo>().AsNoTracking().Where(p => ids.Contains(p.Id)).ToListAsync(ct);
        var person = change.ClosedBy is { } by
            ? await db.Users.Where(u => u.Id == by.Value).Select(u => u.DisplayName).SingleOrDefaultAsync(ct)
            : null;
        var isByLink =
            change.ClosedAt is not null
            && await db.Set<DecisionLink>().AnyAsync(l => l.Subject == change.Id.Value && l.UsedAt != null, ct);
        var before = change.State == ChangeState.Draft ? job.PromisedOn : change.PromisedBefore;
        return new ChangeView(
            change.Id,
            change.Version,
            change.Number,
            job.Id,
            job.Number,
            job.State,
            customer,
            JobSubject.Title(job, car),
            change.State,
            change.Terms,
            change.Price,
            [
                .. photos
                    .OrderBy(p => ids.IndexOf(p.Id))
                    .Select(p => new ChangePhoto(p.Id, p.Caption, p.RemovedAt is not null)),
            ],
            change.CreatedAt,
            change.OfferedAt,
            change.ContentHash,
            before,
            change.Terms.PromiseAfter(before),
            change.ClosedAt,
            change.ClosedAt is null ? null : person ?? (isByLink ? "the customer's link" : "An integration"),
            change.ApprovedBy,
            change.ApprovedHow,
            change.CloseReason,
            quote.TotalMinor + others
        );
    }
}
