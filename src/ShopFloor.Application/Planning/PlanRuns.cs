using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Logging;
using ShopFloor.Application.Common;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Planning;

namespace ShopFloor.Application.Planning;

/// <summary>How a search for a plan stands.</summary>
public sealed record PlanRunView(
    PlanRunId Id,
    PlanRunState State,
    DateTimeOffset AskedAt,
    DateTimeOffset? EndedAt,
    int LimitSeconds,
    string Aim,
    double Share,
    bool IsAlive,
    string? Quality
)
{
    internal static PlanRunView Of(PlanRun run, DateTimeOffset now) =>
        new(
            run.Id,
            run.State,
            run.AskedAt,
            run.EndedAt,
            run.LimitSeconds,
            run.Aim,
            run.Share,
            run.IsAlive(now),
            PlanWords.Quality(run)
        );
}

/// <summary>Asks for a new plan. It is made in the background, by the server that was asked.</summary>
public sealed class AskForPlan(CommandRunner runner, PlanQueue queue) : IUseCase
{
    /// <param name="Seconds">How long to look for a better plan than the plain rule's; null for the usual time.</param>
    public sealed record Request(int? Seconds = null);

    public async Task<Outcome<PlanRunView>> RunAsync(Request request, Envelope envelope, CancellationToken ct)
    {
        var asked = await runner.RunAsync<PlanRunView>(
            Permission.RunJobs,
            envelope,
            request,
            async scope =>
            {
                if (
                    !PlanRun
                        .Ask(scope.NewId<PlanRunId>(), request.Seconds, scope.Actor.Person, scope.Now)
                        .TryGet(out var run, out var failure)
                )
                {
                    return failure;
                }

                await scope.LockSeriesAsync("plan");
                var running = await scope
                    .Db.Set<PlanRun>()
                    .Where(r => r.State == PlanRunState.Running)
                    .ToListAsync(scope.Cancellation);
                if (running.Exists(r => r.IsAlive(scope.Now)))
                {
                    return Failure.Because(
                        "planRunning",
                        "A plan is being made at the moment. Wait for it, or stop it."
                    );
                }

                running.ForEach(r => r.End(PlanRunState.Failed, scope.Now));
                scope.Db.Add(run);
                scope.Record(
                    new EventDraft("plan.asked", "plan", run.Id.Value, After: new { seconds = run.LimitSeconds })
                );
                await scope.SaveAsync();
                return PlanRunView.Of(run, scope.Now);
            },
            ct
        );
        if (asked.IsSuccess && asked.Value.State == PlanRunState.Running)
        {
            queue.Add(asked.Value.Id);
        }

        return asked;
    }

    public async Task<Outcome<PlanRunView>> CancelAsync(PlanRunId id, Envelope envelope, CancellationToken ct)
    {
        var outcome = await runner.RunAsync<PlanRunView>(
            Permission.RunJobs,
            envelope,
            new { cancel = id },
            async scope =>
            {
                var run = await scope.Db.Set<PlanRun>().SingleOrDefaultAsync(r => r.Id == id, scope.Cancellation);
                if (run is null)
                {
                    return Failure.Missing("plan");
                }

                if (run is { State: PlanRunState.Running, CancelAsked: false })
                {
                    run.AskToCancel();
                    scope.Record(new EventDraft("plan.cancelAsked", "plan", id.Value));
                    await scope.SaveAsync();
                }

                return PlanRunView.Of(run, scope.Now);
            },
            ct
        );
        if (outcome.IsSuccess)
        {
            queue.Cancel(id);
        }

        return outcome;
    }
}

/// <summary>Makes the plan that was asked for: by the plain rule at once, then by the solver for as long as it has.</summary>
public sealed class MakePlan(
    CommandRunner runner,
    IDbContextFactory<ShopDbContext> contexts,
    IPlanSolver solver,
    TimeProvider clock,
    ILogger<MakePlan> log
) : IUseCase
{
    private static readonly TimeSpan Pause = TimeSpan.FromSeconds(1);

    public async Task RunAsync(PlanRunId id, CancellationToken cancel, CancellationToken stop)
    {
        try
        {
            await MakeAsync(id, cancel, stop);
        }
        catch (Exception exception) when (!stop.IsCancellationRequested)
        {
            log.LogError(exception, "A plan could not be made");
            await ChangeAsync(id, (run, now) => run.End(PlanRunState.Failed, now), "plan.failed");
        }
    }

    private async Task MakeAsync(PlanRunId id, CancellationToken cancel, CancellationToken stop)
    {
        if (await ClaimAsync(id) is not { } seconds)
        {
            // Another server is at it, or it has ended: an answer that is repeated must not make a second plan.
            return;
        }

        PlanMaterial material;
        await using (var db = await contexts.CreateDbContextAsync(stop))
        {
            material = await PlanLoading.ReadAsync(db, clock.GetUtcNow(), stop);
        }

        var question = material.Question();
        var plain = DispatchPlan.Run(question.Problem);
        var left = plain.LeftOut.Keys.ToList();
        Sound(plain.Problem, plain.Entries, left);
        await ChangeAsync(
            id,
            (r, now) =>
            {
                r.Explain(
                    [
                        .. plain.LeftOut.Select(l => new PlanLeftOut(
                            plain.Problem.Jobs[l.Key].Id,
                            plain.Problem.Jobs[l.Key].Number,
                            l.Value
                        )),
                    ],
                    question.Granted,
                    plain.GivenUp
                );
                r.Take(
                    Kept(plain.Problem, plain.Entries),
                    PlanMeasure.Of(plain.Problem, plain.Entries),
                    null,
                    null,
                    now
                );
            }
        );

        using var both = CancellationTokenSource.CreateLinkedTokenSource(cancel, stop);
        var said = new Said();
        using var over = new CancellationTokenSource();
        var beats = BeatAsync(id, said, both, over.Token);
        var best = await Task.Factory.StartNew(
            () =>
                solver.Improve(
                    plain.Problem,
                    plain.Entries,
                    left,
                    TimeSpan.FromSeconds(seconds),
                    1,
                    p => said.Aim = p.Aim,
                    both.Token
                ),
            CancellationToken.None,
            TaskCreationOptions.LongRunning,
            TaskScheduler.Default
        );
        await over.CancelAsync();
        await beats;
        Sound(plain.Problem, best.Entries, left);
        await ChangeAsync(
            id,
            (r, now) =>
            {
                r.Take(Kept(plain.Problem, best.Entries), best.Measure, best.LateBound, best.BayBound, now);
                r.End(both.IsCancellationRequested ? PlanRunState.Cancelled : PlanRunState.Finished, now);
            },
            "plan.made"
        );
    }

    /// <summary>No plan leaves here that the check has not seen.</summary>
    private static void Sound(PlanProblem problem, IReadOnlyList<PlanEntry> entries, List<int> left)
    {
        if (PlanCheck.Run(problem, entries, left) is [var breach, ..])
        {
            throw new InvalidOperationException($"A plan breaks a rule: {breach.Fault}.");
        }
    }

    internal static IReadOnlyList<PlannedOperation> Kept(PlanProblem problem, IEnumerable<PlanEntry> entries) =>
        [
            .. entries
                .OrderBy(e => e.Start)
                .ThenBy(e => e.Task)
                .Select(e => new PlannedOperation(
                    problem.Jobs[problem.Tasks[e.Task].Job].Id,
                    problem.Tasks[e.Task].Code,
                    problem.Axis.StartOf(e.Start),
                    problem.Axis.EndOf(e.End),
                    problem.People[e.Person].Id,
                    problem.Places[e.Place].Code,
                    problem.Places[e.Place].Stand
                )),
        ];

    private async Task ChangeAsync(PlanRunId id, Action<PlanRun, DateTimeOffset> change, string? happened = null) =>
        await runner.RunUncheckedAsync<Done>(
            Envelope.Of(Actor.System),
            null,
            async scope =>
            {
                var run = await scope.Db.Set<PlanRun>().SingleAsync(r => r.Id == id, scope.Cancellation);
                change(run, scope.Now);
                if (happened is not null)
                {
                    scope.Record(
                        new EventDraft(
                            happened,
                            "plan",
                            id.Value,
                            After: new
                            {
                                state = run.State,
                                operations = run.Operations?.Count ?? 0,
                                run.Measure,
                                run.LateBound,
                                run.BayBound,
                            }
                        )
                    );
                    await DropOldAsync(scope);
                }

                return Outcome.Ok;
            },
            CancellationToken.None
        );

    private static async Task DropOldAsync(CommandScope scope)
    {
        var old = await scope
            .Db.Set<PlanRun>()
            .OrderByDescending(r => r.AskedAt)
            .Skip(PlanRun.Kept)
            .ToListAsync(scope.Cancellation);
        scope.Db.RemoveRange(old);
    }

    /// <summary>Takes it for this server; its seconds, or null where it is not to be made here.</summary>
    private async Task<int?> ClaimAsync(PlanRunId id)
    {
        var claimed = await runner.RunUncheckedAsync<int?>(
            Envelope.Of(Actor.System),
            null,
            async scope =>
            {
                var run = await scope.Db.Set<PlanRun>().SingleOrDefaultAsync(r => r.Id == id, scope.Cancellation);
                return run?.Claim(scope.Now) == true ? run.LimitSeconds : (int?)null;
            },
            CancellationToken.None
        );
        return claimed.IsSuccess ? claimed.Value : null;
    }

    /// <summary>Tells the database every second that it is at it, and hears there whether somebody wants it to stop: perhaps at another server.</summary>
    private async Task BeatAsync(PlanRunId id, Said said, CancellationTokenSource cancel, CancellationToken over)
    {
        using var timer = new PeriodicTimer(Pause, clock);
        try
        {
            while (await timer.WaitForNextTickAsync(over))
            {
                await BeatOnceAsync(id, said, cancel);
            }
        }
        catch (OperationCanceledException) when (over.IsCancellationRequested)
        {
            // The search has ended.
        }
    }

    private async Task BeatOnceAsync(PlanRunId id, Said said, CancellationTokenSource cancel)
    {
        try
        {
            await ChangeAsync(
                id,
                (run, now) =>
                {
                    run.Hear(said.Aim, now);
                    if (run.CancelAsked)
                    {
                        cancel.Cancel();
                    }
                }
            );
        }
        catch (Exception exception) when (exception is not OutOfMemoryException)
        {
            log.LogWarning("How far the plan is could not be noted: {Exception}", exception.GetType().Name);
        }
    }

    /// <summary>What the search said last, on its own thread.</summary>
    private sealed class Said
    {
        private volatile string aim = "a better plan";

        public string Aim
        {
            get => aim;
            set => aim = value;
        }
    }
}
