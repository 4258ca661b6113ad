using ShopFloor.Domain.Common;
using ShopFloor.Domain.Times;

namespace ShopFloor.Domain.Routing;

/// <summary>One spell of one person (or integration) on one operation. Times are the device's; the server's are kept beside them.</summary>
public sealed class TimeEntry
{
    /// <summary>More corrections of one spell than anybody needs.</summary>
    public const int MostCorrections = 20;

    /// <summary>What stands as the reason of a time that was typed in from paper.</summary>
    public const string PaperReason = "from paper";

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

    /// <summary>What was put right afterwards, oldest first.</summary>
    public IReadOnlyList<TimeCorrection> Corrections { get; private set; } = [];

    /// <summary>Null where it was tapped.</summary>
    public EnteredLater? Entered { get; private set; }

    /// <summary>When its person last said that they are still on it; null where nobody asked.</summary>
    public DateTimeOffset? ConfirmedAt { get; private set; }

    public bool IsRunning => EndedAt is null;

    public Worker Worker => new(Person, Through);

    /// <summary>Whole minutes until its end, or until <paramref name="now"/> while it runs, by <see cref="WorkedTime"/>.</summary>
    public long Minutes(DateTimeOffset now) => WorkedTime.Minutes(StartedAt, EndedAt ?? now);

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

    /// <summary>A spell that was not tapped; it carries who entered it and why.</summary>
    internal static TimeEntry EnterLater(
        TimeEntryId id,
        OperationId operation,
        Worker worker,
        SpellGiven given,
        Worker by,
        DateTimeOffset now
    ) =>
        new(id, operation, worker, given.Start, now)
        {
            EndedAt = given.End,
            EndRecordedAt = now,
            Entered = new EnteredLater(given.Reason, by, now),
        };

    internal void Confirm(DateTimeOffset now) => ConfirmedAt = now;

    /// <summary>Beginning, end or both were typed in from paper. A beginning and an end that came from two lines make it whole.</summary>
    internal void MarkPaper(PaperPart part, Worker by, DateTimeOffset now)
    {
        if (part != PaperPart.None)
        {
            var isWhole = Entered is { Paper: PaperPart.Start or PaperPart.Whole } && part == PaperPart.End;
            Entered = new EnteredLater(PaperReason, by, now, isWhole ? PaperPart.Whole : part);
        }
    }

    internal void Correct(SpellGiven given, Worker by, DateTimeOffset now)
    {
        Corrections =
        [
            .. Corrections,
            new TimeCorrection(StartedAt, EndedAt, given.Start, given.End, given.Reason, by, now),
        ];
        StartedAt = given.Start;
        EndedAt = given.End;
        EndRecordedAt ??= now;
        // A finish that is taken back must not let it run again: its end is now a person's word.
        EndedByFinish = false;
    }

    internal static Failure TooOften() =>
        Failure.Because(
            "correctedTooOften",
            $"This time was corrected {MostCorrections} times. Enter a new one and set this one to no length."
        );
}
