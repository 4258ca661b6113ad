using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Solving;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Nesting;
using ShopFloor.Domain.Routing;
using ShopFloor.Domain.Solving;
using ShopFloor.Domain.Stock;

namespace ShopFloor.Application.Stock;

/// <summary>Nests cut lists of one or several jobs on sticks and offcuts, and takes the result back into the store.</summary>
public sealed class SawPlans(CommandRunner runner, QueryRunner queries, INestSolver solver, SolverRuns runs) : IUseCase
{
    internal const string Series = "SC";

    /// <param name="JobIds">Whose pieces; at least one.</param>
    /// <param name="ItemId">Of which tube.</param>
    /// <param name="KerfMm">What each cut takes away.</param>
    /// <param name="KeepFromMm">Remnants from this length on go back to the store; absent: 300.</param>
    public sealed record PlanRequest(
        IReadOnlyList<Guid>? JobIds = null,
        Guid? ItemId = null,
        decimal? KerfMm = null,
        decimal? EndTrimMm = null,
        decimal? KeepFromMm = null,
        int? TimeLimitSeconds = null
    );

    /// <param name="Remnants">Lengths that were measured otherwise than calculated.</param>
    /// <param name="Location">Where the offcuts lie; absent: where their bar lay.</param>
    public sealed record SawnRequest(IReadOnlyList<MeasuredRemnant>? Remnants = null, string? Location = null);

    public const int MostJobs = 20;

    /// <summary>Jobs with pieces that are on no card yet.</summary>
    public Task<Outcome<IReadOnlyList<JobToSaw>>> ToSawAsync(Actor actor, CancellationToken ct) =>
        queries.RunAsync<IReadOnlyList<JobToSaw>>(
            Permission.SeeStock,
            actor,
            async db =>
            {
                var jobs = await db.Set<Job>()
                    .Where(j => j.State == JobState.Open)
                    .OrderBy(j => j.Number)
                    .ToListAsync(ct);
                var ids = jobs.ConvertAll(j => j.Id);
                var lists = await db.Set<CutList>()
                    .Where(c => ids.Contains(c.JobId))
                    .ToDictionaryAsync(c => c.JobId, ct);
                jobs.RemoveAll(j => !lists.ContainsKey(j.Id));
                var onCards = await StockLoading.OnCardsAsync(db, ct);
                var codes = await db.Set<StockItem>()
                    .Where(i => i.Kind == StockKind.Tube)
                    .ToDictionaryAsync(i => i.Id, i => i.Code, ct);
                var cars = await Routing.JobSubject.CarsAsync(db, jobs, ct);
                return jobs.Select(j => new JobToSaw(
                        j.Id,
                        j.Number,
                        Routing.JobSubject.Title(j, cars.GetValueOrDefault(j.Id)),
                        [
                            .. lists[j.Id]
                                .Lines.Select(l =>
                                    (Line: l, Left: l.Open - onCards.GetValueOrDefault((j.Id, l.Number)))
                                )
                                .Where(l => l.Left > 0)
                                .GroupBy(l => l.Line.ItemId)
                                .Select(g => new TubeToSaw(
                                    g.Key,
                                    codes[g.Key],
                                    g.Sum(l => l.Left),
                                    g.Sum(l => l.Left * l.Line.LengthMm)
                                ))
                                .OrderBy(t => t.Code, StringComparer.Ordinal),
                        ]
                    ))
                    .Where(j => j.Tubes.Count > 0)
                    .ToList();
            },
            ct
        );

    public Task<Outcome<Page<SawPlanView>>> ListAsync(PageRequest page, Actor actor, CancellationToken ct) =>
        queries.RunAsync<Page<SawPlanView>>(
            Permission.SeeStock,
            actor,
            async db =>
            {
                var items = await db.Set<StockItem>()
                    .Where(i => i.Kind == StockKind.Tube)
                    .ToDictionaryAsync(i => i.Id, ct);
                return await page.CutAsync(
                    db.Set<SawPlan>()
                        .OrderByDescending(p => p.State == SawPlanState.Planned)
                        .ThenByDescending(p => p.Number),
                    p => ViewOf(p, items[p.ItemId], [], []),
                    ct
                );
            },
            ct
        );

    public Task<Outcome<SawPlanView>> ReadAsync(SawPlanId id, Actor actor, CancellationToken ct) =>
        queries.RunAsync<SawPlanView>(
            Permission.SeeStock,
            actor,
            async db =>
                await db.Set<SawPlan>().SingleOrDefaultAsync(p => p.Id == id, ct) is { } plan
                    ? await ViewAsync(db, plan, [], actor, ct)
                    : Failure.Missing("saw card"),
            ct
        );

    /// <summary>Works the nest out and holds its bars. The run is <see cref="SolverRun{T}.Busy"/> where the server has its hands full.</summary>
    public async Task<SolverRun<Outcome<SawPlanView>>> PlanAsync(
        PlanRequest request,
        Envelope envelope,
        IProgress<SolveProgress>? progress,
        CancellationToken ct
    )
    {
        if (await runner.RepeatAsync<SawPlanView>(envelope, request, ct) is { } repeat)
        {
            return new SolverRun<Outcome<SawPlanView>>.Finished(repeat);
        }

        var read = await queries.RunAsync(
            Permission.KeepStock,
            envelope.Actor,
            db => SawQuestion.ReadAsync(db, request, ct),
            ct
        );
        if (!read.TryGet(out var question, out var failure))
        {
            return new SolverRun<Outcome<SawPlanView>>.Finished(failure);
        }

        var limits = new SolveLimits(request.TimeLimitSeconds ?? SolveLimits.UsualSeconds);
        var run = await runs.RunAsync(() => solver.Solve(question.Problem, limits, progress, ct), ct);
        if (run is not SolverRun<NestResult>.Finished(var result))
        {
            return new SolverRun<Outcome<SawPlanView>>.Busy();
        }

        return new SolverRun<Outcome<SawPlanView>>.Finished(
            result switch
            {
                NestResult.Found(var answer) => await KeepAsync(request, question, answer, envelope, ct),
                NestResult.Impossible => question.TooShort(),
                _ => Failure.Because(
                    "notInTime",
                    $"In {limits.Seconds} seconds no way was found to lay the pieces into the stock. Allow more time, nest fewer jobs, or buy a stick."
                ),
            }
        );
    }

    /// <summary>It is sawn: offcuts are in the store, pieces are with their jobs, heats stand in the jobs' material.</summary>
    public Task<Outcome<SawPlanView>> SawAsync(
        SawPlanId id,
        SawnRequest request,
        Envelope envelope,
        CancellationToken ct
    ) =>
        OneAsync(
            id,
            request,
            envelope,
            async (scope, plan) =>
            {
                var db = scope.Db;
                var lotIds = plan.Bars.Select(b => b.Lot).Distinct().ToList();
                var lots = await db.Set<StockLot>().Where(l => lotIds.Contains(l.Id)).ToDictionaryAsync(l => l.Id, ct);
                var jobIds = plan.Jobs.ToList();
                var ended = await db.Set<Job>()
                    .Where(j => jobIds.Contains(j.Id) && j.State != JobState.Open)
                    .Select(j => j.Number)
                    .ToListAsync(ct);
                if (ended.Count > 0)
                {
                    return Failure.Because(
                        "jobEnded",
                        $"{string.Join(", ", ended.Order(StringComparer.Ordinal))} has ended: nothing is booked to it any more. Discard this card and nest what is left of the others."
                    );
                }

                if (request.Remnants?.Any(r => r is null) == true)
                {
                    return Failure.Field("remnants", "A remnant is missing in the list.");
                }

                var lists = await db.Set<CutList>()
                    .Where(c => jobIds.Contains(c.JobId))
                    .ToDictionaryAsync(c => c.JobId, ct);
                // Numbers of labels are taken one by one before the Domain asks for them.
                var numbers = new Queue<string>();
                for (var i = 0; i < plan.Bars.Count; i++)
                {
                    if (Remains(plan, request, i))
                    {
                        numbers.Enqueue(await scope.NextNumberAsync(ReceiveStock.LotSeries));
                    }
                }

                var sawn = plan.Saw(
                    request.Remnants ?? [],
                    request.Location,
                    lots,
                    lists,
                    () => (scope.NewId<StockLotId>(), numbers.Dequeue()),
                    scope.Hand()
                );
                if (!sawn.TryGet(out var done, out var failure))
                {
                    return failure;
                }

                db.AddRange(done.Offcuts);
                db.AddRange(done.Uses);
                foreach (var lot in lots.Values.Concat(done.Offcuts))
                {
                    LotChange.Write(scope, lot);
                }

                foreach (var use in done.Uses)
                {
                    await KeepLots.LessenAsync(scope, use.JobId, plan.ItemId, use.Amount);
                }

                var item = await db.Set<StockItem>().SingleAsync(i => i.Id == plan.ItemId, ct);
                return Outcome<IReadOnlyList<string>>.Success(await SawnMaterial.WriteAsync(scope, plan, item));
            },
            "sawCard.sawn",
            ct
        );

    public Task<Outcome<SawPlanView>> DiscardAsync(
        SawPlanId id,
        string? reason,
        Envelope envelope,
        CancellationToken ct
    ) =>
        OneAsync(
            id,
            reason,
            envelope,
            (scope, plan) =>
                Task.FromResult(
                    plan.Discard(reason, scope.Hand()).Then<IReadOnlyList<string>>(_ => Array.Empty<string>())
                ),
            "sawCard.discarded",
            ct
        );

    /// <summary>Whether a bar leaves something that gets a label.</summary>
    private static bool Remains(SawPlan plan, SawnRequest request, int index) =>
        request.Remnants?.FirstOrDefault(r => r.Bar == index + 1) is { } measured
            ? measured.LengthMm > 0
            : plan.Kept(plan.Bars[index].RemnantMm) > 0;

    private Task<Outcome<SawPlanView>> OneAsync(
        SawPlanId id,
        object? content,
        Envelope envelope,
        Func<CommandScope, SawPlan, Task<Outcome<IReadOnlyList<string>>>> act,
        string type,
        CancellationToken ct
    ) =>
        runner.RunAsync<SawPlanView>(
            Permission.KeepStock,
            envelope,
            new { id, content },
            async scope =>
            {
                if (await scope.Db.Set<SawPlan>().SingleOrDefaultAsync(p => p.Id == id, ct) is not { } plan)
                {
                    return Failure.Missing("saw card");
                }

                if (scope.Stale(plan) is { } stale)
                {
                    return stale;
                }

                if (!(await act(scope, plan)).TryGet(out var notes, out var failure))
                {
                    return failure;
                }

                Record(scope, plan, type);
                await scope.SaveAsync();
                return await ViewAsync(scope.Db, plan, notes, scope.Actor, ct);
            },
            ct
        );

    private Task<Outcome<SawPlanView>> KeepAsync(
        PlanRequest request,
        SawQuestion question,
        NestAnswer answer,
        Envelope envelope,
        CancellationToken ct
    ) =>
        runner.RunAsync<SawPlanView>(
            Permission.KeepStock,
            envelope,
            request,
            async scope =>
            {
                // Everything is read again: what was taken or planned since the nest was begun makes it void.
                if (!(await SawQuestion.ReadAsync(scope.Db, request, ct)).TryGet(out var now, out var failure))
                {
                    return failure;
                }

                if (!now.Pieces.SequenceEqual(question.Pieces) || !now.Free.SequenceEqual(question.Free))
                {
                    return Failure.Because(
                        "stockMoved",
                        "The stock or the cut lists were changed while the nest was worked out. Work it out again."
                    );
                }

                var lots = await StockLoading.LotsAsync(scope.Db, now.Item.Id, ct);
                var free = now.Free.ToDictionary(f => f.Lot, f => f.Free);
                var made = SawPlan.Make(
                    scope.NewId<SawPlanId>(),
                    await scope.NextNumberAsync(Series),
                    now.Item,
                    question.Problem.Request,
                    answer,
                    now.Pieces,
                    [.. lots.Select(l => (l, free.GetValueOrDefault(l.Id)))],
                    request.KeepFromMm ?? SawPlan.UsualKeepMm,
                    scope.Hand()
                );
                if (!made.TryGet(out var plan, out failure))
                {
                    return failure;
                }

                // Two cards at once must not hold one bar: each counts as a change of its lots and lists.
                foreach (var lot in lots.Where(l => plan.Bars.Any(b => b.Lot == l.Id)))
                {
                    scope.Db.Touch(lot);
                }

                var jobs = plan.Jobs.ToList();
                foreach (var list in await scope.Db.Set<CutList>().Where(c => jobs.Contains(c.JobId)).ToListAsync(ct))
                {
                    scope.Db.Touch(list);
                }

                scope.Db.Add(plan);
                Record(scope, plan, "sawCard.planned");
                await scope.SaveAsync();
                return await ViewAsync(scope.Db, plan, [], scope.Actor, ct);
            },
            ct
        );

    private static void Record(CommandScope scope, SawPlan plan, string type) =>
        scope.Record(
            new EventDraft(
                type,
                "sawCard",
                plan.Id.Value,
                After: new
                {
                    plan.Number,
                    plan.State,
                    jobs = plan.Jobs,
                    bars = plan.Bars.Select(b => new { b.LotNumber, pieces = b.Pieces.Count }),
                }
            )
        );

    private static async Task<Outcome<SawPlanView>> ViewAsync(
        ShopDbContext db,
        SawPlan plan,
        IReadOnlyList<string> notes,
        Actor actor,
        CancellationToken ct
    )
    {
        var item = await db.Set<StockItem>().SingleAsync(i => i.Id == plan.ItemId, ct);
        var lotIds = await db.Set<StockMovement>()
            .Where(m => m.SawPlanId == plan.Id && m.Move == StockMove.Offcut)
            .Select(m => m.LotId)
            .ToListAsync(ct);
        var lots = await db.Set<StockLot>().Where(l => lotIds.Contains(l.Id)).OrderBy(l => l.Number).ToListAsync(ct);
        return ViewOf(plan, item, await ReadStock.LotViewsAsync(db, lots, actor, ct), notes);
    }

    private static SawPlanView ViewOf(
        SawPlan plan,
        StockItem item,
        IReadOnlyList<StockLotView> offcuts,
        IReadOnlyList<string> notes
    ) =>
        new(
            plan.Id,
            plan.Version,
            plan.Number,
            plan.ItemId,
            item.Code,
            item.Title,
            plan.State,
            plan.KerfMm,
            plan.EndTrimMm,
            plan.KeepFromMm,
            plan.Bars,
            plan.StockUsedMm,
            plan.LowerBoundMm,
            plan.IsProven,
            plan.HowGood,
            plan.PlannedAt,
            plan.EndedAt,
            plan.EndReason,
            offcuts,
            notes
        );
}
