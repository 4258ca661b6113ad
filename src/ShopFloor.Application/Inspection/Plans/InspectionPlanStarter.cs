using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.History;
using ShopFloor.Application.Setup;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;

namespace ShopFloor.Application.Inspection.Plans;

/// <summary>A new shop that takes the starter data gets the shipped inspection plans as its own first versions.</summary>
public sealed class InspectionPlanStarter(InspectionLibrary library) : IShopStarter
{
    public Task AddAsync(Shop shop, CommandScope scope)
    {
        ArgumentNullException.ThrowIfNull(scope);
        foreach (var plan in library.Shipped)
        {
            Add(scope, plan);
        }

        return Task.CompletedTask;
    }

    /// <summary>Stores a shipped plan as it came.</summary>
    internal static void Add(CommandScope scope, InspectionPlan plan)
    {
        var version = InspectionPlanVersion.Save(scope.NewId<InspectionPlanVersionId>(), plan, null, scope.Now, null);
        scope.Db.Add(version);
        scope.Record(InspectionPlanStore.Event("inspectionPlan.shipped", version));
    }
}

/// <summary>Every stored version still has the text that was saved.</summary>
public sealed class InspectionPlanVerifier : IVerifier
{
    public async Task<IReadOnlyList<string>> VerifyAsync(ShopDbContext db, CancellationToken ct)
    {
        ArgumentNullException.ThrowIfNull(db);
        var versions = await db.Set<InspectionPlanVersion>()
            .AsNoTracking()
            .OrderBy(v => v.PlanCode)
            .ThenBy(v => v.Number)
            .ToListAsync(ct);
        return
        [
            .. versions
                .Where(v => !v.IsWhole)
                .Select(v => $"Version {v.Number} of the inspection plan {v.PlanCode}: its hash differs."),
        ];
    }
}
