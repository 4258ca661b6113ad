using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.SignIns;
using ShopFloor.Data.Identity;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.SignIns;

namespace ShopFloor.Application.People;

/// <summary>Gives a person of the shop a sign-in.</summary>
public sealed class AddPerson(CommandRunner runner, IPasswordHasher<User> hasher, PasswordRule rule) : IUseCase
{
    public sealed record Request(string? Name, string? Email, string? Password, IReadOnlyList<Role>? Roles);

    /// <summary>Adds somebody who chooses their own password by the link that is handed back, this once.</summary>
    /// <param name="request">Without a password.</param>
    /// <param name="envelope">Who invites.</param>
    /// <param name="ct">Gives up.</param>
    public Task<Outcome<MakePasswordLink.Made>> InviteAsync(Request request, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<MakePasswordLink.Made>(
            Permission.KeepAccess,
            // No repeat by key: remembering the answer would store the secret.
            envelope with
            {
                IdempotencyKey = null,
            },
            null,
            async scope =>
                (await AddAsync(scope, request, isInvited: true)).TryGet(out var person, out var failure)
                    ? await MakePasswordLink.MakeAsync(scope, person, PasswordLink.Life)
                    : failure,
            ct
        );

    public Task<Outcome<PersonId>> RunAsync(Request request, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync(
            Permission.KeepAccess,
            envelope,
            // The password must not reach the idempotency record, not even as part of a hash that could be tried out.
            request with
            {
                Password = null,
            },
            scope => AddAsync(scope, request),
            ct
        );

    /// <summary>Adds the person within a command that has its own permission (set-up).</summary>
    internal async Task<Outcome<PersonId>> AddAsync(CommandScope scope, Request request, bool isInvited = false)
    {
        var errors = new FieldErrors();
        var name = TextRules.Required(request.Name, "name", "The name", TextRules.Name, errors);
        var email = TextRules.Required(request.Email, "email", "The e-mail address", TextRules.Name, errors);
        errors.AddIf(
            email.Length > 0 && !LooksLikeEmail(email),
            "email",
            "This is no e-mail address: write it as name@example.com."
        );
        if (!isInvited && rule.Problem(request.Password, name, email) is { } problem)
        {
            errors.Add("password", problem);
        }

        var roles = (request.Roles ?? []).Distinct().ToList();
        errors.AddIf(roles.Count == 0, "roles", "Choose at least one role.");
        var normalized = email.ToUpperInvariant();
        errors.AddIf(
            email.Length > 0 && await scope.Db.Users.AnyAsync(u => u.NormalizedEmail == normalized, scope.Cancellation),
            "email",
            "Somebody with this e-mail address is here already."
        );
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        var id = Ids.New<PersonId>(scope.Now);
        var user = new User
        {
            Id = id.Value,
            DisplayName = name,
            UserName = email,
            NormalizedUserName = normalized,
            Email = email,
            NormalizedEmail = normalized,
            EmailConfirmed = true,
            LockoutEnabled = true,
            SecurityStamp = Guid.CreateVersion7(scope.Now).ToString("N"),
        };
        // Without one nobody signs in by password until the link was used.
        user.PasswordHash = isInvited ? null : hasher.HashPassword(user, request.Password!);
        scope.Db.Users.Add(user);
        await GiveRolesAsync(scope, id, roles);
        scope.Record(new EventDraft("person.added", "person", id.Value, After: new { roles, isInvited }));
        return id;
    }

    /// <summary>Replaces a person's roles.</summary>
    internal static async Task GiveRolesAsync(CommandScope scope, PersonId person, IReadOnlyList<Role> roles)
    {
        var known = await scope.Db.Roles.ToListAsync(scope.Cancellation);
        foreach (var missing in Enum.GetNames<Role>().Except(known.Select(r => r.Name!)))
        {
            var role = new ShopRole
            {
                Id = Guid.CreateVersion7(scope.Now),
                Name = missing,
                NormalizedName = missing.ToUpperInvariant(),
            };
            scope.Db.Roles.Add(role);
            known.Add(role);
        }

        scope.Db.UserRoles.RemoveRange(
            await scope.Db.UserRoles.Where(r => r.UserId == person.Value).ToListAsync(scope.Cancellation)
        );
        scope.Db.UserRoles.AddRange(
            roles.Select(r => new IdentityUserRole<Guid>
            {
                UserId = person.Value,
                RoleId = known.Single(k => k.Name == r.ToString()).Id,
            })
        );
    }

    private static bool LooksLikeEmail(string text) =>
        text.Count(c => c == '@') == 1
        && text.IndexOf('@') is var at
        && at > 0
        && at < text.Length - 1
        && !text.Any(char.IsWhiteSpace);
}
