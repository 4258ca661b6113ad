using System.Globalization;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Intake.HandOvers;
using ShopFloor.Application.Routing;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Intake.Goods;

/// <summary>A kit is sent or a part goes back, and the job is closed with it. The part of a cancelled job goes back as it stands.</summary>
public sealed class HandOutGoods(CommandRunner runner) : IUseCase
{
    public Task<Outcome<GoodsOutView>> RunAsync(
        JobId jobId,
        GoodsOutInput request,
        Envelope envelope,
        CancellationToken ct
    ) =>
        runner.RunAsync<GoodsOutView>(
            Permission.BookIn,
            envelope,
            request,
            async scope =>
            {
                var job = await scope.Db.JobsWhole().SingleOrDefaultAsync(j => j.Id == jobId, ct);
                if (job is null)
                {
                    return Failure.Missing("job");
                }

                if (await RefuseAsync(scope, job) is { } refused)
                {
                    return refused;
                }

                var isEnd = job.State == JobState.Open;
                if (isEnd && job.Close(scope.Now).Failure is { } open)
                {
                    return open;
                }

                var shop = await scope.ShopAsync();
                var balance = await JobBalance.ReadAsync(scope.Db, jobId, ct);
                var recorded = GoodsOut.Record(
                    scope.NewId<GoodsOutId>(),
                    jobId,
                    request.Details,
                    shop.LocalDay(job.OpenedAt),
                    shop.LocalDay(scope.Now),
                    balance,
                    scope.Now
                );
                if (!recorded.TryGet(out var goods, out var failure))
                {
                    return failure;
                }

                if (await JobBalance.RefuseAsync(scope.Db, jobId, balance, ct) is { } due)
                {
                    return due;
                }

                scope.Db.Add(goods);
                scope.Db.Touch(job);
                scope.Record(
                    new EventDraft(
                        "goods.wentOut",
                        "goodsOut",
                        goods.Id.Value,
                        jobId,
                        After: new
                        {
                            goods.Way,
                            goods.On,
                            goods.Parcels,
                            massKg = goods.MassKg?.ToString("0.###", CultureInfo.InvariantCulture),
                            signature = goods.Signature?.Kind,
                            goods.BalanceMinor,
                        }
                    )
                );
                if (isEnd)
                {
                    scope.Record(new EventDraft("job.closed", "job", jobId.Value, jobId));
                }

                await scope.SaveAsync();
                return GoodsOutView.Of(goods);
            },
            ct
        );

    /// <summary>The refusal where a job is for a car; null for goods and parts.</summary>
    internal static Failure? RefuseCar(Job job) =>
        job.HasCarHere
            ? Failure.Because("car", $"{job.Number} is for a car, which is handed over: use the hand-over.")
            : null;

    private static async Task<Failure?> RefuseAsync(CommandScope scope, Job job)
    {
        if (RefuseCar(job) is { } car)
        {
            return car;
        }

        var thing = job.Scope.Kind.Thing();
        var before = await scope
            .Db.Set<GoodsOut>()
            .Where(g => g.JobId == job.Id)
            .Select(g => (DateOnly?)g.On)
            .SingleOrDefaultAsync(scope.Cancellation);
        if (before is { } day)
        {
            return Failure.Because(
                "closed",
                string.Create(CultureInfo.InvariantCulture, $"The {thing} went out already, on {day:yyyy-MM-dd}.")
            );
        }

        if (job.State == JobState.Cancelled && job.Scope.Kind != SaleKind.Bench)
        {
            return Failure.Because("cancelled", $"{job.Number} was cancelled: nothing is sent.");
        }

        if (scope.Stale(job) is { } stale)
        {
            return stale;
        }

        return
            job.State == JobState.Open
            && await Release.ObstaclesAsync(scope.Db, job, scope.Cancellation) is { Count: > 0 } obstacles
            ? new Failure.Refused([.. obstacles.Take(10)])
            : null;
    }
}
