using System.Globalization;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.HotWork;
using ShopFloor.Application.Routing;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;
using ShopFloor.Domain.Times;

namespace ShopFloor.Application.Times;

/// <summary>What changes of a job's times have in common: load, act, follow hot work, record, show the job's times.</summary>
public sealed class JobTimeChange(CommandRunner runner) : IUseCase
{
    internal Task<Outcome<JobTimesView>> RunAsync(
        Permission permission,
        JobId id,
        object content,
        Envelope envelope,
        string eventType,
        Func<CommandScope, Job, Task<Outcome<Operation>>> act,
        CancellationToken ct
    ) =>
        runner.RunAsync<JobTimesView>(
            permission,
            envelope,
            content,
            async scope =>
            {
                if (!(await JobLoading.WholeAsync(scope, id)).TryGet(out var job, out var failure))
                {
                    return failure;
                }

                await scope.LockSeriesAsync(HotWorkLoading.Series);
                var before = job.Operations.SelectMany(o => o.Times).ToDictionary(t => t.Id, Facts.Of);
                var hotWork = await HotWorkLoading.ReadAsync(scope.Db, scope.Cancellation);
                if (!(await act(scope, job)).TryGet(out var operation, out failure))
                {
                    return failure;
                }

                foreach (var entry in operation.Times.Where(t => !Facts.Of(t).Equals(before.GetValueOrDefault(t.Id))))
                {
                    scope.Record(
                        new EventDraft(
                            eventType,
                            "operation",
                            operation.Id.Value,
                            job.Id,
                            before.GetValueOrDefault(entry.Id),
                            new { operation = operation.Code, time = Facts.Of(entry) }
                        )
                    );
                }

                scope.Db.Touch(job);
                HotWorkLoading.Follow(scope, hotWork, job, null);
                await scope.SaveAsync();
                return await ReadTimes.OfJobAsync(scope.Db, job, scope.Now, scope.Cancellation);
            },
            ct
        );

    /// <summary>What the history keeps of a time: ids and instants, no words.</summary>
    private sealed record Facts(
        TimeEntryId Id,
        PersonId? Person,
        DateTimeOffset StartedAt,
        DateTimeOffset? EndedAt,
        DateTimeOffset? ConfirmedAt
    )
    {
        public static Facts Of(TimeEntry t) => new(t.Id, t.Person, t.StartedAt, t.EndedAt, t.ConfirmedAt);
    }
}

/// <summary>The office puts a time on an operation right; the first entry stays in the trace.</summary>
public sealed class CorrectJobTime(JobTimeChange change) : IUseCase
{
    public sealed record Request(DateTimeOffset? StartedAt, DateTimeOffset? EndedAt, string? Reason);

    public Task<Outcome<JobTimesView>> RunAsync(
        JobId job,
        TimeEntryId time,
        Request request,
        Envelope envelope,
        CancellationToken ct
    ) =>
        change.RunAsync(
            Permission.KeepTimes,
            job,
            new
            {
                job,
                time,
                request,
            },
            envelope,
            "time.corrected",
            (scope, found) =>
                Task.FromResult(
                    SpellGiven
                        .Read(request.StartedAt, request.EndedAt, request.Reason, scope.Now)
                        .Then(given => found.CorrectTime(time, given, Worker.Of(scope.Actor), scope.Now))
                ),
            ct
        );
}

/// <summary>The office enters a time that nobody tapped; it is marked as entered later.</summary>
public sealed class AddJobTime(JobTimeChange change) : IUseCase
{
    public sealed record Request(Guid? PersonId, DateTimeOffset? StartedAt, DateTimeOffset? EndedAt, string? Reason);

    public Task<Outcome<JobTimesView>> RunAsync(
        JobId job,
        string code,
        Request request,
        Envelope envelope,
        CancellationToken ct
    ) =>
        change.RunAsync(
            Permission.KeepTimes,
            job,
            new
            {
                job,
                code,
                request,
            },
            envelope,
            "time.added",
            async (scope, found) =>
                await TimePeople.KnownAsync(scope, request.PersonId) is { } person
                    ? SpellGiven
                        .Read(request.StartedAt, request.EndedAt, request.Reason, scope.Now)
                        .Then(given =>
                            found.AddTime(
                                code,
                                scope.NewId<TimeEntryId>(),
                                new Worker(person, null),
                                given,
                                Worker.Of(scope.Actor),
                                scope.Now
                            )
                        )
                    : Failure.Field("personId", "Nobody of this shop has this id."),
            ct
        );
}

/// <summary>Whoever is on an operation answers a question about their long timer: still on it, or stopped at a time that they give.</summary>
public sealed class AnswerLongTimer(JobTimeChange change) : IUseCase
{
    /// <param name="StoppedAt">When they stopped.</param>
    /// <param name="StoppedAtClock">The same as a time of day by the shop's clock, e.g. <c>17:00</c>: the first time that it was so after the start.</param>
    public sealed record Request(DateTimeOffset? StoppedAt = null, string? StoppedAtClock = null);

    /// <summary>They are still on it.</summary>
    public Task<Outcome<JobTimesView>> ConfirmAsync(JobId job, string code, Envelope envelope, CancellationToken ct) =>
        change.RunAsync(
            Permission.Inspect,
            job,
            new { job, code },
            envelope,
            "time.confirmed",
            (scope, found) => Task.FromResult(found.ConfirmTime(code, Worker.Of(scope.Actor), scope.Now)),
            ct
        );

    /// <summary>They stopped earlier.</summary>
    public Task<Outcome<JobTimesView>> StoppedAsync(
        JobId job,
        string code,
        Request request,
        Envelope envelope,
        CancellationToken ct
    ) =>
        change.RunAsync(
            Permission.Inspect,
            job,
            new
            {
                job,
                code,
                request,
            },
            envelope,
            "time.corrected",
            async (scope, found) =>
            {
                var worker = Worker.Of(scope.Actor);
                var entry = found.Operation(code)?.Running.FirstOrDefault(t => t.Worker == worker);
                return (request.StoppedAt ?? await ClockAsync(scope, request, entry)) is { } at
                    ? found.StopTimeAt(code, worker, at, scope.Now)
                    : Failure.Field("stoppedAtClock", "Give the time at which you stopped, such as 17:00.");
            },
            ct
        );

    private static async Task<DateTimeOffset?> ClockAsync(CommandScope scope, Request request, TimeEntry? entry) =>
        TimeOnly.TryParseExact(
            request.StoppedAtClock,
            "HH:mm",
            CultureInfo.InvariantCulture,
            DateTimeStyles.None,
            out var time
        )
            ? LongTimers.FirstAfter(entry?.StartedAt ?? scope.Now, time, await scope.ShopAsync())
            : null;
}

internal static class TimePeople
{
    /// <summary>A person of the shop, also one who has left; null where the id is nobody's.</summary>
    public static async Task<PersonId?> KnownAsync(CommandScope scope, Guid? id) =>
        id is { } person && await scope.Db.Users.AnyAsync(u => u.Id == person, scope.Cancellation)
            ? new PersonId(person)
            : null;
}
