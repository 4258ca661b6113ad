using ShopFloor.Application.RuleSets;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.RuleSets;

namespace ShopFloor.Application.Inspection;

/// <summary>The inspection plans shipped with the program, and how a job's lines are made from them.</summary>
public sealed class InspectionLibrary
{
    private readonly RuleSetLibrary ruleSets;

    public InspectionLibrary(RuleSetLibrary ruleSets)
    {
        this.ruleSets = ruleSets;
        Plans = ShippedData.ReadAll(
            "inspection",
            text => DataFiles.Read<InspectionPlanDocument>(text).Then(InspectionPlan.From)
        );
    }

    public IReadOnlyList<InspectionPlan> Plans { get; }

    /// <summary>Takes over rule sets that were stored since the last look. Callers that make lines do so first, so that two servers agree.</summary>
    public Task RefreshAsync(ShopDbContext db, CancellationToken ct) => ruleSets.RefreshAsync(db, ct);

    /// <summary>The lines of a job, from the plan for its kit, its rule sets and the operations on its route.</summary>
    /// <param name="scope">What is built.</param>
    /// <param name="operationCodes">On the route.</param>
    /// <param name="keeps">The versions that a running job was built to: nothing newer comes to it by itself. Null for a new job.</param>
    /// <returns>Refused where no plan is for the kit, a rule set is unknown, or two rule sets contradict each other.</returns>
    public Outcome<BuiltPlan> LinesFor(
        JobScope scope,
        IEnumerable<string> operationCodes,
        IReadOnlyList<RuleSetUsed>? keeps = null
    )
    {
        if (Plans.FirstOrDefault(p => p.IsFor(scope.RouteKey)) is not { } plan)
        {
            return Failure.Because(
                "inspectionPlan",
                $"There is no inspection plan for {scope.RouteKey}. Choose a kit that has one."
            );
        }

        var unknown = scope.RuleSetCodes.Where(c => ruleSets.Find(c, keeps) is null).ToList();
        if (unknown.Count > 0)
        {
            return new Failure.Refused([
                .. unknown.Select(c => new Reason(
                    "ruleSet",
                    $"There is no rule set {c}. Take one of: {string.Join(", ", ruleSets.Offered.Select(r => r.Code))}."
                )),
            ]);
        }

        return InspectionPlanBuilder.Build(
            plan,
            scope,
            [.. scope.RuleSetCodes.Distinct().Select(c => ruleSets.Find(c, keeps)!)],
            operationCodes.ToHashSet(StringComparer.Ordinal)
        );
    }
}
