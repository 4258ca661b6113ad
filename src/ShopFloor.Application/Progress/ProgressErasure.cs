using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Progress;

namespace ShopFloor.Application.Progress;

/// <summary>Forgets what was written to a customer on their page and ends its links.</summary>
internal static class ProgressErasure
{
    public static async Task EraseAsync(CommandScope scope, JobId[] jobs)
    {
        var (db, ct) = (scope.Db, scope.Cancellation);
        foreach (var note in await db.Set<CustomerNote>().Where(n => jobs.Contains(n.JobId)).ToListAsync(ct))
        {
            note.ErasePersonalData(scope.Now);
        }

        foreach (var sharing in await db.Set<ProgressSharing>().Where(s => jobs.Contains(s.JobId)).ToListAsync(ct))
        {
            sharing.TakeReasonBack();
        }

        foreach (
            var link in await db.Set<ProgressLink>()
                .Where(l => jobs.Contains(l.JobId) && l.RevokedAt == null)
                .ToListAsync(ct)
        )
        {
            link.Revoke(scope.Now);
            scope.Record(new EventDraft("progressLink.revoked", "progressLink", link.Id.Value, link.JobId));
        }
    }
}
