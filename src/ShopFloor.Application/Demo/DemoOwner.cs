using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Data;
using ShopFloor.Domain.Common;

namespace ShopFloor.Application.Demo;

/// <summary>Finds the person whom the set-up has made.</summary>
internal sealed class DemoOwner(IDbContextFactory<ShopDbContext> contexts) : IUseCase
{
    public async Task<PersonId> FindAsync(string email)
    {
        await using var db = await contexts.CreateDbContextAsync();
        var normalized = email.ToUpperInvariant();
        return PersonId.From(
            await db.Users.Where(u => u.NormalizedEmail == normalized).Select(u => u.Id).SingleAsync()
        );
    }
}
