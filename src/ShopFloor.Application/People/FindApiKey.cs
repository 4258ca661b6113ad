using System.Security.Cryptography;
using System.Text;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Data;
using ShopFloor.Domain.Common;

namespace ShopFloor.Application.People;

/// <summary>Whom a presented key stands for.</summary>
public sealed record KeyHolder(ApiKeyId Key, PersonId? Person, IReadOnlyList<Role> Roles);

/// <summary>Looks a presented API key up by its hash.</summary>
public sealed class FindApiKey(IDbContextFactory<ShopDbContext> contexts) : IUseCase
{
    private const int LongestKey = 200;

    /// <summary>Null where the key is unknown, revoked, or its person has left. A key acts with at most its person's roles.</summary>
    public async Task<KeyHolder?> RunAsync(string key, CancellationToken ct)
    {
        if (key.Length is 0 or > LongestKey)
        {
            return null;
        }

        var hash = HashOf(key);
        await using var db = await contexts.CreateDbContextAsync(ct);
        var row = await db.ApiKeys.AsNoTracking().SingleOrDefaultAsync(k => k.Hash == hash && k.RevokedAt == null, ct);
        if (row is null)
        {
            return null;
        }

        if (row.Person is not { } person)
        {
            return new KeyHolder(row.Id, null, [row.Role]);
        }

        var roles = await PersonRoles.OfAsync(db, person, ct);
        return roles is null ? null : new KeyHolder(row.Id, person, [.. roles.Where(r => r == row.Role)]);
    }

    /// <summary>SHA-256 as 64 lower-case hex digits; keys are random, so that no salt is needed.</summary>
    internal static string HashOf(string key) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(key)));
}
