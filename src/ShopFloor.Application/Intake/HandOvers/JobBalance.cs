using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Accounts;
using ShopFloor.Data;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;

namespace ShopFloor.Application.Intake.HandOvers;

/// <summary>What a customer owes for a job.</summary>
internal static class JobBalance
{
    /// <summary>The one rule for whatever leaves the shop: the refusal where a balance is due that the owner has not decided to wait for; null where it may go.</summary>
    public static async Task<Failure?> RefuseAsync(
        ShopDbContext db,
        JobId jobId,
        Money balance,
        CancellationToken ct
    ) =>
        balance.Minor > 0 && await JobAccounts.FindAsync(db, jobId, ct) is { MayGo: false }
            ? Failure.Because("balanceDue", $"The customer still owes {balance}. {JobAccount.HowItMayGo}")
            : null;

    public static async Task<Money> ReadAsync(ShopDbContext db, JobId jobId, CancellationToken ct)
    {
        var account = await JobAccounts.FindAsync(db, jobId, ct);
        return account is null
            ? Money.Zero((await db.Shops.AsNoTracking().SingleAsync(ct)).Currency)
            : new Money(account.BalanceMinor, account.Currency);
    }
}
