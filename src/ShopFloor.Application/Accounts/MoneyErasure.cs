using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;

namespace ShopFloor.Application.Accounts;

/// <summary>Forgets the names on a customer's invoices, credit notes and receipts; amounts, numbers and hashes stay.</summary>
internal static class MoneyErasure
{
    public static async Task EraseAsync(CommandScope scope, CustomerId customer)
    {
        foreach (
            var paper in await scope
                .Db.Set<Invoice>()
                .Where(i => i.CustomerId == customer)
                .ToListAsync(scope.Cancellation)
        )
        {
            paper.ForgetPerson();
        }

        foreach (
            var account in await JobAccounts
                .Whole(scope.Db)
                .Where(a => a.CustomerId == customer)
                .ToListAsync(scope.Cancellation)
        )
        {
            foreach (var entry in account.Entries)
            {
                entry.ForgetPerson();
            }
        }
    }
}
