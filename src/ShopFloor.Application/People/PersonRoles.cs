using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Common;

namespace ShopFloor.Application.People;

/// <summary>Roles as stored with the sign-in tables.</summary>
internal static class PersonRoles
{
    /// <summary>Roles of an active person; null where there is none.</summary>
    public static async Task<IReadOnlyList<Role>?> OfAsync(ShopDbContext db, PersonId person, CancellationToken ct)
    {
        var isActive = await db
            .Users.AsNoTracking()
            .Where(u => u.Id == person.Value)
            .Select(u => (bool?)u.IsActive)
            .SingleOrDefaultAsync(ct);
        return isActive == true ? await AllOfAsync(db, person, ct) : null;
    }

    /// <summary>Roles of a person, active or not.</summary>
    public static async Task<List<Role>> AllOfAsync(ShopDbContext db, PersonId person, CancellationToken ct)
    {
        var names = await db
            .UserRoles.AsNoTracking()
            .Where(r => r.UserId == person.Value)
            .Join(db.Roles, r => r.RoleId, r => r.Id, (_, role) => role.Name!)
            .ToListAsync(ct);
        return [.. names.Select(Enum.Parse<Role>).Order()];
    }
}
