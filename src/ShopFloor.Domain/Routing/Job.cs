using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Routing;

/// <summary>The accepted work on one car, on a part that came without its car, or on a kit that is sent: its route, how far each operation has come, which access ways are open, the promised day.</summary>
public sealed partial class Job : IVersioned
{
    public const int LongestReason = TextRules.Note;

    private readonly List<Operation> operations = [];

    private Job() { }

    public JobId Id { get; private set; }
    public long Version { get; private set; }

    /// <summary>E.g. <c>J-2026-0001</c>.</summary>
    public string Number { get; private set; } = "";
    public QuoteId QuoteId { get; private set; }
    public CustomerId CustomerId { get; private set; }

    /// <summary>Null where a kit is sent or a part comes without its car.</summary>
    public CarId? CarId { get; private set; }

    /// <summary>The earlier job that this return visit belongs to.</summary>
    public JobId? ReturnOf { get; private set; }
    public string TemplateCode { get; private set; } = "";
    public int TemplateEdition { get; private set; }

    /// <summary>What is built; frozen from the accepted quote.</summary>
    public JobScope Scope { get; private set; } = null!;
    public IReadOnlyList<AccessWay> Ways { get; private set; } = [];

    /// <summary>Codes of the ways that are open now.</summary>
    public IReadOnlyList<string> OpenWays { get; private set; } = [];
    public DateOnly? PromisedOn { get; private set; }
    public IReadOnlyList<PromiseMove> PromiseMoves { get; private set; } = [];
    public JobState State { get; private set; }
    public DateTimeOffset OpenedAt { get; private set; }

    /// <summary>The car came to the program half built.</summary>
    public bool EnteredMidRoute { get; private set; }

    /// <summary>Handed over or cancelled at.</summary>
    public DateTimeOffset? EndedAt { get; private set; }
    public string? CancelReason { get; private set; }

    /// <summary>The high-voltage system was isolated; null where that is not recorded (or the car has none).</summary>
    public HighVoltageIsolation? Isolation { get; private set; }

    /// <summary>Stock and work sent out that this job waits or waited for.</summary>
    public IReadOnlyList<AwaitedThing> Awaited { get; private set; } = [];

    /// <summary>Times at which the owner stopped the job or some of its operations.</summary>
    public IReadOnlyList<OwnerHold> OwnerHolds { get; private set; } = [];

    /// <summary>Qualified and second persons recorded as present.</summary>
    public IReadOnlyList<Presence> Presences { get; private set; } = [];

    /// <summary>In route order.</summary>
    public IReadOnlyList<Operation> Operations => [.. operations.OrderBy(o => o.Position)];

    /// <summary>What opens a job, besides its route.</summary>
    public sealed record Opening(
        JobId Id,
        string Number,
        QuoteId Quote,
        CustomerId Customer,
        CarId? Car,
        JobScope Scope,
        DateOnly? PromisedOn,
        DateTimeOffset At
    )
    {
        /// <summary>The earlier job of a return visit.</summary>
        public JobId? ReturnOf { get; init; }
    }

    /// <summary>An operation that was done before the car was entered here.</summary>
    public sealed record DoneBefore(string Code, DateOnly Day, DateTimeOffset At, long Minutes);

    /// <summary>A new job with everything still to do.</summary>
    public static Job Open(Opening opening, BuiltRoute route, Func<OperationId> newId)
    {
        var job = new Job
        {
            Id = opening.Id,
            Number = opening.Number,
            QuoteId = opening.Quote,
            CustomerId = opening.Customer,
            CarId = opening.Car,
            ReturnOf = opening.ReturnOf,
            Scope = opening.Scope,
            PromisedOn = opening.PromisedOn,
            OpenedAt = opening.At,
            TemplateCode = route.TemplateCode,
            TemplateEdition = route.TemplateEdition,
            Ways = route.Ways,
            OpenWays = [.. route.Ways.Where(w => w.OpenAtStart).Select(w => w.Code)],
        };
        job.operations.AddRange(route.Operations.Select((o, i) => new Operation(newId(), opening.Id, i, o)));
        return job;
    }

    /// <summary>A job for a car that is already half built: what is done is taken as fact and its effects on the ways apply in the order of the days, then of the route. Refused where the rest could not be finished.</summary>
    public static Outcome<Job> OpenMidRoute(
        Opening opening,
        BuiltRoute route,
        IReadOnlyList<DoneBefore> done,
        Func<OperationId> newId
    )
    {
        var job = Open(opening, route, newId);
        job.EnteredMidRoute = true;
        var errors = new FieldErrors();
        for (var i = 0; i < done.Count; i++)
        {
            var operation = job.Operation(done[i].Code);
            errors.AddIf(
                operation is null,
                $"done[{i}].code",
                $"This route has no operation {done[i].Code}; see the list on the page."
            );
            errors.AddIf(
                done.Take(i).Any(d => d.Code == done[i].Code),
                $"done[{i}].code",
                $"{done[i].Code} is listed twice."
            );
            errors.AddIf(
                done[i].Minutes is < 0 or > 60_000,
                $"done[{i}].minutes",
                "Minutes worked so far are between 0 and 60,000."
            );
        }

        if (errors.Any)
        {
            return errors.ToFailure();
        }

        foreach (
            var (operation, fact) in done.Select(d => (job.Operation(d.Code)!, d))
                .OrderBy(p => p.d.Day)
                .ThenBy(p => p.Item1.Position)
        )
        {
            operation.SetDoneBefore(fact.Day, fact.At, fact.Minutes);
            job.OpenWays = [.. job.OpenWays.Except(operation.Route.Closes).Union(operation.Route.Opens)];
        }

        return
            job.Unfinishable(
                "With these operations done the rest could not be finished:",
                "Check what is really done on the car."
            )
                is { } stuck
            ? stuck
            : job;
    }

    /// <summary>Why the job as it stands could never be finished; null where it can, or where that is not proven. A condition of its route may have left off what opens a way.</summary>
    public Failure? Unfinishable(string before, string after) =>
        SequenceCheck.Run(JobSequence.PlanAfter(this, null, default, OpenWays))
            is { CanFinish: false, DeadEnd: { } end }
            ? Failure.Because(
                "buildSequence",
                $"{before} {string.Join(" ", end.Reasons.Take(2).Select(r => r.Text))} {after}",
                end.Operation
            )
            : null;

    /// <summary>The operation with this code; null if the route has none.</summary>
    public Operation? Operation(string code) => operations.Find(o => o.Code == code);

    /// <summary>The operation that the sign-off itself is: the last inspection of its phase; null where the route has none.</summary>
    public Operation? Release => Operations.LastOrDefault(o => o.Phase == Phase.SignOff && o.IsInspection);

    public string WayTitle(string code) => Ways.FirstOrDefault(w => w.Code == code)?.Title ?? code;

    /// <summary>The phase the car is in: that of the first operation in work, else of the first that is not over; the last phase when all is over.</summary>
    public Phase CurrentPhase =>
        (
            Operations.FirstOrDefault(o => o.Progress == OperationProgress.InWork)
            ?? Operations.FirstOrDefault(o => !o.IsOver)
        )?.Phase
        ?? Phase.SignOff;

    /// <summary>True where the customer's car is in the shop; false for a kit that is sent and a part without its car.</summary>
    public bool HasCarHere => Scope.Kind.HasCarHere();

    public bool AllOver => operations.TrueForAll(o => o.IsOver);

    /// <summary>The first failure of a closed job, null where work may go on.</summary>
    private Failure? NotOpen() =>
        State switch
        {
            JobState.Open => null,
            JobState.Closed => Failure.Because(
                "jobClosed",
                HasCarHere
                    ? $"{Number} was handed over; nothing more can be done on it. Quote a return visit for new work."
                    : $"{Number} went out; nothing more can be done on it. Make a new quote for new work."
            ),
            _ => Failure.Because("jobCancelled", $"{Number} was cancelled; nothing more can be done on it."),
        };

    private Outcome<Operation> OpenOperation(string code) =>
        NotOpen() is { } closed ? closed
        : Operation(code) is { } operation ? operation
        : Failure.Missing($"operation as {code} on {Number}");
}
