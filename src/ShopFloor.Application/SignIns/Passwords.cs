using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Devices;
using ShopFloor.Application.People;
using ShopFloor.Data;
using ShopFloor.Data.Identity;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.SignIns;

namespace ShopFloor.Application.SignIns;

/// <summary>A person changes their own password; every other browser of theirs is signed out.</summary>
public sealed class ChangeOwnPassword(CommandRunner runner, IPasswordHasher<User> hasher, PasswordRule rule) : IUseCase
{
    /// <param name="Current">The password that holds now.</param>
    /// <param name="New">The one to be.</param>
    /// <param name="Kept">The session that asks.</param>
    public sealed record Request(string? Current, string? New, SessionId? Kept = null);

    public Task<Outcome<Done>> RunAsync(Request request, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<Done>(
            Permission.KeepOwnSignIn,
            envelope,
            new { },
            async scope =>
            {
                var id = scope.Actor.Person ?? default;
                var user = await scope.Db.Users.SingleAsync(u => u.Id == id.Value, scope.Cancellation);
                if (!Passwords.IsOf(hasher, user, request.Current))
                {
                    return Failure.Field("current", "This is not your password.");
                }

                if (rule.Problem(request.New, user.DisplayName, user.Email) is { } problem)
                {
                    return Failure.Field("new", problem);
                }

                Passwords.Set(scope, user, hasher.HashPassword(user, request.New!));
                await Passwords.CloseLinksAsync(scope, id);
                await EndSessions.AllAsync(scope, id, request.Kept);
                scope.Record(new EventDraft("person.passwordChanged", "person", id.Value));
                return default(Done);
            },
            ct
        );
}

/// <summary>The owner makes a link with which somebody chooses their first or a new password. The link is handed back once and never stored.</summary>
public sealed class MakePasswordLink(CommandRunner runner) : IUseCase
{
    /// <param name="Token">The secret part of the link.</param>
    /// <param name="ExpiresAt">Until when it opens.</param>
    public sealed record Made(string Token, DateTimeOffset ExpiresAt);

    public Task<Outcome<Made>> RunAsync(PersonId person, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<Made>(
            Permission.KeepAccess,
            // No repeat by key: remembering the answer would store the secret.
            envelope with
            {
                IdempotencyKey = null,
            },
            null,
            scope => MakeAsync(scope, person, PasswordLink.Life),
            ct
        );

    /// <summary>For an owner who cannot sign in any more, by somebody who stands at the server: the person is active and an owner again, nobody is signed in as them, and no app is asked for.</summary>
    public Task<Outcome<Made>> RecoverOwnerAsync(string? email, CancellationToken ct) =>
        runner.RunUncheckedAsync<Made>(
            Envelope.Of(Actor.System),
            null,
            async scope =>
            {
                var normalized = (email ?? "").Trim().ToUpperInvariant();
                var user = await scope.Db.Users.SingleOrDefaultAsync(
                    u => u.NormalizedEmail == normalized,
                    scope.Cancellation
                );
                if (user is null)
                {
                    return Failure.Because(
                        "noPerson",
                        "Nobody has this e-mail address. To add an owner, use: admin owner create"
                    );
                }

                var id = new PersonId(user.Id);
                var roles = await PersonRoles.AllOfAsync(scope.Db, id, scope.Cancellation);
                await AddPerson.GiveRolesAsync(scope, id, [.. roles.Append(Role.Owner).Distinct().Order()]);
                (user.IsActive, user.LockoutEnd, user.AccessFailedCount, user.PasswordHash) = (true, null, 0, null);
                user.SecurityStamp = Guid.CreateVersion7(scope.Now).ToString("N");
                await EndSessions.AllAsync(scope, id, kept: null);
                await KeepSecondFactor.RemoveAsync(scope, id);
                await Passwords.DropPasskeysAsync(scope, id);
                scope.Record(new EventDraft("person.ownerRecovered", "person", id.Value));
                return await MakeAsync(scope, id, PasswordLink.ShortLife);
            },
            ct
        );

    internal static async Task<Outcome<Made>> MakeAsync(CommandScope scope, PersonId person, TimeSpan life)
    {
        if (!await scope.Db.Users.AnyAsync(u => u.Id == person.Value && u.IsActive, scope.Cancellation))
        {
            // One that this command has just added is not yet stored.
            if (!scope.Db.Users.Local.Any(u => u.Id == person.Value && u.IsActive))
            {
                return Failure.Missing("person");
            }
        }

        await Passwords.CloseLinksAsync(scope, person);
        var token = SignInSecrets.NewToken();
        var link = new PasswordLink(
            scope.NewId<PasswordLinkId>(),
            person,
            DeviceSecrets.HashOf(token),
            scope.Actor.Person,
            scope.Now,
            life
        );
        scope.Db.Add(link);
        scope.Record(new EventDraft("person.passwordLinkMade", "person", person.Value));
        return new Made(token, link.ExpiresAt);
    }
}

/// <summary>Whoever holds the link chooses the password. Opening the link changes nothing.</summary>
public sealed class UsePasswordLink(
    CommandRunner runner,
    IDbContextFactory<ShopDbContext> contexts,
    IPasswordHasher<User> hasher,
    PasswordRule rule,
    TimeProvider clock
) : IUseCase
{
    /// <summary>Whom the link is for.</summary>
    public sealed record Welcome(string Name, string Email);

    /// <summary>Null where the link opens nothing, for whatever reason.</summary>
    public async Task<Welcome?> FindAsync(string token, CancellationToken ct)
    {
        var hash = DeviceSecrets.HashOf(token);
        await using var db = await contexts.CreateDbContextAsync(ct);
        var link = await db.Set<PasswordLink>().AsNoTracking().SingleOrDefaultAsync(l => l.TokenHash == hash, ct);
        if (link is null || !link.IsOpen(clock.GetUtcNow()))
        {
            return null;
        }

        var user = await db.Users.AsNoTracking().SingleOrDefaultAsync(u => u.Id == link.Person.Value && u.IsActive, ct);
        return user is null ? null : new Welcome(user.DisplayName, user.Email!);
    }

    /// <summary>Sets the password; every browser of the person's is signed out. Whose it is now.</summary>
    public Task<Outcome<PersonId>> RunAsync(string token, string? password, CancellationToken ct) =>
        runner.RunUncheckedAsync<PersonId>(
            Envelope.Of(Actor.System),
            null,
            async scope =>
            {
                var hash = DeviceSecrets.HashOf(token);
                var link = await scope
                    .Db.Set<PasswordLink>()
                    .SingleOrDefaultAsync(l => l.TokenHash == hash, scope.Cancellation);
                var user =
                    link?.IsOpen(scope.Now) == true
                        ? await scope.Db.Users.SingleOrDefaultAsync(
                            u => u.Id == link.Person.Value && u.IsActive,
                            scope.Cancellation
                        )
                        : null;
                if (link is null || user is null)
                {
                    return Failure.Missing("link");
                }

                if (rule.Problem(password, user.DisplayName, user.Email) is { } problem)
                {
                    return Failure.Field("password", problem);
                }

                link.Close(scope.Now);
                Passwords.Set(scope, user, hasher.HashPassword(user, password!));
                await EndSessions.AllAsync(scope, link.Person, kept: null);
                // Whoever knew the old password may have added one.
                await Passwords.DropPasskeysAsync(scope, link.Person);
                scope.Record(
                    new EventDraft(
                        "person.passwordSet",
                        "person",
                        user.Id,
                        After: new { link = link.Id, by = link.MadeBy }
                    )
                );
                return link.Person;
            },
            ct
        );
}

internal static class Passwords
{
    /// <summary>Whether this is the person's password.</summary>
    public static bool IsOf(IPasswordHasher<User> hasher, User user, string? password) =>
        user.PasswordHash is { } hash
        && password is { Length: <= PasswordRule.Longest }
        && hasher.VerifyHashedPassword(user, hash, password) != PasswordVerificationResult.Failed;

    /// <summary>Also lifts a lock: whoever may set the password may try it.</summary>
    public static void Set(CommandScope scope, User user, string hash)
    {
        user.PasswordHash = hash;
        user.SecurityStamp = Guid.CreateVersion7(scope.Now).ToString("N");
        (user.LockoutEnd, user.AccessFailedCount) = (null, 0);
    }

    /// <summary>Links that were not used open nothing any more.</summary>
    public static async Task CloseLinksAsync(CommandScope scope, PersonId person)
    {
        var open = await scope
            .Db.Set<PasswordLink>()
            .Where(l => l.Person == person && l.ClosedAt == null)
            .ToListAsync(scope.Cancellation);
        open.ForEach(l => l.Close(scope.Now));
    }

    public static async Task DropPasskeysAsync(CommandScope scope, PersonId person) =>
        scope.Db.RemoveRange(
            await scope
                .Db.Set<IdentityUserPasskey<Guid>>()
                .Where(p => p.UserId == person.Value)
                .ToListAsync(scope.Cancellation)
        );
}
