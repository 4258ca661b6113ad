using System.Net;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Logging;
using ShopFloor.Application.Common;
using ShopFloor.Application.Devices;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.SignIns;

namespace ShopFloor.Application.SignIns;

/// <summary>A browser in which somebody is signed in.</summary>
public sealed record SessionView(
    SessionId Id,
    SignInWay Way,
    string Browser,
    DateTimeOffset BegunAt,
    DateTimeOffset SeenAt
);

/// <summary>Notes that a person signed in; the cookie holds the session's id. The caller has checked who it is.</summary>
public sealed class BeginSession(CommandRunner runner) : IUseCase
{
    /// <summary>Older sessions that are over are forgotten; the history keeps that they were.</summary>
    private static readonly TimeSpan Kept = TimeSpan.FromDays(90);

    public Task<Outcome<SessionId>> RunAsync(
        PersonId person,
        SignInWay way,
        string? userAgent,
        IPAddress? from,
        CancellationToken ct
    ) =>
        runner.RunUncheckedAsync<SessionId>(
            Envelope.Of(Actor.OfPerson(person, [])),
            null,
            async scope =>
            {
                var network = DeviceSecrets.NetworkOf(from);
                var session = SignInSession.Begin(
                    scope.NewId<SessionId>(),
                    person,
                    way,
                    BrowserWords.Of(userAgent),
                    network,
                    scope.Now
                );
                scope.Db.Add(session);
                await SignInLimits.ForgiveAsync(scope, network);
                var old = scope.Now - Kept;
                scope.Db.RemoveRange(
                    await scope
                        .Db.Set<SignInSession>()
                        .Where(s => s.Person == person && s.SeenAt < old)
                        .ToListAsync(scope.Cancellation)
                );
                scope.Record(
                    new EventDraft("person.signedIn", "person", person.Value, After: new { session = session.Id, way })
                );
                return session.Id;
            },
            ct
        );
}

/// <summary>Whether the cookie of a session still counts.</summary>
public sealed class CheckSession(
    IDbContextFactory<ShopDbContext> contexts,
    CommandRunner runner,
    TimeProvider clock,
    ILogger<CheckSession> log
) : IUseCase
{
    /// <summary>Also notes now and then that it was used.</summary>
    public async Task<bool> HoldsAsync(SessionId id, PersonId person, CancellationToken ct)
    {
        await using var db = await contexts.CreateDbContextAsync(ct);
        var session = await db.Set<SignInSession>().AsNoTracking().SingleOrDefaultAsync(s => s.Id == id, ct);
        var now = clock.GetUtcNow();
        if (session is null || session.Person != person || !session.Holds(now))
        {
            return false;
        }

        if (session.IsSeenLongAgo(now))
        {
            await SeeAsync(id, person, ct);
        }

        return true;
    }

    /// <summary>Where it cannot be noted, because nothing more can be stored, the person may still look.</summary>
    private async Task SeeAsync(SessionId id, PersonId person, CancellationToken ct)
    {
        try
        {
            await runner.RunUncheckedAsync<Done>(
                Envelope.Of(Actor.OfPerson(person, [])),
                null,
                async scope =>
                {
                    var seen = await scope
                        .Db.Set<SignInSession>()
                        .SingleOrDefaultAsync(s => s.Id == id, scope.Cancellation);
                    seen?.See(scope.Now);
                    return default(Done);
                },
                ct
            );
        }
        catch (Exception exception) when (ShopDatabase.IsFull(exception))
        {
            log.LogWarning("That a session is in use could not be noted: the disk is full");
        }
    }
}

/// <summary>One's own sessions.</summary>
public sealed class ReadSessions(QueryRunner queries, TimeProvider clock) : IUseCase
{
    public Task<Outcome<IReadOnlyList<SessionView>>> RunAsync(Actor actor, CancellationToken ct) =>
        queries.RunAsync<IReadOnlyList<SessionView>>(
            Permission.KeepOwnSignIn,
            actor,
            async db =>
            {
                var now = clock.GetUtcNow();
                var person = actor.Person ?? default;
                var rows = await db.Set<SignInSession>()
                    .Where(s => s.Person == person && s.EndedAt == null)
                    .OrderByDescending(s => s.SeenAt)
                    .Take(PageRequest.LargestSize)
                    .ToListAsync(ct);
                return rows.Where(s => s.Holds(now))
                    .Select(s => new SessionView(s.Id, s.Way, s.Browser, s.BegunAt, s.SeenAt))
                    .ToList();
            },
            ct
        );
}

/// <summary>Signs out: one browser, or all of a person's but one.</summary>
public sealed class EndSessions(CommandRunner runner) : IUseCase
{
    /// <summary>One of one's own.</summary>
    public Task<Outcome<Done>> OneAsync(SessionId id, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<Done>(
            Permission.KeepOwnSignIn,
            envelope,
            new { id },
            async scope =>
            {
                var person = scope.Actor.Person ?? default;
                var session = await scope
                    .Db.Set<SignInSession>()
                    .SingleOrDefaultAsync(s => s.Id == id && s.Person == person, scope.Cancellation);
                if (session is null)
                {
                    return Failure.Missing("session");
                }

                End(scope, person, [session]);
                return default(Done);
            },
            ct
        );

    /// <summary>All of one's own but the one that asks.</summary>
    /// <param name="kept">Null: all.</param>
    /// <param name="envelope">Who asks.</param>
    /// <param name="ct">Gives up.</param>
    public Task<Outcome<int>> OthersAsync(SessionId? kept, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<int>(
            Permission.KeepOwnSignIn,
            envelope,
            new { kept },
            scope => AllAsync(scope, scope.Actor.Person ?? default, kept),
            ct
        );

    /// <summary>By the person who leaves a browser; nothing happens where it has ended already.</summary>
    public Task<Outcome<Done>> SignOutAsync(SessionId id, PersonId person, CancellationToken ct) =>
        runner.RunUncheckedAsync<Done>(
            Envelope.Of(Actor.OfPerson(person, [])),
            null,
            async scope =>
            {
                var session = await scope
                    .Db.Set<SignInSession>()
                    .SingleOrDefaultAsync(s => s.Id == id && s.Person == person, scope.Cancellation);
                if (session is { EndedAt: null })
                {
                    End(scope, person, [session]);
                }

                return default(Done);
            },
            ct
        );

    /// <summary>Within another command: whoever loses trust in a password loses it in what it opened.</summary>
    internal static async Task<Outcome<int>> AllAsync(CommandScope scope, PersonId person, SessionId? kept)
    {
        var open = await scope
            .Db.Set<SignInSession>()
            .Where(s => s.Person == person && s.EndedAt == null && s.Id != (kept ?? default))
            .ToListAsync(scope.Cancellation);
        End(scope, person, open);
        return open.Count;
    }

    private static void End(CommandScope scope, PersonId person, List<SignInSession> sessions)
    {
        if (sessions.Count == 0)
        {
            return;
        }

        sessions.ForEach(s => s.End(scope.Now));
        scope.Record(
            new EventDraft(
                "person.signedOut",
                "person",
                person.Value,
                After: new { sessions = sessions.Select(s => s.Id) }
            )
        );
    }
}

/// <summary>A browser in a few words, from what it says of itself: for a person to recognise it, not to decide anything by it.</summary>
public static class BrowserWords
{
    private static readonly (string Sign, string Name)[] Systems =
    [
        ("Android", "Android"),
        ("iPhone", "iPhone"),
        ("iPad", "iPad"),
        ("Windows", "Windows"),
        ("Mac OS", "Mac"),
        ("CrOS", "Chromebook"),
        ("Linux", "Linux"),
    ];

    private static readonly (string Sign, string Name)[] Engines =
    [
        ("Firefox/", "Gecko"),
        ("Chrome/", "Chromium"),
        ("Safari/", "WebKit"),
    ];

    /// <summary>E.g. "Chromium on Windows"; "A browser" where it does not say.</summary>
    public static string Of(string? userAgent)
    {
        var said = userAgent ?? "";
        var engine = Array.Find(Engines, e => said.Contains(e.Sign, StringComparison.Ordinal)).Name;
        var system = Array.Find(Systems, s => said.Contains(s.Sign, StringComparison.Ordinal)).Name;
        return (engine, system) switch
        {
            (null, null) => "A browser",
            (null, _) => $"A browser on {system}",
            (_, null) => engine,
            _ => $"{engine} on {system}",
        };
    }
}
