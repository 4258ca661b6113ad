using System.Net;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Devices;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Devices;
using ShopFloor.Domain.SignIns;

namespace ShopFloor.Application.SignIns;

/// <summary>
/// Wrong tries to sign in, counted in the database by network and in all, so that several servers count together; each account has its own count besides. A paused network waits. While there are too many tries in all,
/// only networks from which somebody of the shop has signed in lately are let in: strangers can then neither guess on nor shut the shop out.
/// </summary>
public sealed class SignInLimits(CommandRunner runner, IDbContextFactory<ShopDbContext> contexts, TimeProvider clock)
    : IUseCase
{
    /// <summary>A network is known for so long after a sign-in from it.</summary>
    private static readonly TimeSpan Known = TimeSpan.FromDays(30);

    /// <summary>Whether a try from there must wait.</summary>
    public async Task<bool> IsPausedAsync(IPAddress? from, CancellationToken ct)
    {
        var network = DeviceSecrets.NetworkOf(from);
        var own = AttemptLimit.OfSignInsFrom(network);
        var now = clock.GetUtcNow();
        await using var db = await contexts.CreateDbContextAsync(ct);
        var limits = await db.Set<AttemptLimit>()
            .AsNoTracking()
            .Where(l => l.Key == own || l.Key == AttemptLimit.SignIns)
            .ToListAsync(ct);
        if (limits.Exists(l => l.Key == own && l.IsPaused(now)))
        {
            return true;
        }

        var since = now - Known;
        return limits.Exists(l => l.Key == AttemptLimit.SignIns && l.IsPaused(now))
            && !await db.Set<SignInSession>().AnyAsync(s => s.Network == network && s.BegunAt > since, ct);
    }

    /// <summary>Counts a wrong try. The history gets a line where it was somebody's account; what was typed is never written down.</summary>
    public Task FailAsync(PersonId? person, IPAddress? from, CancellationToken ct) =>
        runner.RunUncheckedAsync<Done>(
            Envelope.Of(Actor.System),
            null,
            async scope =>
            {
                var own = AttemptLimit.OfSignInsFrom(DeviceSecrets.NetworkOf(from));
                (await Attempts.OfAsync(scope, own)).Fail(AttemptRule.OfSignInsFrom, scope.Now);
                (await Attempts.OfAsync(scope, AttemptLimit.SignIns)).Fail(AttemptRule.OfAllSignIns, scope.Now);
                await ForgetAsync(scope, own);
                if (person is { } known)
                {
                    scope.Record(new EventDraft("person.signInRefused", "person", known.Value));
                }

                return default(Done);
            },
            ct
        );

    /// <summary>Somebody signed in from there: its count begins anew.</summary>
    internal static async Task ForgiveAsync(CommandScope scope, string network)
    {
        var key = AttemptLimit.OfSignInsFrom(network);
        (await scope.Db.Set<AttemptLimit>().SingleOrDefaultAsync(l => l.Key == key, scope.Cancellation))?.Reset();
    }

    private static Task<int> ForgetAsync(CommandScope scope, string except)
    {
        var old = scope.Now - AttemptRule.OfSignInsFrom.Window!.Value - AttemptRule.OfSignInsFrom.LongestPause;
        return scope
            .Db.Set<AttemptLimit>()
            .Where(l =>
                l.Key.StartsWith(AttemptLimit.SignInsFrom)
                && l.Key != except
                && l.CountedFrom < old
                && (l.PausedUntil == null || l.PausedUntil < scope.Now)
            )
            .ExecuteDeleteAsync(scope.Cancellation);
    }
}
