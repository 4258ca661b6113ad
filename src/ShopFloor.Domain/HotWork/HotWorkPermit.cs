using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Domain.HotWork;

/// <summary>Leave to weld, tack, grind and cut in one place for one shift, and the fire watch that follows. Every time in it is the server's: a tap that comes late moves no timer.</summary>
public sealed class HotWorkPermit : IVersioned
{
    private HotWorkPermit() { }

    public HotWorkPermitId Id { get; private set; }
    public long Version { get; private set; }

    /// <summary>E.g. <c>H-2026-0001</c>.</summary>
    public string Number { get; private set; } = "";
    public string Place { get; private set; } = "";

    /// <summary>The job whose car stands there; null where no car does.</summary>
    public JobId? JobId { get; private set; }
    public PersonId OpenedBy { get; private set; }
    public DateTimeOffset OpenedAt { get; private set; }

    /// <summary>No hot work begins under it from here on.</summary>
    public DateTimeOffset ValidUntil { get; private set; }
    public PersonId Watcher { get; private set; }
    public IReadOnlyList<WatcherChange> WatcherChanges { get; private set; } = [];

    /// <summary>Minutes of watch after the last spark.</summary>
    public int WatchMinutes { get; private set; }
    public IReadOnlyList<PermitAnswer> Answers { get; private set; } = [];
    public IReadOnlyList<HotSpell> Spells { get; private set; } = [];

    /// <summary>The server's time of the last stop of hot work, or of sparks reported; null before the first.</summary>
    public DateTimeOffset? LastSparkAt { get; private set; }
    public DateTimeOffset? ClosedAt { get; private set; }
    public PersonId? ClosedBy { get; private set; }
    public string? CloseNote { get; private set; }

    public bool IsClosed => ClosedAt is not null;

    /// <summary>The end of the watch, while one runs or has run; null before the first stop.</summary>
    public DateTimeOffset? WatchUntil => LastSparkAt?.AddMinutes(WatchMinutes);

    /// <summary>What opens a permit.</summary>
    /// <param name="Watcher">Null where nobody was named.</param>
    /// <param name="WatcherIsFree">The watcher is on no operation and watches no other place.</param>
    /// <param name="WatchMinutes">Null for the shop's own.</param>
    /// <param name="ShiftHours">Null for <see cref="FireWatch.UsualShiftHours"/>.</param>
    public sealed record Opening(
        HotWorkPermitId Id,
        string Number,
        string Place,
        JobId? Job,
        PersonId By,
        PersonId? Watcher,
        bool WatcherIsFree,
        int? WatchMinutes,
        int? ShiftHours,
        IReadOnlyList<PermitAnswer> Answers,
        IReadOnlyList<PaintUnderWay> Paint
    )
    {
        /// <summary>Reads after "in".</summary>
        public string PlaceTitle { get; init; } = HotPlace.Title(Place);
    }

    /// <summary>Opens it. Refused with one sentence for each point that is not as it must be.</summary>
    public static Outcome<HotWorkPermit> Open(Opening opening, int shopMinutes, DateTimeOffset now)
    {
        var errors = new FieldErrors();
        var minutes = FireWatch.Minutes(opening.WatchMinutes, shopMinutes, "watchMinutes", errors);
        var hours = opening.ShiftHours ?? FireWatch.UsualShiftHours;
        errors.AddIf(
            hours is < 1 or > FireWatch.LongestShiftHours,
            "shiftHours",
            $"A permit is good for one shift: 1 to {FireWatch.LongestShiftHours} hours, not {hours}."
        );
        var answers = Cleaned(opening.Answers, errors);
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        var reasons = Problems(opening, answers).ToList();
        return reasons.Count > 0
            ? new Failure.Refused(reasons)
            : new HotWorkPermit
            {
                Id = opening.Id,
                Number = opening.Number,
                Place = opening.Place,
                JobId = opening.Job,
                OpenedBy = opening.By,
                OpenedAt = now,
                ValidUntil = now.AddHours(hours),
                Watcher = opening.Watcher!.Value,
                WatchMinutes = minutes,
                Answers = answers,
            };
    }

    /// <summary>How it stands at the server's time <paramref name="now"/>.</summary>
    public PermitStanding Standing(DateTimeOffset now)
    {
        if (ClosedAt is { } closed)
        {
            return new PermitStanding.Closed(closed);
        }

        var running = Spells.Where(s => s.Until is null).ToList();
        return running.Count > 0 ? new PermitStanding.HotWork(running)
            : LastSparkAt is not { } spark ? new PermitStanding.Open(ValidUntil)
            : now < WatchUntil ? new PermitStanding.Watch(spark, WatchUntil!.Value)
            : new PermitStanding.WatchOver(WatchUntil!.Value);
    }

    /// <summary>Hot work of this job in this place may begin under it now.</summary>
    /// <param name="hasCar">The job's car stands there: then the permit must be for it.</param>
    public bool Covers(JobId job, bool hasCar, string place, DateTimeOffset now) =>
        !IsClosed && now < ValidUntil && IsFor(job, hasCar, place);

    /// <summary>It is about this job in this place, whether or not work may still begin under it.</summary>
    public bool IsFor(JobId job, bool hasCar, string place) =>
        Place == place && (JobId == job || (JobId is null && !hasCar));

    /// <summary>It names the job's car, or hot work of the job was done under it.</summary>
    public bool Concerns(JobId job) => JobId == job || Spells.Any(s => s.Job == job);

    /// <summary>Hot work begins.</summary>
    internal void Begin(Operation operation, DateTimeOffset now)
    {
        if (!Spells.Any(s => s.Operation == operation.Id && s.Until is null))
        {
            Spells = [.. Spells, new HotSpell(operation.Id, operation.Code, operation.JobId, now, null)];
        }
    }

    /// <summary>Hot work of one operation has stopped: the watch begins anew.</summary>
    internal void Stop(OperationId operation, DateTimeOffset now)
    {
        Spells = [.. Spells.Select(s => s.Operation == operation && s.Until is null ? s with { Until = now } : s)];
        LastSparkAt = now;
    }

    /// <summary>Hot work was done that no start had announced: noted with no length, and the watch begins anew.</summary>
    internal void Note(Operation operation, DateTimeOffset now)
    {
        Spells = [.. Spells, new HotSpell(operation.Id, operation.Code, operation.JobId, now, now)];
        LastSparkAt = now;
    }

    /// <summary>Sparks or a glow were seen: the watch begins anew.</summary>
    public Outcome<Done> SparkSeen(DateTimeOffset now)
    {
        if (IsClosed)
        {
            return AlreadyClosed();
        }

        LastSparkAt = now;
        return Outcome.Ok;
    }

    /// <summary>Another person takes the watch.</summary>
    public Outcome<Done> HandWatchTo(PersonId to, bool isFree, DateTimeOffset now)
    {
        if (IsClosed)
        {
            return AlreadyClosed();
        }

        if (!isFree)
        {
            return Failure.Because("watcherBusy", WatcherBusy);
        }

        if (to != Watcher)
        {
            WatcherChanges = [.. WatcherChanges, new WatcherChange(Watcher, to, now)];
            Watcher = to;
        }

        return Outcome.Ok;
    }

    /// <summary>The watcher has looked at everything once more, and closes it. Before the first spark nothing has to be watched.</summary>
    public Outcome<Done> Close(
        PersonId by,
        bool looked,
        string? note,
        DateTimeOffset now,
        Func<DateTimeOffset, string> at
    )
    {
        if (IsClosed)
        {
            return AlreadyClosed();
        }

        if (by != Watcher)
        {
            return Failure.Because(
                "notTheWatcher",
                $"Permit {Number} is closed by its fire watcher alone. Let the watcher confirm, or hand the watch over first."
            );
        }

        switch (Standing(now))
        {
            case PermitStanding.HotWork hot:
                return Failure.Because(
                    "hotWorkRuns",
                    $"Hot work still runs under permit {Number} ({string.Join(", ", hot.Running.Select(s => s.Code))}). Stop it first; then the watch begins."
                );
            case PermitStanding.Watch watch:
                return Failure.Because(
                    "watchRuns",
                    $"The fire watch of permit {Number} runs until {at(watch.Until)} by the server's clock. Stay, look, and confirm then."
                );
            case PermitStanding.WatchOver when !looked:
                return Failure.Field(
                    "looked",
                    "Confirm that you looked at the car, the far sides and the surroundings, and that nothing glows or smokes."
                );
            default:
                ClosedAt = now;
                ClosedBy = by;
                CloseNote = note;
                return Outcome.Ok;
        }
    }

    /// <summary>What cannot be so, a sentence each; empty for every permit that this class made.</summary>
    public IEnumerable<string> Audit()
    {
        if (WatchMinutes is < FireWatch.LeastMinutes or > FireWatch.MostMinutes)
        {
            yield return $"its watch of {WatchMinutes} minutes is not between {FireWatch.LeastMinutes} and {FireWatch.MostMinutes}.";
        }

        if (ValidUntil <= OpenedAt || ValidUntil > OpenedAt.AddHours(FireWatch.LongestShiftHours))
        {
            yield return "it is good for longer than a shift, or for no time at all.";
        }

        if (
            PermitPoint.All.Any(p =>
                p.Problem(Answers.FirstOrDefault(a => a.Point == p.Code), JobId is not null) is not null
            )
        )
        {
            yield return "its checklist is not answered as it must be.";
        }

        if (Spells.Any(s => s.Until < s.From) || Spells.Max(s => s.Until) > (LastSparkAt ?? DateTimeOffset.MinValue))
        {
            yield return "its last spark is before the end of hot work under it.";
        }

        if (!IsClosed)
        {
            yield break;
        }

        if (ClosedBy != Watcher)
        {
            yield return "it was closed by another person than its watcher.";
        }

        if (Spells.Any(s => s.Until is null))
        {
            yield return "it is closed while hot work runs under it.";
        }

        if (ClosedAt < WatchUntil)
        {
            yield return "it was closed before its fire watch was over.";
        }
    }

    private const string WatcherBusy =
        "The fire watcher has no other duty: this person is on an operation or watches another place. Name somebody else, or let them stop first.";

    private Failure AlreadyClosed() => Failure.Because("permitClosed", $"Permit {Number} is closed.");

    private static IEnumerable<Reason> Problems(Opening opening, IReadOnlyList<PermitAnswer> answers)
    {
        foreach (var point in PermitPoint.All)
        {
            if (point.Problem(answers.FirstOrDefault(a => a.Point == point.Code), opening.Job is not null) is { } text)
            {
                yield return new Reason(point.Code, text);
            }
        }

        if (opening.Watcher is not { } watcher)
        {
            yield return new Reason(
                "watcher",
                "Fire watcher: name the person who watches, during the work and after it."
            );
        }
        else if (watcher == opening.By)
        {
            yield return new Reason(
                "watcher",
                "Fire watcher: the one who opens the permit to weld does not watch. Name another person, with no other duty."
            );
        }
        else if (!opening.WatcherIsFree)
        {
            yield return new Reason("watcherBusy", WatcherBusy);
        }

        foreach (var paint in opening.Paint.Where(p => p.Places.Contains(opening.Place)))
        {
            yield return new Reason(
                "paintInWork",
                $"{paint.Code} {paint.Title} of {paint.JobNumber} uses paint or solvent in {opening.PlaceTitle}{(paint.Places.Count > 1 ? ", or nobody has said that it does not" : "")}. Finish or stop it and air the place first.",
                paint.Code
            );
        }
    }

    private static List<PermitAnswer> Cleaned(IReadOnlyList<PermitAnswer> answers, FieldErrors errors)
    {
        var clean = new List<PermitAnswer>();
        for (var i = 0; i < Math.Min(answers.Count, PermitPoint.All.Count + 1); i++)
        {
            var (answer, path) = (answers[i], $"answers[{i}]");
            errors.AddIf(
                PermitPoint.All.All(p => p.Code != answer.Point),
                path + ".point",
                "The checklist has no such point."
            );
            errors.AddIf(clean.Exists(a => a.Point == answer.Point), path + ".point", "This point is answered twice.");
            clean.Add(
                answer with
                {
                    Note = TextRules.Optional(answer.Note, path + ".note", "The note", PermitPoint.LongestNote, errors),
                }
            );
        }

        errors.AddIf(
            answers.Count > PermitPoint.All.Count,
            "answers",
            $"The checklist has {PermitPoint.All.Count} points; answer each once."
        );
        return clean;
    }
}
