using System.Buffers.Text;
using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Data.Identity;
using ShopFloor.Domain.Common;

namespace ShopFloor.Application.SignIns;

/// <summary>A passkey, without its key.</summary>
/// <param name="Id">Of the credential, base64url.</param>
public sealed record PasskeyView(string Id, string Name, DateTimeOffset MadeAt);

/// <summary>One's own passkeys.</summary>
public sealed class KeepPasskeys(CommandRunner runner, QueryRunner queries, IPasswordHasher<User> hasher) : IUseCase
{
    /// <summary>A person has a handful of devices.</summary>
    public const int Most = 20;

    public Task<Outcome<IReadOnlyList<PasskeyView>>> ListAsync(Actor actor, CancellationToken ct) =>
        queries.RunAsync<IReadOnlyList<PasskeyView>>(
            Permission.KeepOwnSignIn,
            actor,
            async db =>
            {
                var person = (actor.Person ?? default).Value;
                var rows = await db.Set<IdentityUserPasskey<Guid>>().Where(p => p.UserId == person).ToListAsync(ct);
                return rows.Select(p => new PasskeyView(
                        Base64Url.EncodeToString(p.CredentialId),
                        p.Data.Name ?? "Passkey",
                        p.Data.CreatedAt
                    ))
                    .OrderBy(p => p.MadeAt)
                    .ToList();
            },
            ct
        );

    /// <summary>Adds one whose making was checked a moment ago; asks for the password, because it is another way in.</summary>
    public Task<Outcome<Done>> AddAsync(
        UserPasskeyInfo passkey,
        string? password,
        Envelope envelope,
        CancellationToken ct
    ) =>
        runner.RunAsync<Done>(
            Permission.KeepOwnSignIn,
            envelope,
            new { },
            async scope =>
            {
                var errors = new FieldErrors();
                var name = TextRules.Required(passkey.Name, "name", "The name", TextRules.Code, errors);
                if (errors.Any)
                {
                    return errors.ToFailure();
                }

                var person = (scope.Actor.Person ?? default).Value;
                var user = await scope.Db.Users.SingleAsync(u => u.Id == person, scope.Cancellation);
                if (!Passwords.IsOf(hasher, user, password))
                {
                    return Failure.Field("password", "This is not your password.");
                }

                var set = scope.Db.Set<IdentityUserPasskey<Guid>>();
                if (await set.CountAsync(p => p.UserId == person, scope.Cancellation) >= Most)
                {
                    return Failure.Because("passkeys", $"You have {Most} passkeys. Remove one that you use no more.");
                }

                set.Add(
                    new IdentityUserPasskey<Guid>
                    {
                        UserId = person,
                        CredentialId = passkey.CredentialId,
                        Data = new IdentityPasskeyData
                        {
                            PublicKey = passkey.PublicKey,
                            Name = name,
                            CreatedAt = passkey.CreatedAt,
                            SignCount = passkey.SignCount,
                            Transports = passkey.Transports,
                            IsUserVerified = passkey.IsUserVerified,
                            IsBackupEligible = passkey.IsBackupEligible,
                            IsBackedUp = passkey.IsBackedUp,
                            AttestationObject = passkey.AttestationObject,
                            ClientDataJson = passkey.ClientDataJson,
                        },
                    }
                );
                scope.Record(new EventDraft("person.passkeyAdded", "person", person));
                return default(Done);
            },
            ct
        );

    public Task<Outcome<Done>> RemoveAsync(byte[] id, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<Done>(
            Permission.KeepOwnSignIn,
            envelope,
            new { id },
            async scope =>
            {
                var person = (scope.Actor.Person ?? default).Value;
                var row = await scope
                    .Db.Set<IdentityUserPasskey<Guid>>()
                    .SingleOrDefaultAsync(p => p.UserId == person && p.CredentialId == id, scope.Cancellation);
                if (row is null)
                {
                    return Failure.Missing("passkey");
                }

                scope.Db.Remove(row);
                scope.Record(new EventDraft("person.passkeyRemoved", "person", person));
                return default(Done);
            },
            ct
        );
}
