using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Application.Progress;

/// <summary>The language noted with the customer, in which messages go out too. The one that is noted without anybody's choice is no choice.</summary>
public sealed class LanguageOfCustomer : ICustomerLanguage
{
    public async Task<string?> OfAsync(ShopDbContext db, CustomerId customer, CancellationToken ct)
    {
        var language = await db.Set<Customer>().Where(c => c.Id == customer).Select(c => c.Language).SingleAsync(ct);
        // Pages and messages know languages, not countries: de-AT reads German.
        return language == ContactRules.DefaultLanguage ? null : language.Split('-')[0].ToLowerInvariant();
    }
}
