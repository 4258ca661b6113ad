using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Planning;
using ShopFloor.Application.Quoting;
using ShopFloor.Application.Solving;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Forecast;
using ShopFloor.Domain.Planning;
using ShopFloor.Domain.Quoting;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Forecasting;

/// <summary>Plays through the coming weeks many times with the shop's own spread of hours, and keeps for each car when it will be done.</summary>
public sealed class MakeForecast(
    CommandRunner runner,
    IDbContextFactory<ShopDbContext> contexts,
    IWorkContentSource work,
    SolverRuns runs,
    TimeProvider clock
) : IUseCase
{
    /// <summary>A forecast made on its own is made anew after so long.</summary>
    public static readonly TimeSpan Every = TimeSpan.FromMinutes(30);

    /// <param name="Trials">How often the weeks are played through; absent: 400.</param>
    /// <param name="Seed">The same seed on the same day of the shop gives the same forecast; absent: 1.</param>
    public sealed record Request(int? Trials = null, int? Seed = null);

    /// <summary>What became of it: how many cars have a forecast.</summary>
    public sealed record Made(int Cars);

    public async Task<SolverRun<Outcome<Made>>> RunAsync(
        Request request,
        Envelope envelope,
        IProgress<double>? progress,
        CancellationToken ct
    )
    {
        var errors = new FieldErrors();
        errors
            .AddIf(
                request.Trials is < ForecastSettings.LeastTrials or > ForecastSettings.MostTrials,
                "trials",
                $"The weeks are played through {ForecastSettings.LeastTrials} to {ForecastSettings.MostTrials} times."
            )
            .AddIf(request.Seed is < 0, "seed", "The seed is 0 or more.");
        if (!envelope.Actor.MayDo(Permission.RunJobs) || errors.Any)
        {
            return new SolverRun<Outcome<Made>>.Finished(
                errors.Any
                    ? errors.ToFailure()
                    : new Failure.Forbidden("You do not have the role that this needs. Ask the owner.")
            );
        }

        var (question, spread) = await AskAsync(ct);
        var settings = new ForecastSettings(request.Trials ?? ForecastSettings.UsualTrials, request.Seed ?? 1);
        var run = await runs.RunAsync(() => ShopForecast.Run(question, spread, settings, progress, ct), ct);
        return run is SolverRun<ShopForecastResult>.Finished(var result)
            ? new SolverRun<Outcome<Made>>.Finished(await KeepAsync(question, result, request, envelope, ct))
            : new SolverRun<Outcome<Made>>.Busy();
    }

    /// <summary>For the server's own clockwork: nothing where one was made not long ago, or no car is open.</summary>
    public async Task RunIfDueAsync(CancellationToken ct)
    {
        await using (var db = await contexts.CreateDbContextAsync(ct))
        {
            var since = clock.GetUtcNow() - Every;
            if (
                !await db.Shops.AnyAsync(ct)
                || await db.Set<KeptForecast>().AnyAsync(f => f.MadeAt > since, ct)
                || !await db.Set<Job>().AnyAsync(j => j.State == JobState.Open, ct)
            )
            {
                return;
            }
        }

        await RunAsync(new Request(), Envelope.Of(Actor.System), null, ct);
    }

    private async Task<(ForecastQuestion Question, ShopSpread Spread)> AskAsync(CancellationToken ct)
    {
        await using var db = await contexts.CreateDbContextAsync(ct);
        db.ChangeTracker.QueryTrackingBehavior = QueryTrackingBehavior.NoTrackingWithIdentityResolution;
        var now = clock.GetUtcNow();
        await work.RefreshAsync(db, ct);
        var material = await PlanLoading.ReadAsync(db, now, ct);
        var open = await WorkHistory.EstimatedAsync(db, [.. material.Orders.Select(o => o.Job)], ct);
        var question = ForecastQuestion.Of(
            material.Question(),
            material.Orders,
            open.ToDictionary(j => j.Job.Id, j => WorkHistory.Spreads(j, work)),
            now
        );
        var past = await WorkHistory.FinishedAsync(db, ct);
        var book = await PriceBooks.InForceAsync(db, material.Shop.LocalDay(now), ct);
        var spread = ShopSpread.Learn(
            [.. past.Select(p => WorkedCar.Of(p.Job, p.Hours, WorkHistory.Spreads(p, work), now))],
            book is null ? new SpreadPrior() : SpreadPrior.Of(book.Book)
        );
        return (question, spread);
    }

    private Task<Outcome<Made>> KeepAsync(
        ForecastQuestion question,
        ShopForecastResult result,
        Request request,
        Envelope envelope,
        CancellationToken ct
    ) =>
        runner.RunAsync<Made>(
            Permission.RunJobs,
            envelope,
            request,
            async scope =>
            {
                var today = (await scope.ShopAsync()).LocalDay(scope.Now);
                var kept = await scope
                    .Db.Set<KeptForecast>()
                    .Where(f => f.On == today)
                    .ToDictionaryAsync(f => f.JobId, ct);
                var said = JobForecast.Of(question, result, scope.Now);
                foreach (var one in said)
                {
                    if (kept.TryGetValue(one.Job, out var standing))
                    {
                        standing.Take(one);
                    }
                    else
                    {
                        scope.Db.Add(KeptForecast.Of(scope.NewId<ForecastId>(), today, one));
                    }
                }

                scope.Record(
                    new EventDraft(
                        "forecast.made",
                        "forecast",
                        scope.NewId<ForecastId>().Value,
                        After: new
                        {
                            cars = said.Count,
                            result.Trials,
                            result.Seed,
                        }
                    )
                );
                await scope.SaveAsync();
                return new Made(said.Count);
            },
            ct
        );
}
