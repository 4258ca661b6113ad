using System.Collections.Concurrent;
using System.Net;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Devices;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Devices;
using ShopFloor.Domain.Progress;

namespace ShopFloor.Application.Progress;

/// <summary>What a token opened.</summary>
/// <param name="Link">Null where it opens nothing, for whatever reason.</param>
/// <param name="IsPaused">Too many tries; nobody looked, or it was not the token that was right.</param>
public readonly record struct Opening(OpenLink? Link, bool IsPaused);

/// <summary>
/// The only way from a token to a page. Tries that open nothing are counted in the database by network and in all, so that several servers count together. A network that is
/// paused is not even looked up for. While all are paused, right links still open and wrong ones are no longer written down: 32 random bytes are not guessed by trying more, and strangers must
/// not be able to shut every customer out.
/// </summary>
public sealed class LinkDoor(
    SeeProgress see,
    CommandRunner runner,
    LinkPauses pauses,
    IDbContextFactory<ShopDbContext> contexts,
    TimeProvider clock
) : IUseCase
{
    public async Task<Opening> TryAsync(string token, IPAddress? from, CancellationToken ct)
    {
        var (link, isPaused) = await TryAsync(from, () => see.FindAsync(ProgressToken.Hash(token), ct), ct);
        return new Opening(link, isPaused);
    }

    /// <summary>The same for secrets of another kind, which are counted together with these.</summary>
    /// <param name="from">Where the try comes from.</param>
    /// <param name="find">Looks the secret up; null where it opens nothing.</param>
    /// <param name="ct">Gives up.</param>
    public async Task<(T? Found, bool IsPaused)> TryAsync<T>(IPAddress? from, Func<Task<T?>> find, CancellationToken ct)
        where T : class
    {
        ArgumentNullException.ThrowIfNull(find);
        var own = AttemptLimit.OfLinksFrom(DeviceSecrets.NetworkOf(from));
        if (await IsPausedAsync(own, ct))
        {
            return (null, true);
        }

        return await find() is { } found ? (found, false) : (null, !await CountAsync(own, ct));
    }

    /// <summary>Counts of networks that nobody tried from for an hour are let go, so that they do not pile up; how many.</summary>
    public async Task<int> ForgetAsync(CancellationToken ct)
    {
        var now = clock.GetUtcNow();
        var old = now - AttemptRule.OfLinksFrom.Window!.Value - AttemptRule.OfLinksFrom.LongestPause;
        await using var db = await contexts.CreateDbContextAsync(ct);
        return await db.Set<AttemptLimit>()
            .Where(l =>
                l.Key.StartsWith(AttemptLimit.LinksFrom)
                && l.CountedFrom < old
                && (l.PausedUntil == null || l.PausedUntil < now)
            )
            .ExecuteDeleteAsync(ct);
    }

    private async Task<bool> IsPausedAsync(string key, CancellationToken ct)
    {
        var now = clock.GetUtcNow();
        if (pauses.IsPaused(key, now))
        {
            return true;
        }

        await using var db = await contexts.CreateDbContextAsync(ct);
        var until = await db.Set<AttemptLimit>()
            .Where(l => l.Key == key)
            .Select(l => l.PausedUntil)
            .SingleOrDefaultAsync(ct);
        pauses.Remember(key, until, now);
        return until > now;
    }

    /// <summary>Writes a wrong try down; false while all are paused, and then nothing is written.</summary>
    private async Task<bool> CountAsync(string key, CancellationToken ct)
    {
        if (pauses.IsPaused(AttemptLimit.Links, clock.GetUtcNow()))
        {
            return false;
        }

        var counted = await runner.RunUncheckedAsync<bool>(
            Envelope.Of(Actor.System),
            null,
            async scope =>
            {
                var all = await Attempts.OfAsync(scope, AttemptLimit.Links);
                if (!all.IsPaused(scope.Now))
                {
                    var own = await Attempts.OfAsync(scope, key);
                    own.Fail(AttemptRule.OfLinksFrom, scope.Now);
                    all.Fail(AttemptRule.OfAllLinks, scope.Now);
                    return true;
                }

                pauses.Remember(AttemptLimit.Links, all.PausedUntil, scope.Now);
                return false;
            },
            ct
        );
        // Where too many count at once, the try is answered as one too many.
        return counted.IsSuccess && counted.Value;
    }
}

/// <summary>Pauses that this server knows of, so that a paused network costs it no reading. A pause is never shortened, so that what was once read stays true.</summary>
public sealed class LinkPauses
{
    /// <summary>More networks than this are forgotten and read again.</summary>
    private const int MostKnown = 10_000;

    private readonly ConcurrentDictionary<string, DateTimeOffset> paused = new(StringComparer.Ordinal);

    internal bool IsPaused(string key, DateTimeOffset now) => paused.TryGetValue(key, out var until) && until > now;

    internal void Remember(string key, DateTimeOffset? until, DateTimeOffset now)
    {
        if (until > now)
        {
            if (paused.Count >= MostKnown)
            {
                paused.Clear();
            }

            paused[key] = until.Value;
        }
        else
        {
            paused.TryRemove(key, out _);
        }
    }
}
