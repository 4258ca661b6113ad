using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.HotWork;
using ShopFloor.Application.Routing;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;
using ShopFloor.Domain.Times;

namespace ShopFloor.Application.Times;

/// <summary>What commands on a person's own day have in common.</summary>
internal static class ShopTimes
{
    /// <summary>The spell of the person that runs now: their attendance, or what they do beside the jobs.</summary>
    public static Task<ShopTime?> RunningAsync(CommandScope scope, PersonId person, bool isAttendance) =>
        scope
            .Db.Set<ShopTime>()
            .SingleOrDefaultAsync(
                t => t.Person == person && t.IsAttendance == isAttendance && t.EndedAt == null,
                scope.Cancellation
            );

    /// <summary>Whoever goes to work on a car is on no break and cleans no more.</summary>
    public static async Task EndActivityAsync(CommandScope scope)
    {
        if (scope.Actor.Person is { } person && await RunningAsync(scope, person, isAttendance: false) is { } activity)
        {
            End(scope, activity);
        }
    }

    public static void End(CommandScope scope, ShopTime time)
    {
        time.End(scope.OccurredAt, scope.Now);
        scope.Record(Event(time.IsAttendance ? "time.left" : "time.ended", time));
    }

    /// <summary>Takes the person off every operation they are on; a fire watch begins where the last spark stopped.</summary>
    public static async Task<IReadOnlyList<LeftWork>> LeaveWorkAsync(CommandScope scope, PersonId person)
    {
        var ids = await scope
            .Db.Set<Operation>()
            .Where(o => o.Times.Any(t => t.Person == person && t.EndedAt == null))
            .Select(o => o.JobId)
            .Distinct()
            .ToListAsync(scope.Cancellation);
        if (ids.Count == 0)
        {
            return [];
        }

        await scope.LockSeriesAsync(HotWorkLoading.Series);
        var jobs = await scope.Db.JobsWhole().Where(j => ids.Contains(j.Id)).ToListAsync(scope.Cancellation);
        var hotWork = await HotWorkLoading.ReadAsync(scope.Db, scope.Cancellation);
        var left = new List<LeftWork>();
        foreach (var job in jobs)
        {
            var before = job.Operations.ToDictionary(o => o.Id, OperationChange.Snapshot.Of);
            foreach (var operation in job.Leave(new Worker(person, null), scope.OccurredAt, scope.Now))
            {
                left.Add(new LeftWork(job.Id, operation.Code));
                scope.Record(
                    new EventDraft(
                        "operation.stopped",
                        "operation",
                        operation.Id.Value,
                        job.Id,
                        before[operation.Id],
                        new { state = OperationChange.Snapshot.Of(operation) }
                    )
                );
            }

            scope.Db.Touch(job);
            HotWorkLoading.Follow(scope, hotWork, job, null);
        }

        return left;
    }

    public static EventDraft Event(string type, ShopTime time, object? before = null) =>
        new(
            type,
            "shopTime",
            time.Id.Value,
            null,
            before,
            new
            {
                kind = time.Kind,
                person = time.Person,
                startedAt = time.StartedAt,
                endedAt = time.EndedAt,
            }
        );
}
