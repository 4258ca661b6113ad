using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Accounts;
using ShopFloor.Data;
using ShopFloor.Domain.Common;

namespace ShopFloor.Application.Intake.HandOvers;

/// <summary>What a customer owes for a job.</summary>
internal static class JobBalance
{
    /// <summary>What is said where a car would go with a balance due that nobody has decided on.</summary>
    public static Failure Due(Money balance) =>
        Failure.Because(
            "balanceDue",
            $"The customer still owes {balance}. Take the payment first, or let the owner decide on the job's account that the car may go."
        );

    public static async Task<Money> ReadAsync(ShopDbContext db, JobId jobId, CancellationToken ct)
    {
        var account = await JobAccounts.FindAsync(db, jobId, ct);
        return account is null
            ? Money.Zero((await db.Shops.AsNoTracking().SingleAsync(ct)).Currency)
            : new Money(account.BalanceMinor, account.Currency);
    }
}
