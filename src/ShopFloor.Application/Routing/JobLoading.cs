using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Routing;

/// <summary>What every change of a job begins with.</summary>
internal static class JobLoading
{
    /// <summary>The job with its operations and times, in the version that the caller saw.</summary>
    public static async Task<Outcome<Job>> WholeAsync(CommandScope scope, JobId id)
    {
        var job = await scope.Db.JobsWhole().SingleOrDefaultAsync(j => j.Id == id, scope.Cancellation);
        return job is null ? Failure.Missing("job")
            : scope.Stale(job) is { } stale ? stale
            : job;
    }
}
