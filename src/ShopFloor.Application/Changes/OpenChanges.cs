using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Changes;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Changes;

/// <summary>Change orders of a job that nobody has answered.</summary>
internal static class OpenChanges
{
    /// <summary>Takes them all back: a job that has ended must not ask the customer for a signature.</summary>
    public static async Task<Outcome<Done>> WithdrawAsync(CommandScope scope, Job job, string reason)
    {
        var open = await scope
            .Db.Set<ChangeOrder>()
            .Where(c => c.JobId == job.Id && (c.State == ChangeState.Draft || c.State == ChangeState.Offered))
            .OrderBy(c => c.Number)
            .ToListAsync(scope.Cancellation);
        foreach (var change in open)
        {
            var before = ChangeCommand.Facts(change);
            if (change.Withdraw(reason, scope.Actor.Person, scope.Now).Failure is { } refused)
            {
                return refused;
            }

            scope.Record(ChangeCommand.Event("changeOrder.withdrawn", change, before));
        }

        return Outcome.Ok;
    }
}
