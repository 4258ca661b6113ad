using System.Globalization;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;
using ShopFloor.Domain.Times;

namespace ShopFloor.Application.Times;

/// <summary>A person says where they are: come, gone, on a break, back, at something that belongs to no job. A repeat changes nothing.</summary>
public sealed class ClockTap(CommandRunner runner) : IUseCase
{
    public const string Arrive = "arrive";
    public const string Leave = "leave";
    public const string Back = "back";
    public const string Begin = "begin";
    public const string StillHere = "still-here";

    /// <param name="Tap"><c>arrive</c>, <c>leave</c>, <c>begin</c>, <c>back</c>, or <c>still-here</c> to a question about a long day.</param>
    /// <param name="Kind">Of <c>begin</c>: <c>break</c>, <c>cleaning</c>, <c>training</c>, <c>upkeep</c> or <c>other</c>.</param>
    /// <param name="Note">Of <c>begin</c>; needed for <c>other</c>.</param>
    /// <param name="LeftAtClock">Of a <c>leave</c> that was forgotten: when they went, by the shop's clock, e.g. <c>17:00</c>.</param>
    public sealed record Request(string? Tap, string? Kind = null, string? Note = null, string? LeftAtClock = null);

    /// <param name="IsHere">Clocked in.</param>
    /// <param name="Doing">What runs beside the jobs; null for nothing.</param>
    /// <param name="Stopped">How many operations were left by this tap.</param>
    public sealed record Answer(bool IsHere, ShopTimeKind? Doing, int Stopped);

    public Task<Outcome<Answer>> RunAsync(Request request, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<Answer>(
            Permission.LogTime,
            envelope,
            request,
            async scope =>
                scope.Actor.Person is { } person
                    ? await ActAsync(scope, person, request)
                    : new Failure.Forbidden("A key without a person has no working day. Use a key made with --user."),
            ct
        );

    private static async Task<Outcome<Answer>> ActAsync(CommandScope scope, PersonId person, Request request)
    {
        var attendance = await ShopTimes.RunningAsync(scope, person, isAttendance: true);
        var activity = await ShopTimes.RunningAsync(scope, person, isAttendance: false);
        switch (request.Tap)
        {
            case Arrive when attendance is not null:
                return new Answer(true, activity?.Kind, 0);
            case Arrive:
                return (await StartAsync(scope, person, ShopTimeKind.Attendance, null, [])).Then<Answer>(
                    _ => new Answer(true, activity?.Kind, 0)
                );
            case Back:
                if (activity is not null)
                {
                    ShopTimes.End(scope, activity);
                }

                return new Answer(attendance is not null, null, 0);
            case StillHere when attendance is not null:
                attendance.Confirm(scope.Now);
                scope.Record(ShopTimes.Event("time.confirmed", attendance));
                return new Answer(true, activity?.Kind, 0);
            case StillHere:
                return Failure.Because("notHere", "You are not clocked in any more.");
            case Leave when request.LeftAtClock is not null:
                return await LeftAtAsync(scope, attendance, request.LeftAtClock);
            case Leave:
                return await LeaveAsync(scope, person, attendance, activity);
            case Begin:
                return await BeginAsync(scope, person, attendance, activity, request);
            default:
                return Failure.Field("tap", "The tap is arrive, leave, begin, back or still-here.");
        }
    }

    private static async Task<Outcome<Answer>> LeaveAsync(
        CommandScope scope,
        PersonId person,
        ShopTime? attendance,
        ShopTime? activity
    )
    {
        var left = await ShopTimes.LeaveWorkAsync(scope, person);
        if (attendance is null && activity is null && left.Count == 0)
        {
            return Failure.Because(
                "notHere",
                "You are not clocked in and no timer of yours runs: there is nothing to end."
            );
        }

        foreach (var time in new[] { activity, attendance }.OfType<ShopTime>())
        {
            ShopTimes.End(scope, time);
        }

        return new Answer(false, null, left.Count);
    }

    /// <summary>Attendance that was forgotten ends when its person says, with its trace. Timers on operations are asked about one by one.</summary>
    private static async Task<Outcome<Answer>> LeftAtAsync(CommandScope scope, ShopTime? attendance, string clock)
    {
        if (attendance is null)
        {
            return Failure.Because("notHere", "You are not clocked in any more.");
        }

        var isTime = TimeOnly.TryParseExact(
            clock,
            "HH:mm",
            CultureInfo.InvariantCulture,
            DateTimeStyles.None,
            out var time
        );
        var at = LongTimers.FirstAfter(attendance.StartedAt, time, await scope.ShopAsync());
        if (!isTime || at > scope.Now)
        {
            return Failure.Field(
                "leftAtClock",
                "Give the time at which you went, between your coming and now, such as 17:00."
            );
        }

        var before = new { startedAt = attendance.StartedAt, endedAt = attendance.EndedAt };
        var given = new SpellGiven(attendance.StartedAt, at, "Going was forgotten; the person gave the time.");
        var corrected = attendance.Correct(given, Worker.Of(scope.Actor), scope.Now);
        if (corrected.Failure is { } failure)
        {
            return failure;
        }

        scope.Record(ShopTimes.Event("time.corrected", attendance, before));
        return new Answer(false, null, 0);
    }

    private static async Task<Outcome<Answer>> BeginAsync(
        CommandScope scope,
        PersonId person,
        ShopTime? attendance,
        ShopTime? activity,
        Request request
    )
    {
        if (KindOf(request.Kind) is not { } kind)
        {
            return Failure.Field("kind", "The kind is break, cleaning, training, upkeep or other.");
        }

        if (activity?.Kind == kind)
        {
            return new Answer(attendance is not null, kind, 0);
        }

        var left = await ShopTimes.LeaveWorkAsync(scope, person);
        if (activity is not null)
        {
            ShopTimes.End(scope, activity);
            // The new spell may begin only when the old one is seen to have ended.
            await scope.SaveAsync();
        }

        // From cleaning to a break: the work that waited before still waits.
        var waiting = left.Count > 0 || activity is null ? left : activity.Left;
        return (await StartAsync(scope, person, kind, request.Note, waiting)).Then<Answer>(_ => new Answer(
            attendance is not null,
            kind,
            left.Count
        ));
    }

    private static Task<Outcome<ShopTime>> StartAsync(
        CommandScope scope,
        PersonId person,
        ShopTimeKind kind,
        string? note,
        IReadOnlyList<LeftWork> left
    )
    {
        var begun = ShopTime.Begin(scope.NewId<ShopTimeId>(), person, kind, note, scope.OccurredAt, scope.Now, left);
        if (begun.IsSuccess)
        {
            scope.Db.Add(begun.Value);
            scope.Record(ShopTimes.Event(kind == ShopTimeKind.Attendance ? "time.arrived" : "time.begun", begun.Value));
        }

        return Task.FromResult(begun);
    }

    /// <summary>A kind by its code; attendance is begun by coming, not so.</summary>
    internal static ShopTimeKind? KindOf(string? code) =>
        Enum.GetValues<ShopTimeKind>()
            .Where(k => k != ShopTimeKind.Attendance)
            .Select(k => (ShopTimeKind?)k)
            .FirstOrDefault(k => string.Equals(k.ToString(), code, StringComparison.OrdinalIgnoreCase));
}
