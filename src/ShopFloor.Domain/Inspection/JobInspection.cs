using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Inspection;

/// <summary>All that is checked on one job: its lines, their readings and the sign-offs. Every change goes through here, so that a reading and a sign-off can never cross.</summary>
public sealed partial class JobInspection : IVersioned
{
    private readonly List<InspectionLine> lines = [];
    private readonly List<SignOff> signOffs = [];

    private JobInspection() { }

    public JobId JobId { get; private set; }

    public long Version { get; private set; }

    public string PlanCode { get; private set; } = "";

    public int PlanVersion { get; private set; }

    /// <summary>The rule sets, with version, the lines were made from.</summary>
    public IReadOnlyList<RuleSetUsed> RuleSets { get; private set; } = [];

    public DateTimeOffset OpenedAt { get; private set; }

    /// <summary>When a reading was last taken or a sign-off given or withdrawn, by the server's clock.</summary>
    public DateTimeOffset ChangedAt { get; private set; }

    /// <summary>In plan order.</summary>
    public IReadOnlyList<InspectionLine> Lines => lines;

    /// <summary>Oldest first, withdrawn ones included.</summary>
    public IReadOnlyList<SignOff> SignOffs => signOffs;

    /// <summary>The sign-off that stands, or null.</summary>
    public SignOff? Current => signOffs.SingleOrDefault(s => s.Stands);

    public bool IsSignedOff => Current is not null;

    public static JobInspection Open(JobId job, BuiltPlan plan, DateTimeOffset at)
    {
        var inspection = new JobInspection
        {
            JobId = job,
            PlanCode = plan.PlanCode,
            PlanVersion = plan.PlanVersion,
            RuleSets = plan.RuleSets,
            OpenedAt = at,
            ChangedAt = at,
        };
        inspection.lines.AddRange(plan.Lines.Select((l, i) => InspectionLine.Create(job, i + 1, l, at)));
        return inspection;
    }

    /// <summary>Adds lines after those there are, for work agreed after the job was opened.</summary>
    public Outcome<IReadOnlyList<InspectionLine>> Add(IReadOnlyList<LineToCheck> added, DateTimeOffset at)
    {
        ArgumentNullException.ThrowIfNull(added);
        if (added.Count > 0 && IsSignedOff)
        {
            return Failure.Because(
                "signedOff",
                "The car is signed off. Withdraw the sign-off with its reason before lines are added to its inspection."
            );
        }

        if (lines.Count + added.Count > InspectionPlan.MostLines)
        {
            return Failure.Because("tooManyLines", $"A job has at most {InspectionPlan.MostLines} inspection lines.");
        }

        var made = new List<InspectionLine>();
        foreach (var line in added.Where(a => lines.TrueForAll(l => l.Code != a.Code)))
        {
            made.Add(InspectionLine.Create(JobId, lines.Count + 1, line, at));
            lines.Add(made[^1]);
        }

        return made;
    }

    /// <summary>Records a reading of a line. Out of limit it fails by itself; earlier readings stay.</summary>
    /// <param name="lineCode">Code of one of <see cref="Lines"/>.</param>
    /// <param name="input">What was read.</param>
    /// <param name="by">Who enters it.</param>
    /// <param name="occurredAt">Device time of the reading.</param>
    /// <param name="recordedAt">Server time.</param>
    /// <param name="notYetWorkedOn">Codes of operations that the work has not reached: what is not there cannot pass. A failure is taken always.</param>
    /// <param name="unfinished">Codes of operations that are not over: a line does not pass before its rework is done.</param>
    public Outcome<Reading> Record(
        string lineCode,
        ReadingInput input,
        ReadingBy by,
        DateTimeOffset occurredAt,
        DateTimeOffset recordedAt,
        IReadOnlySet<string>? notYetWorkedOn = null,
        IReadOnlySet<string>? unfinished = null
    )
    {
        if (lines.SingleOrDefault(l => l.Code == lineCode) is not { } line)
        {
            return Failure.Field(
                "line",
                $"This job has no inspection line '{Shown(lineCode)}'; take a code from the job's lines."
            );
        }

        if (IsSignedOff)
        {
            return Failure.Because(
                "signedOff",
                "The car is signed off. Withdraw the sign-off with its reason before another reading is taken.",
                line.OperationCode
            );
        }

        var outcome = line.Record(
            input,
            by,
            occurredAt,
            recordedAt,
            ReworkFirst(line, unfinished)
                ?? (notYetWorkedOn?.Contains(line.OperationCode) == true ? line.TooEarly() : null)
        );
        if (outcome.IsSuccess)
        {
            Follow(line, outcome.Value);
            ChangedAt = recordedAt;
        }

        return outcome;
    }

    /// <summary>Everything that forbids the sign-off now, each with what would lift it; empty when it may be given.</summary>
    public IReadOnlyList<Reason> RefusalsToSignOff(SignOffRequest request)
    {
        var reasons = new List<Reason>();
        if (IsSignedOff)
        {
            reasons.Add(new Reason("alreadySignedOff", "The car is signed off already."));
        }

        if (lines.Count == 0)
        {
            reasons.Add(
                new Reason("noLines", "The job has no inspection lines, so nothing shows that it was checked.")
            );
        }

        reasons.AddRange(
            lines
                .Where(l => !l.State.IsSettled())
                .Select(l =>
                    l.State switch
                    {
                        LineState.Failed => new Reason(
                            "lineFailed",
                            $"Failed: {l.What} (nonconformance {OpenOn(l.Code)?.Number}). Mend it and have it checked again.",
                            l.OperationCode
                        ),
                        LineState.ReadAgain => new Reason(
                            "lineReadAgain",
                            $"Close to its limit: {l.What}. Read it once more.",
                            l.OperationCode
                        ),
                        _ => new Reason("lineOpen", $"Not checked yet: {l.What}.", l.OperationCode),
                    }
                )
        );
        reasons.AddRange(
            nonconformances
                .Where(n => n.IsOpen && lines.Exists(l => l.Code == n.LineCode && l.State.IsSettled()))
                .Select(n => new Reason(
                    "nonconformanceOpen",
                    $"Nonconformance {n.Number} is open: {n.What}. Have it decided and checked again.",
                    n.OperationCode
                ))
        );
        reasons.AddRange(request.OpenMatters);
        if (!request.MayGo)
        {
            // Whoever signs off need not know how much is owed.
            reasons.Add(new Reason("balanceDue", $"The customer's account is not settled. {JobAccount.HowItMayGo}"));
        }

        if (request.By is { } by && request.WorkedOn.Contains(by) && !request.SelfInspectionAllowed)
        {
            reasons.Add(
                new Reason(
                    "ownWork",
                    "You worked on this car, so somebody else must sign it off. A one-person shop can allow self-inspection in the shop's settings; the papers then say so."
                )
            );
        }

        return reasons;
    }

    public Outcome<SignOff> SignOff(SignOffRequest request, DateTimeOffset occurredAt, DateTimeOffset recordedAt)
    {
        if (request.By is not { } by)
        {
            return new Failure.Forbidden("Only a person signs a car off: use a key that acts as a person.");
        }

        var errors = new FieldErrors();
        var note = TextRules.Optional(request.Note, "note", "The note", TextRules.Note, errors);
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        var refusals = RefusalsToSignOff(request);
        if (refusals.Count > 0)
        {
            return new Failure.Refused(refusals);
        }

        var signOff = Inspection.SignOff.Create(JobId, by, request.WorkedOn.Contains(by), note, occurredAt, recordedAt);
        signOffs.Add(signOff);
        ChangedAt = recordedAt;
        return signOff;
    }

    /// <summary>Takes the standing sign-off back; it stays on record with the reason.</summary>
    public Outcome<SignOff> WithdrawSignOff(PersonId? by, string? reason, DateTimeOffset recordedAt)
    {
        if (by is not { } person)
        {
            return new Failure.Forbidden("Only a person withdraws a sign-off: use a key that acts as a person.");
        }

        var errors = new FieldErrors();
        var why = TextRules.Required(reason, "reason", "The reason for withdrawing", TextRules.Note, errors);
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        if (Current is not { } current)
        {
            return Failure.Because("notSignedOff", "The car is not signed off, so there is nothing to withdraw.");
        }

        current.Withdraw(person, why, recordedAt);
        ChangedAt = recordedAt;
        return current;
    }

    private static string Shown(string code) => code.Length <= TextRules.Code ? code : code[..TextRules.Code] + "…";
}
