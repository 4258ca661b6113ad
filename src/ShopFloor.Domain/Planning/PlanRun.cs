using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Planning;

public enum PlanRunState
{
    /// <summary>Asked for; a server is about to take it or is at it.</summary>
    Running,
    Finished,

    /// <summary>Stopped by somebody; the best plan found until then stands.</summary>
    Cancelled,
    Failed,
}

/// <summary>One operation in a plan that is kept, in instants.</summary>
/// <param name="Place">Code of the place.</param>
/// <param name="Stand">From 1: which stand of it.</param>
public sealed record PlannedOperation(
    JobId Job,
    string Operation,
    DateTimeOffset Start,
    DateTimeOffset End,
    PersonId Person,
    string Place,
    int Stand = 1
);

/// <summary>A job that a plan leaves out, and why.</summary>
public sealed record PlanLeftOut(JobId Job, string Number, string Why);

/// <summary>A plan of the coming weeks: asked for, made at once by the plain rule, then improved for a while.</summary>
public sealed class PlanRun : IVersioned
{
    public const int LeastSeconds = 1;
    public const int MostSeconds = 300;
    public const int UsualSeconds = 20;

    /// <summary>Older plans than the newest so many are dropped.</summary>
    public const int Kept = 60;

    /// <summary>A run of which no server has said anything for so long is taken for dead.</summary>
    public static readonly TimeSpan DeadAfter = TimeSpan.FromSeconds(60);

    private PlanRun() { }

    public PlanRunId Id { get; private set; }
    public long Version { get; private set; }
    public PlanRunState State { get; private set; }
    public DateTimeOffset AskedAt { get; private set; }
    public PersonId? AskedBy { get; private set; }
    public int LimitSeconds { get; private set; }

    /// <summary>When a server last said something of it.</summary>
    public DateTimeOffset HeardAt { get; private set; }
    public DateTimeOffset? EndedAt { get; private set; }

    /// <summary>What it is at, in words.</summary>
    public string Aim { get; private set; } = "";

    /// <summary>Of the time it has, from 0 to 1.</summary>
    public double Share { get; private set; }
    public bool CancelAsked { get; private set; }

    /// <summary>When a server began to make it; null while it only waits.</summary>
    public DateTimeOffset? TakenAt { get; private set; }

    /// <summary>Null until there is a plan.</summary>
    public IReadOnlyList<PlannedOperation>? Operations { get; private set; }
    public IReadOnlyList<PlanLeftOut> LeftOut { get; private set; } = [];
    public IReadOnlyList<PlanGranted> Granted { get; private set; } = [];

    /// <summary>Wishes that could not be kept, as sentences.</summary>
    public IReadOnlyList<string> GivenUp { get; private set; } = [];
    public PlanMeasure? Measure { get; private set; }
    public long? LateBound { get; private set; }
    public long? BayBound { get; private set; }

    public static Outcome<PlanRun> Ask(PlanRunId id, int? seconds, PersonId? by, DateTimeOffset now)
    {
        var limit = seconds ?? UsualSeconds;
        return limit is < LeastSeconds or > MostSeconds
            ? Failure.Field("seconds", $"A plan is looked for during {LeastSeconds} to {MostSeconds} seconds.")
            : new PlanRun
            {
                Id = id,
                State = PlanRunState.Running,
                AskedAt = now,
                AskedBy = by,
                LimitSeconds = limit,
                HeardAt = now,
                Aim = "a first plan",
            };
    }

    public bool IsAlive(DateTimeOffset now) => State == PlanRunState.Running && now - HeardAt < DeadAfter;

    public void AskToCancel() => CancelAsked = true;

    /// <summary>A server is about to make it; false where one has begun already, or it has ended.</summary>
    public bool Claim(DateTimeOffset now)
    {
        if (State != PlanRunState.Running || TakenAt is not null)
        {
            return false;
        }

        (TakenAt, HeardAt) = (now, now);
        return true;
    }

    /// <summary>What was said of these jobs goes: the sentences may name what a customer brings.</summary>
    public void Forget(IReadOnlyCollection<JobId> jobs)
    {
        Granted = [.. Granted.Where(g => !jobs.Contains(g.Job))];
        LeftOut = [.. LeftOut.Where(l => !jobs.Contains(l.Job))];
    }

    /// <summary>A server says that it is at it, and how far it is by the time it has.</summary>
    public void Hear(string aim, DateTimeOffset now)
    {
        (Aim, HeardAt) = (aim, now);
        Share = Math.Clamp((now - (TakenAt ?? AskedAt)).TotalSeconds / LimitSeconds, 0, 1);
    }

    /// <summary>The plan so far; it stands even if nothing better comes.</summary>
    public void Take(
        IReadOnlyList<PlannedOperation> operations,
        PlanMeasure measure,
        long? lateBound,
        long? bayBound,
        DateTimeOffset now
    )
    {
        Operations = operations;
        Measure = measure;
        LateBound = lateBound;
        BayBound = bayBound;
        HeardAt = now;
    }

    /// <summary>What the plan takes for granted, leaves out and gives up.</summary>
    public void Explain(
        IReadOnlyList<PlanLeftOut> leftOut,
        IReadOnlyList<PlanGranted> granted,
        IReadOnlyList<string> givenUp
    ) => (LeftOut, Granted, GivenUp) = (leftOut, granted, givenUp);

    public void End(PlanRunState state, DateTimeOffset now) => (State, EndedAt, HeardAt, Share) = (state, now, now, 1);
}
