using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Intake.Cars;
using ShopFloor.Application.Intake.HandOvers;
using ShopFloor.Application.Routing;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Intake.Goods;

/// <summary>What the page needs on which goods or a part go out.</summary>
/// <param name="Title">What is sold.</param>
/// <param name="Address">The customer's address: where it is probably sent.</param>
/// <param name="NotReady">Why it cannot go yet; empty where it can.</param>
/// <param name="BalanceMinor">What the customer owes, minor units; negative where the shop owes.</param>
/// <param name="GoodsOut">Null until it went out.</param>
public sealed record GoodsOutSheet(
    JobId JobId,
    string JobNumber,
    JobState JobState,
    long JobVersion,
    SaleKind Kind,
    string Title,
    CustomerId CustomerId,
    string CustomerName,
    IReadOnlyList<string> Address,
    DateOnly Today,
    IReadOnlyList<Warning> NotReady,
    long BalanceMinor,
    string Currency,
    GoodsOutView? GoodsOut
);

public sealed class GetGoodsOut(QueryRunner runner, TimeProvider clock) : IUseCase
{
    public Task<Outcome<GoodsOutSheet>> RunAsync(JobId jobId, Actor actor, CancellationToken ct) =>
        runner.RunAsync<GoodsOutSheet>(
            Permission.BookIn,
            actor,
            async db =>
            {
                var job = await db.JobsWhole().SingleOrDefaultAsync(j => j.Id == jobId, ct);
                if (job is null)
                {
                    return Failure.Missing("job");
                }

                if (HandOutGoods.RefuseCar(job) is { } refused)
                {
                    return refused;
                }

                var shop = await db.Shops.SingleAsync(ct);
                var customer = await db.Set<Customer>().SingleAsync(c => c.Id == job.CustomerId, ct);
                var goods = await db.Set<GoodsOut>().SingleOrDefaultAsync(g => g.JobId == jobId, ct);
                var obstacles = job.State == JobState.Open ? await Release.ObstaclesAsync(db, job, ct) : [];
                var balance = await JobBalance.ReadAsync(db, jobId, ct);
                return new GoodsOutSheet(
                    job.Id,
                    job.Number,
                    job.State,
                    job.Version,
                    job.Scope.Kind,
                    JobSubject.Title(job, await JobSubject.CarAsync(db, job, ct)),
                    customer.Id,
                    customer.Name,
                    customer.AddressLines,
                    shop.LocalDay(clock.GetUtcNow()),
                    [.. obstacles.Select(o => new Warning(o.Operation ?? o.Code, o.Text))],
                    balance.Minor,
                    balance.Currency.Code,
                    goods is null ? null : GoodsOutView.Of(goods)
                );
            },
            ct
        );
}
