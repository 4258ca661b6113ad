using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Materials;

/// <summary>Loads a job's material and welds whole: they are always judged as one.</summary>
internal static class TraceLoading
{
    /// <summary>Null where the job has none.</summary>
    public static Task<JobTrace?> TraceAsync(this ShopDbContext db, JobId job, CancellationToken ct) =>
        db.Set<JobTrace>()
            .AsSplitQuery()
            .Include(t => t.Materials.OrderBy(m => m.Number))
            .Include(t => t.Joints.OrderBy(j => j.Position))
            .SingleOrDefaultAsync(t => t.JobId == job, ct);

    /// <summary>Operations that were found not to be needed.</summary>
    public static HashSet<string> NotNeeded(Job job) =>
        job
            .Operations.Where(o => o.Progress == OperationProgress.NotNeeded)
            .Select(o => o.Code)
            .ToHashSet(StringComparer.Ordinal);
}
