using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;
using ShopFloor.Domain.Times;

namespace ShopFloor.Application.Times;

/// <summary>The office puts attendance, a break or a time without a job right; the first entry stays in the trace.</summary>
public sealed class CorrectShopTime(CommandRunner runner) : IUseCase
{
    public sealed record Request(DateTimeOffset? StartedAt, DateTimeOffset? EndedAt, string? Reason);

    public Task<Outcome<Done>> RunAsync(ShopTimeId id, Request request, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<Done>(
            Permission.KeepTimes,
            envelope,
            new { id, request },
            async scope =>
            {
                var time = await scope.Db.Set<ShopTime>().SingleOrDefaultAsync(t => t.Id == id, scope.Cancellation);
                if (time is null)
                {
                    return Failure.Missing("time");
                }

                if (scope.Stale(time) is { } stale)
                {
                    return stale;
                }

                var before = new { startedAt = time.StartedAt, endedAt = time.EndedAt };
                var read = SpellGiven.Read(request.StartedAt, request.EndedAt, request.Reason, scope.Now);
                if (!read.TryGet(out var given, out var failure))
                {
                    return failure;
                }

                if (await ShopTimeOverlap.OfAsync(scope, time.Person, time.IsAttendance, id, given) is { } overlap)
                {
                    return overlap;
                }

                if (time.Correct(given, Worker.Of(scope.Actor), scope.Now).Failure is { } refused)
                {
                    return refused;
                }

                scope.Record(ShopTimes.Event("time.corrected", time, before));
                return default(Done);
            },
            ct
        );
}

/// <summary>The office enters attendance, a break or a time without a job that nobody tapped; it is marked as entered later.</summary>
public sealed class AddShopTime(CommandRunner runner) : IUseCase
{
    /// <param name="Kind"><c>attendance</c>, <c>break</c>, <c>cleaning</c>, <c>training</c>, <c>upkeep</c> or <c>other</c>.</param>
    public sealed record Request(
        Guid? PersonId,
        string? Kind,
        string? Note,
        DateTimeOffset? StartedAt,
        DateTimeOffset? EndedAt,
        string? Reason
    );

    public Task<Outcome<ShopTimeId>> RunAsync(Request request, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<ShopTimeId>(
            Permission.KeepTimes,
            envelope,
            request,
            async scope =>
            {
                if (await TimePeople.KnownAsync(scope, request.PersonId) is not { } person)
                {
                    return Failure.Field("personId", "Nobody of this shop has this id.");
                }

                if (KindOf(request.Kind) is not { } kind)
                {
                    return Failure.Field("kind", "The kind is attendance, break, cleaning, training, upkeep or other.");
                }

                var read = SpellGiven.Read(request.StartedAt, request.EndedAt, request.Reason, scope.Now);
                if (!read.TryGet(out var given, out var failure))
                {
                    return failure;
                }

                var isAttendance = kind == ShopTimeKind.Attendance;
                if (await ShopTimeOverlap.OfAsync(scope, person, isAttendance, null, given) is { } overlap)
                {
                    return overlap;
                }

                var entered = ShopTime.Enter(
                    scope.NewId<ShopTimeId>(),
                    person,
                    kind,
                    request.Note,
                    given,
                    Worker.Of(scope.Actor),
                    scope.Now
                );
                if (!entered.TryGet(out var time, out failure))
                {
                    return failure;
                }

                scope.Db.Add(time);
                scope.Record(ShopTimes.Event("time.added", time));
                return time.Id;
            },
            ct
        );

    private static ShopTimeKind? KindOf(string? code) =>
        string.Equals(code, nameof(ShopTimeKind.Attendance), StringComparison.OrdinalIgnoreCase)
            ? ShopTimeKind.Attendance
            : ClockTap.KindOf(code);
}

internal static class ShopTimeOverlap
{
    /// <summary>Nobody is here twice, or at two things beside the jobs, at one time.</summary>
    public static async Task<Failure?> OfAsync(
        CommandScope scope,
        PersonId person,
        bool isAttendance,
        ShopTimeId? except,
        SpellGiven given
    )
    {
        var (start, end) = (given.Start, given.End);
        var near = await scope
            .Db.Set<ShopTime>()
            .AsNoTracking()
            .Where(t => t.Person == person && t.IsAttendance == isAttendance)
            .Where(t => t.StartedAt < end && (t.EndedAt == null || t.EndedAt > start))
            .ToListAsync(scope.Cancellation);
        return near.Any(t => t.Id != except && given.Overlaps(t.StartedAt, t.EndedAt))
            ? Failure.Because(
                "timesOverlap",
                "This person has another time of this sort then. Correct that one instead, so that no minute counts twice."
            )
            : null;
    }
}
