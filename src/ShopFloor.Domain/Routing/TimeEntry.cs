using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Routing;

/// <summary>One spell of one person (or integration) on one operation. Times are the device's; the server's are kept beside them.</summary>
public sealed class TimeEntry
{
    private TimeEntry() { }

    internal TimeEntry(
        TimeEntryId id,
        OperationId operation,
        Worker worker,
        DateTimeOffset at,
        DateTimeOffset recordedAt
    )
    {
        Id = id;
        OperationId = operation;
        Person = worker.Person;
        Through = worker.Through;
        StartedAt = at;
        StartRecordedAt = recordedAt;
    }

    public TimeEntryId Id { get; private set; }
    public OperationId OperationId { get; private set; }
    public PersonId? Person { get; private set; }

    /// <summary>The integration's key, where no person was given.</summary>
    public Guid? Through { get; private set; }
    public DateTimeOffset StartedAt { get; private set; }
    public DateTimeOffset StartRecordedAt { get; private set; }

    /// <summary>Null while it runs.</summary>
    public DateTimeOffset? EndedAt { get; private set; }
    public DateTimeOffset? EndRecordedAt { get; private set; }

    /// <summary>Ended because the operation was finished, not because its person stopped.</summary>
    public bool EndedByFinish { get; private set; }

    public bool IsRunning => EndedAt is null;

    public Worker Worker => new(Person, Through);

    /// <summary>Whole minutes until its end, or until <paramref name="now"/> while it runs; not under 0.</summary>
    public long Minutes(DateTimeOffset now) => Math.Max(0, (long)((EndedAt ?? now) - StartedAt).TotalMinutes);

    internal void End(DateTimeOffset at, DateTimeOffset recordedAt, bool byFinish)
    {
        EndedAt = at < StartedAt ? StartedAt : at;
        EndRecordedAt = recordedAt;
        EndedByFinish = byFinish;
    }

    internal void GoOn()
    {
        EndedAt = null;
        EndRecordedAt = null;
        EndedByFinish = false;
    }
}
