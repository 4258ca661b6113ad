using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Accounts;
using ShopFloor.Data;
using ShopFloor.Domain.Common;

namespace ShopFloor.Application.Intake.HandOvers;

/// <summary>What a customer owes for a job.</summary>
internal static class JobBalance
{
    public static async Task<Money> ReadAsync(ShopDbContext db, JobId jobId, CancellationToken ct)
    {
        var account = await JobAccounts.FindAsync(db, jobId, ct);
        return account is null
            ? Money.Zero((await db.Shops.AsNoTracking().SingleAsync(ct)).Currency)
            : new Money(account.BalanceMinor, account.Currency);
    }
}
