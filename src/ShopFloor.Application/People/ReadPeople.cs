using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;

namespace ShopFloor.Application.People;

/// <summary>A person of the shop.</summary>
public sealed record PersonView(
    PersonId Id,
    string Name,
    string Email,
    bool IsActive,
    IReadOnlyList<Role> Roles,
    bool HasSecondFactor
);

/// <summary>A key, without the key.</summary>
public sealed record ApiKeyView(
    ApiKeyId Id,
    string Name,
    Role Role,
    string? PersonName,
    DateTimeOffset CreatedAt,
    DateTimeOffset? RevokedAt,
    IReadOnlyList<string> Scopes,
    bool IsReader,
    DateTimeOffset? EndsAt,
    DateTimeOffset? LastUsedAt
);

/// <summary>Reads who works here and which keys exist.</summary>
public sealed class ReadPeople(QueryRunner queries) : IUseCase
{
    public Task<Outcome<IReadOnlyList<PersonView>>> ListAsync(Actor actor, CancellationToken ct) =>
        queries.RunAsync<IReadOnlyList<PersonView>>(
            Permission.RunShop,
            actor,
            async db =>
            {
                var users = await db
                    .Users.OrderBy(u => u.NormalizedUserName)
                    .Take(PageRequest.LargestSize)
                    .ToListAsync(ct);
                var roles = await db
                    .UserRoles.Join(db.Roles, r => r.RoleId, r => r.Id, (r, role) => new { r.UserId, role.Name })
                    .ToListAsync(ct);
                return users
                    .Select(u => new PersonView(
                        new PersonId(u.Id),
                        u.DisplayName,
                        u.Email!,
                        u.IsActive,
                        [.. roles.Where(r => r.UserId == u.Id).Select(r => Enum.Parse<Role>(r.Name!)).Order()],
                        u.TwoFactorEnabled
                    ))
                    .ToList();
            },
            ct
        );

    public Task<Outcome<IReadOnlyList<ApiKeyView>>> KeysAsync(Actor actor, CancellationToken ct) =>
        queries.RunAsync<IReadOnlyList<ApiKeyView>>(
            Permission.RunShop,
            actor,
            async db =>
            {
                var keys = await db
                    .ApiKeys.OrderByDescending(k => k.CreatedAt)
                    .Take(PageRequest.LargestSize)
                    .ToListAsync(ct);
                var names = await db.Users.ToDictionaryAsync(u => u.Id, u => u.DisplayName, ct);
                return keys.Select(k => new ApiKeyView(
                        k.Id,
                        k.Name,
                        k.Role,
                        k.Person is { } p ? names.GetValueOrDefault(p.Value) : null,
                        k.CreatedAt,
                        k.RevokedAt,
                        k.Scopes,
                        k.IsReader,
                        k.EndsAt,
                        k.LastUsedAt
                    ))
                    .ToList();
            },
            ct
        );
}
