using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Domain.Inspection;

/// <summary>What becomes of one line when its job goes over to another version of the plan.</summary>
public enum PlanStepKind
{
    /// <summary>New on this job.</summary>
    Comes,

    /// <summary>Not read yet: it is described anew.</summary>
    Changes,

    /// <summary>Read already, and the new version has it otherwise or not at all: it stays as it was read, with its readings.</summary>
    Stays,

    /// <summary>Not read yet and not in the new version: it is taken off.</summary>
    Goes,
}

/// <summary>One line's part of the move.</summary>
public sealed record PlanStep(
    string Code,
    string Operation,
    string What,
    PlanStepKind Kind,
    IReadOnlyList<string> Sentences
);

/// <summary>A running job's move to another version of its plan, looked at before it is made.</summary>
/// <param name="Steps">Lines to which something happens, or that stay although the new version has them otherwise; in the new order.</param>
/// <param name="Refusals">Why it is not possible; empty where it is.</param>
public sealed record PlanMove(
    string PlanCode,
    int FromVersion,
    int ToVersion,
    IReadOnlyList<PlanStep> Steps,
    IReadOnlyList<Reason> Refusals
);

/// <summary>The lines that a move brought and took.</summary>
public sealed record PlanMoved(IReadOnlyList<InspectionLine> Came, IReadOnlyList<InspectionLine> Went);

/// <summary>Going over to another version of the plan.</summary>
public sealed partial class JobInspection
{
    /// <param name="before">What the job's own version gives it.</param>
    /// <param name="after">What the other version would give it.</param>
    /// <param name="tooLate">Lines that come after what hides them, on this job's route as it stands.</param>
    public PlanMove PreviewMove(BuiltPlan before, BuiltPlan after, IReadOnlyList<Reason> tooLate)
    {
        ArgumentNullException.ThrowIfNull(before);
        ArgumentNullException.ThrowIfNull(after);
        ArgumentNullException.ThrowIfNull(tooLate);
        var reasons = new List<Reason>();
        if (after.PlanVersion == PlanVersion)
        {
            reasons.Add(new Reason("sameVersion", $"The job is on version {PlanVersion} of its plan already."));
        }

        if (IsSignedOff)
        {
            reasons.Add(
                new Reason(
                    "signedOff",
                    "The car is signed off. Withdraw the sign-off with its reason before its inspection plan is changed."
                )
            );
        }

        reasons.AddRange(tooLate);
        return new PlanMove(PlanCode, PlanVersion, after.PlanVersion, Steps(before, after), reasons);
    }

    /// <summary>Makes the move. Lines that were read keep their readings and what they were read against; lines of change orders are left alone.</summary>
    public Outcome<PlanMoved> MoveTo(
        BuiltPlan before,
        BuiltPlan after,
        IReadOnlyList<Reason> tooLate,
        DateTimeOffset at
    )
    {
        if (PreviewMove(before, after, tooLate) is { Refusals: { Count: > 0 } refusals })
        {
            return new Failure.Refused(refusals);
        }

        var wanted = after.Lines.ToDictionary(l => l.Code, StringComparer.Ordinal);
        var planned = before.Lines.Select(l => l.Code).ToHashSet(StringComparer.Ordinal);
        var went = lines
            .Where(l => planned.Contains(l.Code) && !wanted.ContainsKey(l.Code) && l.Readings.Count == 0)
            .ToList();
        var came = new List<InspectionLine>();
        lines.RemoveAll(went.Contains);
        foreach (var line in lines.Where(l => planned.Contains(l.Code) && !wanted.ContainsKey(l.Code)))
        {
            line.StandInPlan(after.PlanVersion);
        }

        foreach (var line in after.Lines)
        {
            if (lines.Find(l => l.Code == line.Code) is not { } known)
            {
                came.Add(InspectionLine.Create(JobId, lines.Count + 1, line, at));
                lines.Add(came[^1]);
            }
            else
            {
                known.StandInPlan(null);
                if (known.Readings.Count == 0)
                {
                    known.Describe(line);
                }
            }
        }

        var order = after.Lines.Select((l, i) => (l.Code, i)).ToDictionary(p => p.Code, p => p.i);
        foreach (
            var (i, line) in lines
                .OrderBy(l => order.GetValueOrDefault(l.Code, int.MaxValue))
                .ThenBy(l => l.Position)
                .ToList()
                .Index()
        )
        {
            line.Place(i + 1);
        }

        PlanVersion = after.PlanVersion;
        ChangedAt = at;
        return new PlanMoved(came, went);
    }

    private List<PlanStep> Steps(BuiltPlan before, BuiltPlan after)
    {
        var steps = new List<PlanStep>();
        foreach (var line in after.Lines)
        {
            if (lines.Find(l => l.Code == line.Code) is not { } known)
            {
                steps.Add(
                    new(
                        line.Code,
                        line.OperationCode,
                        line.What,
                        PlanStepKind.Comes,
                        [
                            $"Looked at at {line.OperationCode}, {InspectionLine.Limits(line.Unit, line.Lower, line.Upper)}.",
                        ]
                    )
                );
            }
            else if (InspectionPlanDifferences.Between(known.Asked, line) is { Count: > 0 } differences)
            {
                steps.Add(
                    known.Readings.Count == 0
                        ? new(line.Code, line.OperationCode, line.What, PlanStepKind.Changes, differences)
                        : new(
                            line.Code,
                            known.OperationCode,
                            known.What,
                            PlanStepKind.Stays,
                            [
                                $"Read already: it stays as it was read, {known.LimitsInWords}. The new version has it otherwise.",
                                .. differences,
                            ]
                        )
                );
            }
        }

        var wanted = after.Lines.Select(l => l.Code).ToHashSet(StringComparer.Ordinal);
        var planned = before.Lines.Select(l => l.Code).ToHashSet(StringComparer.Ordinal);
        steps.AddRange(
            lines
                .Where(l => planned.Contains(l.Code) && !wanted.Contains(l.Code))
                .Select(l =>
                    l.Readings.Count == 0
                        ? new PlanStep(
                            l.Code,
                            l.OperationCode,
                            l.What,
                            PlanStepKind.Goes,
                            ["Not read yet, and not in the new version."]
                        )
                        : new PlanStep(
                            l.Code,
                            l.OperationCode,
                            l.What,
                            PlanStepKind.Stays,
                            [
                                l.State.IsSettled()
                                    ? "Not in the new version, but read: it stays on the record with its readings."
                                    : "Not in the new version, but read and not passed: it stays on the record and still has to be settled.",
                            ]
                        )
                )
        );
        return steps;
    }

    /// <summary>Somebody says which tube was ordered; lines that waited for its size get their limits.</summary>
    /// <param name="part">Code of the kit's part, e.g. <c>hoop</c>.</param>
    public Outcome<IReadOnlyList<InspectionLine>> TakeOrdered(string part, OrderedTube tube, DateTimeOffset at)
    {
        ArgumentNullException.ThrowIfNull(tube);
        var waiting = lines.Where(l => l.NeedsSize && l.Ordered!.Part == part).ToList();
        if (waiting.Count == 0)
        {
            return Failure.Because("orderedKnown", $"No line of this job waits for the ordered size of {Shown(part)}.");
        }

        foreach (var line in waiting)
        {
            line.Size(tube);
        }

        ChangedAt = at;
        return waiting;
    }
}
