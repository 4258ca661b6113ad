using ShopFloor.Domain.Common;
using ShopFloor.Domain.Times;

namespace ShopFloor.Domain.Routing;

/// <summary>One step of one job: what it is (copied from the route it was opened with) and how far it has come. Changed through its <see cref="Job"/> only.</summary>
public sealed class Operation
{
    /// <summary>Skill of the operations that an inspector does.</summary>
    public const string InspectorSkill = "inspector";

    private readonly List<TimeEntry> times = [];

    private Operation() { }

    internal Operation(OperationId id, JobId job, int position, RouteOperation route)
    {
        Id = id;
        JobId = job;
        Position = position;
        Code = route.Code;
        Title = route.Title;
        Phase = route.Phase;
        Skill = route.Skill;
        Place = route.Place;
        Route = route;
    }

    public OperationId Id { get; private set; }
    public JobId JobId { get; private set; }

    /// <summary>Place in route order, from 0.</summary>
    public int Position { get; private set; }
    public string Code { get; private set; } = "";
    public string Title { get; private set; } = "";
    public Phase Phase { get; private set; }
    public string Skill { get; private set; } = "";
    public string Place { get; private set; } = "";

    /// <summary>Its gates, ways, work content, instruction and caution, as on the route the job was opened with.</summary>
    public RouteOperation Route { get; private set; } = null!;

    /// <summary>The operation that this one mends; null where it is no rework.</summary>
    public string? Mends { get; private set; }

    /// <summary>Put on this job's route after it was opened: rework, or an approved change. It stays when the job goes over to another edition of its route.</summary>
    public bool IsExtra { get; private set; }

    /// <summary>The owner lets it be started and finished although the rest could then not be finished; null where nothing was decided.</summary>
    public SequenceOverride? Override { get; private set; }

    public OperationProgress Progress { get; private set; }

    /// <summary>When its first work began, by the device; null before.</summary>
    public DateTimeOffset? BegunAt { get; private set; }

    /// <summary>By the device.</summary>
    public DateTimeOffset? FinishedAt { get; private set; }

    /// <summary>By the server: cure and undo are counted from here.</summary>
    public DateTimeOffset? FinishRecordedAt { get; private set; }
    public PersonId? FinishedBy { get; private set; }
    public Guid? FinishedThrough { get; private set; }

    /// <summary>Done before the car was entered here, on this day.</summary>
    public DateOnly? DoneBeforeOn { get; private set; }

    /// <summary>Minutes worked before the car was entered here.</summary>
    public long MinutesBefore { get; private set; }

    /// <summary>Why it is not needed, where it is not.</summary>
    public string? NotNeededReason { get; private set; }

    public IReadOnlyList<HoldSpell> Holds { get; private set; } = [];

    /// <summary>What its start closed and its finish opened, so that an undo puts back just that.</summary>
    public IReadOnlyList<string> ClosedByStart { get; private set; } = [];
    public IReadOnlyList<string> OpenedByFinish { get; private set; } = [];

    /// <summary>It was finished straight away, without a start of its own.</summary>
    public bool BegunByFinish { get; private set; }

    public IReadOnlyList<TimeEntry> Times => times;

    public IEnumerable<TimeEntry> Running => times.Where(t => t.IsRunning);

    /// <summary>Done or not needed: nothing waits for it any more.</summary>
    public bool IsOver => Progress is OperationProgress.Done or OperationProgress.NotNeeded;

    /// <summary>Begun and not over: it has closed its ways.</summary>
    public bool IsUnderWay => BegunAt is not null && !IsOver;

    /// <summary>An inspector does it: it is looked at, never left out.</summary>
    public bool IsInspection => Skill == InspectorSkill;

    public HoldSpell? CurrentHold => Progress == OperationProgress.OnHold ? Holds[^1] : null;

    public Worker FinishedByWorker => new(FinishedBy, FinishedThrough);

    /// <summary>Minutes logged so far, those from before included.</summary>
    public long Minutes(DateTimeOffset now) => MinutesBefore + times.Sum(t => t.Minutes(now));

    internal bool IsOn(Worker worker) => Running.Any(t => t.Worker == worker);

    internal void Begin(DateTimeOffset at, IReadOnlyList<string> closed, bool byFinish)
    {
        BegunAt = at;
        ClosedByStart = closed;
        BegunByFinish = byFinish;
    }

    internal void Join(TimeEntryId id, Worker worker, DateTimeOffset at, DateTimeOffset now)
    {
        times.Add(new TimeEntry(id, Id, worker, at, now));
        Progress = OperationProgress.InWork;
    }

    internal void Leave(Worker worker, DateTimeOffset at, DateTimeOffset now)
    {
        foreach (var entry in Running.Where(t => t.Worker == worker).ToList())
        {
            entry.End(at, now, byFinish: false);
        }

        if (!Running.Any())
        {
            Progress = OperationProgress.Paused;
        }
    }

    internal void StopAll(DateTimeOffset at, DateTimeOffset now, bool byFinish)
    {
        foreach (var entry in Running.ToList())
        {
            entry.End(at, now, byFinish);
        }

        if (Progress == OperationProgress.InWork)
        {
            Progress = OperationProgress.Paused;
        }
    }

    internal void Correct(TimeEntry entry, SpellGiven given, Worker by, DateTimeOffset now)
    {
        entry.Correct(given, by, now);
        if (Progress == OperationProgress.InWork && !Running.Any())
        {
            Progress = OperationProgress.Paused;
        }
    }

    internal void Add(TimeEntry entry) => times.Add(entry);

    internal void Finish(Worker by, DateTimeOffset at, DateTimeOffset now, IReadOnlyList<string> opened)
    {
        StopAll(at, now, byFinish: true);
        Progress = OperationProgress.Done;
        FinishedAt = at;
        FinishRecordedAt = now;
        FinishedBy = by.Person;
        FinishedThrough = by.Through;
        OpenedByFinish = opened;
    }

    internal void Unfinish()
    {
        FinishedAt = null;
        FinishRecordedAt = null;
        FinishedBy = null;
        FinishedThrough = null;
        OpenedByFinish = [];
        foreach (var entry in times.Where(t => t.EndedByFinish).ToList())
        {
            entry.GoOn();
        }

        if (BegunByFinish)
        {
            BegunAt = null;
            BegunByFinish = false;
            ClosedByStart = [];
            Progress = OperationProgress.NotBegun;
        }
        else
        {
            Progress = Running.Any() ? OperationProgress.InWork : OperationProgress.Paused;
        }
    }

    internal void Hold(HoldSpell spell, DateTimeOffset now)
    {
        StopAll(spell.From, now, byFinish: false);
        Holds = [.. Holds, spell];
        Progress = OperationProgress.OnHold;
    }

    internal void Lift(Worker by, DateTimeOffset at)
    {
        Holds = [.. Holds.SkipLast(1), Holds[^1] with { LiftedBy = by, Until = at }];
        Progress = BegunAt is null ? OperationProgress.NotBegun : OperationProgress.Paused;
    }

    internal void SetNotNeeded(string reason, Worker by, DateTimeOffset now)
    {
        Progress = OperationProgress.NotNeeded;
        NotNeededReason = reason;
        FinishedAt = now;
        FinishRecordedAt = now;
        FinishedBy = by.Person;
        FinishedThrough = by.Through;
    }

    /// <summary>One more operation must be done before this one may begin.</summary>
    internal void WaitAlsoFor(string code) => Route = Route with { After = [.. Route.After, code] };

    internal void MoveTo(int position) => Position = position;

    internal void MarkExtra(string? mends) => (IsExtra, Mends) = (true, mends);

    internal void Allow(SequenceOverride decision) => Override = decision;

    /// <summary>Takes another description of the same step; only for one that has not begun.</summary>
    internal void Describe(RouteOperation route)
    {
        Title = route.Title;
        Phase = route.Phase;
        Skill = route.Skill;
        Place = route.Place;
        Route = route;
    }

    internal void SetDoneBefore(DateOnly day, DateTimeOffset at, long minutes)
    {
        Progress = OperationProgress.Done;
        BegunAt = at;
        FinishedAt = at;
        FinishRecordedAt = at;
        DoneBeforeOn = day;
        MinutesBefore = minutes;
    }
}
