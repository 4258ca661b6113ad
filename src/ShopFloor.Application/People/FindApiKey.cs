using System.Security.Cryptography;
using System.Text;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Data;
using ShopFloor.Domain.Common;

namespace ShopFloor.Application.People;

/// <summary>Whom a presented key stands for.</summary>
/// <param name="Key">The key.</param>
/// <param name="Person">Whom it acts as; null for an integration.</param>
/// <param name="Roles">Roles it has at this moment.</param>
/// <param name="Scopes">Names of the permissions it is limited to; empty: all of its role.</param>
/// <param name="IsReader">It may read only.</param>
/// <param name="IsEnding">It ends on a day.</param>
public sealed record KeyHolder(
    ApiKeyId Key,
    PersonId? Person,
    IReadOnlyList<Role> Roles,
    IReadOnlyList<string> Scopes,
    bool IsReader,
    bool IsEnding
);

/// <summary>Looks a presented API key up by its hash.</summary>
public sealed class FindApiKey(IDbContextFactory<ShopDbContext> contexts, TimeProvider clock) : IUseCase
{
    private const int LongestKey = 200;

    /// <summary>A use is noted no more often than this.</summary>
    private static readonly TimeSpan NotedEvery = TimeSpan.FromMinutes(10);

    /// <summary>Null where the key is unknown, revoked, past its end, or its person has left. A key acts with at most its person's roles.</summary>
    public async Task<KeyHolder?> RunAsync(string key, CancellationToken ct)
    {
        if (key.Length is 0 or > LongestKey)
        {
            return null;
        }

        var hash = HashOf(key);
        await using var db = await contexts.CreateDbContextAsync(ct);
        var row = await db.ApiKeys.AsNoTracking().SingleOrDefaultAsync(k => k.Hash == hash && k.RevokedAt == null, ct);
        var now = clock.GetUtcNow();
        if (row is null || row.EndsAt <= now)
        {
            return null;
        }

        var roles = row.Person is { } person ? await PersonRoles.OfAsync(db, person, ct) : [row.Role];
        if (roles is null)
        {
            return null;
        }

        if (row.LastUsedAt is not { } last || now - last > NotedEvery)
        {
            await NoteAsync(db, row.Id, now, ct);
        }

        return new KeyHolder(
            row.Id,
            row.Person,
            [.. roles.Where(r => r == row.Role)],
            row.Scopes,
            row.IsReader,
            row.EndsAt is not null
        );
    }

    private static async Task NoteAsync(ShopDbContext db, ApiKeyId key, DateTimeOffset now, CancellationToken ct)
    {
        try
        {
            await db.ApiKeys.Where(k => k.Id == key).ExecuteUpdateAsync(s => s.SetProperty(k => k.LastUsedAt, now), ct);
        }
        catch (Exception exception) when (ShopDatabase.IsBusy(exception) || ShopDatabase.IsFull(exception))
        {
            // A note that can wait for the next use: no reason to turn the caller away.
        }
    }

    /// <summary>SHA-256 as 64 lower-case hex digits; keys are random, so that no salt is needed.</summary>
    internal static string HashOf(string key) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(key)));
}
