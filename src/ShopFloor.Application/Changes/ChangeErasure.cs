using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Changes;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Changes;

/// <summary>Forgets the names and free texts on a customer's change orders; prices, states and hashes stay.</summary>
public static class ChangeErasure
{
    public static async Task EraseAsync(CommandScope scope, CustomerId customer)
    {
        ArgumentNullException.ThrowIfNull(scope);
        var changes = await scope
            .Db.Set<ChangeOrder>()
            .Where(c => scope.Db.Set<Job>().Any(j => j.Id == c.JobId && j.CustomerId == customer))
            .ToListAsync(scope.Cancellation);
        foreach (var change in changes)
        {
            change.ForgetPerson();
        }
    }
}
