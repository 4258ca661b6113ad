using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Planning;

namespace ShopFloor.Application.Planning;

/// <summary>What plans said of a customer's jobs goes with the customer.</summary>
public static class PlanErasure
{
    public static async Task EraseAsync(CommandScope scope, IReadOnlyCollection<JobId> jobs)
    {
        ArgumentNullException.ThrowIfNull(scope);
        var runs = await scope.Db.Set<PlanRun>().ToListAsync(scope.Cancellation);
        runs.ForEach(r => r.Forget(jobs));
    }
}
