using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.RuleSets;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.RuleSets;

namespace ShopFloor.Application.Inspection;

/// <summary>The inspection plans of the shop, and how a job's lines are made from them: the newest versions stored, else those shipped with the program.</summary>
/// <remarks>The shop's are kept in memory; <see cref="RefreshAsync"/> asks the database whether there are newer ones. Callers that open jobs or price do so first, so that two servers agree.</remarks>
public sealed class InspectionLibrary
{
    private readonly RuleSetLibrary ruleSets;
    private volatile Loaded loaded;

    public InspectionLibrary(RuleSetLibrary ruleSets)
    {
        this.ruleSets = ruleSets;
        Shipped = ShippedData.ReadAll(
            "inspection",
            text => DataFiles.Read<InspectionPlanDocument>(text).Then(InspectionPlan.From)
        );
        loaded = new Loaded([], Shipped);
    }

    /// <summary>Plans that came with the program.</summary>
    public IReadOnlyList<InspectionPlan> Shipped { get; }

    /// <summary>The newest version of each plan.</summary>
    public IReadOnlyList<InspectionPlan> Plans => loaded.Plans;

    /// <summary>Takes over versions of plans and rule sets that were saved since the last look. Callers that make lines do so first, so that two servers agree.</summary>
    public async Task RefreshAsync(ShopDbContext db, CancellationToken ct)
    {
        await ruleSets.RefreshAsync(db, ct);
        var ids = await db.Set<InspectionPlanVersion>().Select(v => v.Id).ToListAsync(ct);
        if (loaded.Ids.SetEquals(ids))
        {
            return;
        }

        var stored = await db.Set<InspectionPlanVersion>()
            .AsNoTracking()
            .Where(v =>
                v.Number == db.Set<InspectionPlanVersion>().Where(o => o.PlanCode == v.PlanCode).Max(o => o.Number)
            )
            .ToListAsync(ct);
        var newest = stored.Select(v => v.Plan).ToList();
        loaded = new Loaded([.. ids], [.. newest, .. Shipped.Where(s => newest.TrueForAll(p => p.Code != s.Code))]);
    }

    /// <summary>The lines of a job, from the plan for its kit, its rule sets and the operations on its route.</summary>
    /// <param name="scope">What is built.</param>
    /// <param name="operationCodes">On the route.</param>
    /// <param name="keeps">The versions that a running job was built to: nothing newer comes to it by itself. Null for a new job.</param>
    /// <param name="version">The plan in the version that the job keeps; null for the newest.</param>
    /// <param name="ordered">Tubes ordered for the job.</param>
    /// <returns>Refused where no plan is for the kit, a rule set is unknown, or two rule sets contradict each other.</returns>
    public Outcome<BuiltPlan> LinesFor(
        JobScope scope,
        IEnumerable<string> operationCodes,
        IReadOnlyList<RuleSetUsed>? keeps = null,
        InspectionPlan? version = null,
        IReadOnlyDictionary<string, OrderedTube>? ordered = null
    )
    {
        if ((version ?? PlanFor(scope.RouteKey)) is not { } plan)
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
            operationCodes.ToHashSet(StringComparer.Ordinal),
            ordered
        );
    }

    /// <summary>The newest plan for a kit or a kind of sale; null where none is for it.</summary>
    public InspectionPlan? PlanFor(string routeKey) => Plans.FirstOrDefault(p => p.IsFor(routeKey));

    private sealed record Loaded(HashSet<InspectionPlanVersionId> Ids, IReadOnlyList<InspectionPlan> Plans);
}
