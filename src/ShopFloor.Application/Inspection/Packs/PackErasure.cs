using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection.Packs;

namespace ShopFloor.Application.Inspection.Packs;

/// <summary>Forgets the customer's name beside the frozen records; the records and their hashes stay.</summary>
internal static class PackErasure
{
    public static async Task EraseAsync(CommandScope scope, CustomerId customer, JobId[] jobs)
    {
        foreach (
            var pack in await scope
                .Db.Set<InspectionPack>()
                .Where(p => jobs.Contains(p.JobId))
                .ToListAsync(scope.Cancellation)
        )
        {
            pack.Forget(customer.Value);
        }
    }
}
