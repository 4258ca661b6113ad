using System.Globalization;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.RuleSets;

namespace ShopFloor.Domain.Inspection;

/// <summary>A line as it will stand on the job: limits settled, source written out.</summary>
public sealed record LineToCheck(
    string Code,
    string OperationCode,
    string What,
    string How,
    string? Unit,
    decimal? Nominal,
    decimal? Lower,
    decimal? Upper,
    bool PhotoRequired,
    InspectionPoint Point,
    RecordedBy RecordedBy,
    string Source,
    string? Caution
)
{
    /// <summary>Names of the two values that are read and compared; null for a single value.</summary>
    public IReadOnlyList<string>? Pair { get; init; }

    /// <summary>The limits go by the tube ordered for the job; without limits while its size is not known.</summary>
    public OrderedLimit? Ordered { get; init; }

    /// <summary>The customer's page tells of this witness point.</summary>
    public bool CustomerMayAttend { get; init; }
}

/// <summary>A line of the plan that this job does not get, and why.</summary>
public sealed record LineLeftOut(string Code, string Why);

/// <summary>Which rule set, in which version, a job is measured against.</summary>
public sealed record RuleSetUsed(string Code, int Version, string Citation);

/// <summary>The lines of one job, and what they were made from.</summary>
public sealed record BuiltPlan(
    string PlanCode,
    int PlanVersion,
    IReadOnlyList<RuleSetUsed> RuleSets,
    IReadOnlyList<LineToCheck> Lines,
    IReadOnlyList<LineLeftOut> LeftOut
);

/// <summary>Makes a job's inspection lines from the plan, what is to be built, the job's rule sets and its route.</summary>
public static class InspectionPlanBuilder
{
    /// <param name="plan">The plan for the kit.</param>
    /// <param name="scope">Kit, use, doors of this job.</param>
    /// <param name="ruleSets">The rule sets the job is built to, already found.</param>
    /// <param name="operations">Codes of the operations on the job's route.</param>
    /// <param name="ordered">Tubes ordered for the job, by the kit's part.</param>
    /// <returns>The lines in plan order; refused when the plan is for other kits, or when two rule sets leave no value that both allow.</returns>
    public static Outcome<BuiltPlan> Build(
        InspectionPlan plan,
        JobScope scope,
        IReadOnlyList<RuleSet> ruleSets,
        IReadOnlySet<string> operations,
        IReadOnlyDictionary<string, OrderedTube>? ordered = null
    )
    {
        if (!plan.IsFor(scope.RouteKey))
        {
            return Failure.Because(
                "inspectionPlan",
                $"The inspection plan {plan.Code} is not for {scope.RouteKey}; choose a plan made for it."
            );
        }

        var lines = new List<LineToCheck>();
        var leftOut = new List<LineLeftOut>();
        var clashes = new List<Reason>();
        foreach (var planned in plan.Document.Lines)
        {
            if (WhyNot(planned, scope, operations) is { } why)
            {
                leftOut.Add(new LineLeftOut(planned.Code, why));
                continue;
            }

            var settled = Settle(planned, ruleSets, clashes);
            if (planned.Ordered is { } limit)
            {
                settled = limit.Settle(settled, ordered?.GetValueOrDefault(limit.Part));
            }

            if (!planned.PerDoor)
            {
                lines.Add(settled);
                continue;
            }

            lines.AddRange(
                DoorsFor(planned, scope)
                    .Select(d =>
                        settled with
                        {
                            Code = $"{planned.Code}-{(d.Door == DoorSide.Left ? "left" : "right")}",
                            What = $"{planned.What}, {(d.Door == DoorSide.Left ? "left" : "right")} door",
                        }
                    )
            );
        }

        if (clashes.Count > 0)
        {
            return new Failure.Refused(clashes);
        }

        return new BuiltPlan(
            plan.Code,
            plan.Version,
            [.. ruleSets.Select(r => new RuleSetUsed(r.Code, r.Version, r.Citation))],
            lines,
            leftOut
        );
    }

    /// <summary>The lines of the plan that a job gets, as planned.</summary>
    public static IReadOnlyList<PlannedLine> LinesOf(
        InspectionPlan plan,
        JobScope scope,
        IReadOnlySet<string> operations
    )
    {
        ArgumentNullException.ThrowIfNull(plan);
        return [.. plan.Document.Lines.Where(l => WhyNot(l, scope, operations) is null)];
    }

    private static IEnumerable<DoorChoice> DoorsFor(PlannedLine line, JobScope scope) =>
        scope
            .Doors.Where(d =>
                line.HingeOptions is null || line.HingeOptions.Contains(d.HingeOptionCode, StringComparer.Ordinal)
            )
            .OrderBy(d => d.Door);

    private static string? WhyNot(PlannedLine line, JobScope scope, IReadOnlySet<string> operations)
    {
        if (line.Kits is { } kits && !kits.Contains(scope.RouteKey, StringComparer.Ordinal))
        {
            return $"Not for the kit {scope.RouteKey}.";
        }

        if (line.Uses is { } uses && !uses.Contains(scope.UseCode, StringComparer.Ordinal))
        {
            return $"Not for the use {scope.UseCode}.";
        }

        if (line.PerDoor && !DoorsFor(line, scope).Any())
        {
            return "No door of this job asks for it.";
        }

        return operations.Contains(line.Operation) ? null : $"The route has no operation {line.Operation}.";
    }

    private static LineToCheck Settle(PlannedLine line, IReadOnlyList<RuleSet> ruleSets, List<Reason> clashes)
    {
        var (lower, upper) = (line.Lower, line.Upper);
        var sources = new List<string>();
        foreach (var (set, figure) in FiguresOf(line, ruleSets))
        {
            sources.Add($"{set.Citation}, {figure.Clause}: {figure.Printed} ({figure.Mark.Words()})");
            if ((figure.Lower ?? figure.Upper) is not null && figure.Unit == line.Unit)
            {
                lower = Max(lower, figure.Lower);
                upper = Min(upper, figure.Upper);
            }
        }

        if (lower > upper)
        {
            clashes.Add(
                new Reason(
                    "ruleSetsDisagree",
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"{line.What}: the rule sets together ask for at least {lower} and at most {upper} {line.Unit}; take one of them off the job."
                    ),
                    line.Operation
                )
            );
        }

        var nominal = line.Nominal < lower || line.Nominal > upper ? null : line.Nominal;
        return new LineToCheck(
            line.Code,
            line.Operation,
            line.What,
            line.How,
            line.Unit,
            nominal,
            lower,
            upper,
            line.PhotoRequired,
            line.Point,
            line.RecordedBy,
            sources.Count == 0 ? line.Source : string.Join("; ", sources),
            line.Caution
        )
        {
            Pair = line.Pair,
            CustomerMayAttend = line.CustomerMayAttend,
        };
    }

    private static IEnumerable<(RuleSet Set, RuleFigure Figure)> FiguresOf(
        PlannedLine line,
        IReadOnlyList<RuleSet> ruleSets
    )
    {
        foreach (var reference in line.Figures ?? [])
        {
            var parts = reference.Split('/');
            var set = ruleSets.FirstOrDefault(r => r.StandsFor(parts[0]));
            if (set?.Find(parts[1]) is { } figure)
            {
                yield return (set, figure);
            }
        }
    }

    private static decimal? Max(decimal? a, decimal? b) => a is null || b > a ? b ?? a : a;

    private static decimal? Min(decimal? a, decimal? b) => a is null || b < a ? b ?? a : a;
}
