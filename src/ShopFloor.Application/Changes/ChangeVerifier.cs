using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Accounts;
using ShopFloor.Application.History;
using ShopFloor.Data;
using ShopFloor.Domain.Changes;

namespace ShopFloor.Application.Changes;

/// <summary>Whether change orders still read as they were offered, and whether each approved one is on its job's account with its own total. Nothing is priced again.</summary>
public sealed class ChangeVerifier : IVerifier
{
    public async Task<IReadOnlyList<string>> VerifyAsync(ShopDbContext db, CancellationToken ct)
    {
        ArgumentNullException.ThrowIfNull(db);
        var found = new List<string>();
        var changes = await db.Set<ChangeOrder>().AsNoTracking().OrderBy(c => c.Number).ToListAsync(ct);
        foreach (var change in changes.Where(c => c.Snapshot is not null))
        {
            if (change.ContentHash is null || !ChangeSnapshot.IsIntact(change.Snapshot!, change.ContentHash))
            {
                found.Add($"Change order {change.Number} is not what was offered: its hash differs.");
            }
        }

        found.AddRange(
            changes
                .Where(c => c.TotalMinor != c.Priced.TotalMinor)
                .Select(c => $"Change order {c.Number} has another total than its price.")
        );
        foreach (var job in changes.GroupBy(c => c.JobId))
        {
            var charges = (await JobAccounts.FindAsync(db, job.Key, ct))?.Charges ?? [];
            found.AddRange(
                job.Where(c => c.State == ChangeState.Approved)
                    .Where(c =>
                        charges.Count(a => a.Reference == c.Number && a.Content.TotalMinor == c.TotalMinor) != 1
                    )
                    .Select(c =>
                        $"Change order {c.Number} was approved but its job's account does not charge it as agreed."
                    )
            );
            found.AddRange(
                charges
                    .Where(a =>
                        a.Number > 1 && !job.Any(c => c.State == ChangeState.Approved && c.Number == a.Reference)
                    )
                    .Select(a => $"The account charges {a.Reference}, which nobody approved.")
            );
        }

        return found;
    }
}
