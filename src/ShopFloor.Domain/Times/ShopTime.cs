using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Domain.Times;

/// <summary>What a person's time in the shop was spent on, where it belongs to no job.</summary>
public enum ShopTimeKind
{
    /// <summary>Being here, from coming to going; runs beside everything else.</summary>
    Attendance,
    Break,
    Cleaning,
    Training,

    /// <summary>Care of tools and machines.</summary>
    Upkeep,
    Other,
}

/// <summary>An operation that somebody left for a break or another duty, so that they can be offered it again.</summary>
public sealed record LeftWork(JobId Job, string Operation);

/// <summary>One spell of one person that belongs to no job. Times are the device's; the server's are kept beside them.</summary>
public sealed class ShopTime : IVersioned
{
    private ShopTime() { }

    public ShopTimeId Id { get; private set; }
    public long Version { get; private set; }
    public PersonId Person { get; private set; }
    public ShopTimeKind Kind { get; private set; }

    /// <summary>Attendance runs beside an activity; of each a person has at most one running.</summary>
    public bool IsAttendance { get; private set; }
    public string? Note { get; private set; }
    public DateTimeOffset StartedAt { get; private set; }
    public DateTimeOffset StartRecordedAt { get; private set; }

    /// <summary>Null while it runs.</summary>
    public DateTimeOffset? EndedAt { get; private set; }
    public DateTimeOffset? EndRecordedAt { get; private set; }

    /// <summary>What its person was on when it began.</summary>
    public IReadOnlyList<LeftWork> Left { get; private set; } = [];
    public IReadOnlyList<TimeCorrection> Corrections { get; private set; } = [];

    /// <summary>Null where it was tapped.</summary>
    public EnteredLater? Entered { get; private set; }

    /// <summary>When its person last said that it still runs; null where nobody asked.</summary>
    public DateTimeOffset? ConfirmedAt { get; private set; }

    public bool IsRunning => EndedAt is null;

    /// <summary>A spell that begins with a tap.</summary>
    public static Outcome<ShopTime> Begin(
        ShopTimeId id,
        PersonId person,
        ShopTimeKind kind,
        string? note,
        DateTimeOffset at,
        DateTimeOffset now,
        IReadOnlyList<LeftWork> left
    )
    {
        var errors = new FieldErrors();
        var words = TextRules.Optional(note, "note", "The note", TextRules.ShortText, errors);
        errors.AddIf(kind == ShopTimeKind.Other && words is null, "note", "Say in a few words what it is.");
        return errors.Any
            ? errors.ToFailure()
            : new ShopTime
            {
                Id = id,
                Person = person,
                Kind = kind,
                IsAttendance = kind == ShopTimeKind.Attendance,
                Note = words,
                StartedAt = at,
                StartRecordedAt = now,
                Left = left,
            };
    }

    /// <summary>A spell that the office enters afterwards; it is marked as such.</summary>
    public static Outcome<ShopTime> Enter(
        ShopTimeId id,
        PersonId person,
        ShopTimeKind kind,
        string? note,
        SpellGiven given,
        Worker by,
        DateTimeOffset now
    )
    {
        var begun = Begin(id, person, kind, note, given.Start, now, []);
        if (begun.IsSuccess)
        {
            begun.Value.EndedAt = given.End;
            begun.Value.EndRecordedAt = now;
            begun.Value.Entered = new EnteredLater(given.Reason, by, now);
        }

        return begun;
    }

    /// <summary>It ends; ending what has ended changes nothing.</summary>
    public void End(DateTimeOffset at, DateTimeOffset now)
    {
        if (IsRunning)
        {
            EndedAt = at < StartedAt ? StartedAt : at;
            EndRecordedAt = now;
        }
    }

    /// <summary>Its person says that it still runs.</summary>
    public void Confirm(DateTimeOffset now) => ConfirmedAt = now;

    /// <summary>Beginning and end are put right; what stood before stays in the trace.</summary>
    public Outcome<Done> Correct(SpellGiven given, Worker by, DateTimeOffset now)
    {
        if (Corrections.Count >= TimeEntry.MostCorrections)
        {
            return TimeEntry.TooOften();
        }

        Corrections =
        [
            .. Corrections,
            new TimeCorrection(StartedAt, EndedAt, given.Start, given.End, given.Reason, by, now),
        ];
        StartedAt = given.Start;
        EndedAt = given.End;
        EndRecordedAt ??= now;
        return Outcome.Ok;
    }
}

public static class ShopTimeWords
{
    public static string Title(this ShopTimeKind kind) =>
        kind switch
        {
            ShopTimeKind.Attendance => "In the shop",
            ShopTimeKind.Break => "Break",
            ShopTimeKind.Cleaning => "Cleaning",
            ShopTimeKind.Training => "Training",
            ShopTimeKind.Upkeep => "Care of tools and machines",
            ShopTimeKind.Other => "Something else",
            _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "Unknown kind."),
        };
}
