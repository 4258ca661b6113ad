using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Progress;

/// <summary>The language noted with the customer, in which messages go out too. The one that is noted without anybody's choice is no choice.</summary>
public sealed class LanguageOfCustomer : ICustomerLanguage
{
    public async Task<string?> OfAsync(ShopDbContext db, Job job, CancellationToken ct)
    {
        var language = await db.Set<Customer>()
            .Where(c => c.Id == job.CustomerId)
            .Select(c => c.Language)
            .SingleAsync(ct);
        return language == ContactRules.DefaultLanguage ? null : language;
    }
}
