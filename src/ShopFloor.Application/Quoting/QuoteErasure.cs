using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Application.Quoting;

/// <summary>Forgets the names and free texts on a customer's quotes; prices, states and hashes stay.</summary>
public static class QuoteErasure
{
    public static async Task EraseAsync(CommandScope scope, CustomerId customer)
    {
        ArgumentNullException.ThrowIfNull(scope);
        var quotes = await scope.Db.Set<Quote>().Where(q => q.CustomerId == customer).ToListAsync(scope.Cancellation);
        foreach (var quote in quotes)
        {
            quote.ForgetPerson();
        }
    }
}
