using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Places;
using ShopFloor.Application.Routing;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.HotWork;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.HotWork;

/// <summary>Opens a hot-work permit after the checklist was walked.</summary>
public sealed class OpenPermit(CommandRunner runner) : IUseCase
{
    /// <param name="Place">Code of one of the shop's places: <c>bay</c>, <c>bay-2</c>, <c>bench</c> …</param>
    /// <param name="JobId">The job whose car stands there; absent where none does.</param>
    /// <param name="WatcherId">Who watches.</param>
    /// <param name="WatchMinutes">At least the shop's; absent for the shop's.</param>
    /// <param name="ShiftHours">1 to 12; absent for 8.</param>
    public sealed record Request(
        string? Place = null,
        Guid? JobId = null,
        Guid? WatcherId = null,
        int? WatchMinutes = null,
        int? ShiftHours = null,
        IReadOnlyList<PermitAnswer>? Answers = null
    );

    public Task<Outcome<PermitView>> RunAsync(Request request, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<PermitView>(
            Permission.KeepFireWatch,
            envelope,
            request,
            async scope =>
            {
                if (PermitChange.Someone(scope) is not { } by)
                {
                    return PermitChange.NoPerson;
                }

                var number = await scope.NextNumberAsync(HotWorkLoading.Series);
                var errors = new FieldErrors();
                var place = TextRules.Required(request.Place, "place", "The place", TextRules.Code, errors);
                errors.AddIf(
                    request.WatcherId is { } watcher && !await HotWorkLoading.WorksHereAsync(scope, watcher),
                    "watcherId",
                    "The fire watcher is no person of this shop."
                );
                errors.AddIf(
                    request.Answers?.Any(a => a is null) ?? false,
                    "answers",
                    "An entry of the checklist is empty."
                );
                var job = request.JobId is { } id
                    ? await scope.Db.JobsWhole().SingleOrDefaultAsync(j => j.Id == new JobId(id), scope.Cancellation)
                    : null;
                errors.AddIf(request.JobId is not null && job is null, "jobId", "There is no such job.");
                errors.AddIf(
                    job is { State: not JobState.Open },
                    "jobId",
                    $"{job?.Number} is over; no work is done on it any more."
                );
                var facts = await HotWorkLoading.ReadAsync(scope.Db, scope.Cancellation);
                var known = facts.Places.Find(place);
                errors.AddIf(
                    place.Length > 0 && known is null,
                    "place",
                    $"The shop has no place {place}; it has {string.Join(", ", facts.Places.All.Select(p => p.Code))}."
                );
                if (errors.Any)
                {
                    return errors.ToFailure();
                }

                var shop = await scope.ShopAsync();
                if (job is not null && PlaceJob.Stands(scope, job, known!, facts) is { } elsewhere)
                {
                    return elsewhere;
                }

                PersonId? named = request.WatcherId is { } person ? new PersonId(person) : null;
                var opened = HotWorkPermit.Open(
                    new HotWorkPermit.Opening(
                        scope.NewId<HotWorkPermitId>(),
                        number,
                        place,
                        job?.Id,
                        by,
                        named,
                        named is { } one && await HotWorkLoading.IsFreeAsync(scope, one, place, facts),
                        request.WatchMinutes,
                        request.ShiftHours,
                        request.Answers ?? [],
                        facts.Paint
                    )
                    {
                        PlaceTitle = known!.Title,
                    },
                    shop.FireWatchMinutes,
                    scope.Now
                );
                if (!opened.TryGet(out var permit, out var refused))
                {
                    return refused;
                }

                scope.Db.Add(permit);
                scope.Record(
                    new EventDraft(
                        "permit.opened",
                        "hotWorkPermit",
                        permit.Id.Value,
                        permit.JobId,
                        After: new
                        {
                            number,
                            place,
                            watcher = permit.Watcher,
                            watchMinutes = permit.WatchMinutes,
                            validUntil = permit.ValidUntil,
                            points = permit.Answers.ToDictionary(a => a.Point, a => a.Finding),
                        }
                    )
                );
                await scope.SaveAsync();
                return (await PermitViews.OfAsync(scope.Db, [permit], scope.Now, scope.Cancellation))[0];
            },
            ct
        );
}

/// <summary>What all changes of a permit have in common.</summary>
public sealed class PermitChange(CommandRunner runner) : IUseCase
{
    /// <summary>A fire watch is a person's duty; a key without a person keeps none.</summary>
    internal static readonly Failure NoPerson = new Failure.Forbidden(
        "Hot-work permits are opened, watched and closed by people. Use a key that acts as a person."
    );

    internal static PersonId? Someone(CommandScope scope) => scope.Actor.Person;

    internal Task<Outcome<PermitView>> RunAsync(
        HotWorkPermitId id,
        object content,
        Envelope envelope,
        Func<CommandScope, HotWorkPermit, PersonId, Task<Outcome<EventDraft>>> act,
        CancellationToken ct
    ) =>
        runner.RunAsync<PermitView>(
            Permission.KeepFireWatch,
            envelope,
            content,
            async scope =>
            {
                if (Someone(scope) is not { } by)
                {
                    return NoPerson;
                }

                await scope.LockSeriesAsync(HotWorkLoading.Series);
                var permit = await scope
                    .Db.Set<HotWorkPermit>()
                    .SingleOrDefaultAsync(p => p.Id == id, scope.Cancellation);
                if (permit is null)
                {
                    return Failure.Missing("hot-work permit");
                }

                if (scope.Stale(permit) is { } stale)
                {
                    return stale;
                }

                var before = PermitTrace.Of(permit);
                if (!(await act(scope, permit, by)).TryGet(out var draft, out var refused))
                {
                    return refused;
                }

                scope.Record(draft with { Before = before });
                await scope.SaveAsync();
                return (await PermitViews.OfAsync(scope.Db, [permit], scope.Now, scope.Cancellation))[0];
            },
            ct
        );

    internal static EventDraft Event(string type, HotWorkPermit permit, object? after = null) =>
        new(type, "hotWorkPermit", permit.Id.Value, permit.JobId, After: after);
}

/// <summary>Another person takes the watch.</summary>
public sealed class HandFireWatch(PermitChange change) : IUseCase
{
    public sealed record Request(Guid? WatcherId = null);

    public Task<Outcome<PermitView>> RunAsync(
        HotWorkPermitId id,
        Request request,
        Envelope envelope,
        CancellationToken ct
    ) =>
        change.RunAsync(
            id,
            new { id, request },
            envelope,
            async (scope, permit, _) =>
            {
                if (request.WatcherId is not { } person || !await HotWorkLoading.WorksHereAsync(scope, person))
                {
                    return Failure.Field("watcherId", "Name the person of this shop who takes the watch.");
                }

                var (to, from) = (new PersonId(person), permit.Watcher);
                var facts = await HotWorkLoading.ReadAsync(scope.Db, scope.Cancellation);
                var isFree = await HotWorkLoading.IsFreeAsync(scope, to, permit.Place, facts);
                return permit
                    .HandWatchTo(to, isFree, scope.Now)
                    .Then<EventDraft>(_ =>
                        PermitChange.Event(
                            "permit.watchHandedOver",
                            permit,
                            new
                            {
                                number = permit.Number,
                                from,
                                to,
                            }
                        )
                    );
            },
            ct
        );
}

/// <summary>Somebody saw sparks, smoke or a glow, or worked hot outside an operation: the watch begins anew.</summary>
public sealed class ReportSparks(PermitChange change) : IUseCase
{
    public Task<Outcome<PermitView>> RunAsync(HotWorkPermitId id, Envelope envelope, CancellationToken ct) =>
        change.RunAsync(
            id,
            new { id },
            envelope,
            (scope, permit, _) =>
                Task.FromResult(
                    permit
                        .SparkSeen(scope.Now)
                        .Then<EventDraft>(_ =>
                            PermitChange.Event(
                                "permit.sparksReported",
                                permit,
                                new { number = permit.Number, watchUntil = permit.WatchUntil }
                            )
                        )
                ),
            ct
        );
}

/// <summary>The fire watcher confirms that nothing glows or smokes, and closes the permit.</summary>
public sealed class ClosePermit(PermitChange change) : IUseCase
{
    /// <param name="Looked">The watcher looked once more.</param>
    public sealed record Request(bool Looked = false, string? Note = null);

    public Task<Outcome<PermitView>> RunAsync(
        HotWorkPermitId id,
        Request request,
        Envelope envelope,
        CancellationToken ct
    ) =>
        change.RunAsync(
            id,
            new { id, request },
            envelope,
            async (scope, permit, by) =>
            {
                var errors = new FieldErrors();
                var note = TextRules.Optional(request.Note, "note", "The note", TextRules.ShortText, errors);
                if (errors.Any)
                {
                    return errors.ToFailure();
                }

                var facts = new GateFacts { Now = scope.Now, Zone = (await scope.ShopAsync()).Zone };
                return permit
                    .Close(by, request.Looked, note, scope.Now, facts.At)
                    .Then<EventDraft>(_ =>
                        PermitChange.Event("permit.closed", permit, new { number = permit.Number, permit.LastSparkAt })
                    );
            },
            ct
        );
}
