using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.SignIns;
using ShopFloor.Data.Identity;
using ShopFloor.Domain.Common;

namespace ShopFloor.Application.People;

/// <summary>Changes a person's roles, their password, or whether they still work here. Ends their open sign-ins within a minute.</summary>
public sealed class ChangePerson(CommandRunner runner, IPasswordHasher<User> hasher, PasswordRule rule) : IUseCase
{
    /// <param name="Name">Null: as it is.</param>
    /// <param name="Roles">Null: as they are.</param>
    /// <param name="IsActive">Null: as it is.</param>
    /// <param name="Password">Null: as it is.</param>
    public sealed record Request(
        string? Name = null,
        IReadOnlyList<Role>? Roles = null,
        bool? IsActive = null,
        string? Password = null
    );

    public Task<Outcome<Done>> RunAsync(PersonId id, Request request, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<Done>(
            Permission.KeepAccess,
            envelope,
            new { id, request = request with { Password = null } },
            async scope =>
            {
                var user = await scope.Db.Users.SingleOrDefaultAsync(u => u.Id == id.Value, scope.Cancellation);
                if (user is null)
                {
                    return Failure.Missing("person");
                }

                var before = await PersonRoles.AllOfAsync(scope.Db, id, scope.Cancellation);
                var roles = request.Roles?.Distinct().Order().ToList() ?? before;
                var isActive = request.IsActive ?? user.IsActive;
                var errors = new FieldErrors();
                errors.AddIf(roles.Count == 0, "roles", "Choose at least one role.");
                var name = request.Name is null
                    ? user.DisplayName
                    : TextRules.Required(request.Name, "name", "The name", TextRules.Name, errors);
                if (request.Password is not null && rule.Problem(request.Password, name, user.Email) is { } problem)
                {
                    errors.Add("password", problem);
                }

                if (errors.Any)
                {
                    return errors.ToFailure();
                }

                var wasOwner = user.IsActive && before.Contains(Role.Owner);
                if (wasOwner && !(isActive && roles.Contains(Role.Owner)))
                {
                    await OneAtATimeAsync(scope);
                    if (!await HasOtherOwnerAsync(scope, id))
                    {
                        return Failure.Because("lastOwner", "This is the last owner. Make somebody else owner first.");
                    }
                }

                await AddPerson.GiveRolesAsync(scope, id, roles);
                user.DisplayName = name;
                user.IsActive = isActive;
                user.SecurityStamp = Guid.CreateVersion7(scope.Now).ToString("N");
                if (request.Password is { } password)
                {
                    Passwords.Set(scope, user, hasher.HashPassword(user, password));
                }

                await EndSessions.AllAsync(scope, id, kept: null);
                if (!isActive || request.Password is not null)
                {
                    await Passwords.CloseLinksAsync(scope, id);
                    await Passwords.DropPasskeysAsync(scope, id);
                }

                scope.Record(
                    new EventDraft(
                        "person.changed",
                        "person",
                        id.Value,
                        Before: new { roles = before },
                        After: new
                        {
                            roles,
                            isActive,
                            newPassword = request.Password is not null,
                        }
                    )
                );
                return default(Done);
            },
            ct
        );

    /// <summary>Two owners who step down at the same moment must not both count on the other: each renews the role's stamp, and the later one looks again.</summary>
    private static async Task OneAtATimeAsync(CommandScope scope)
    {
        var owner = await scope.Db.Roles.SingleAsync(r => r.Name == nameof(Role.Owner), scope.Cancellation);
        owner.ConcurrencyStamp = Guid.CreateVersion7(scope.Now).ToString("N");
    }

    private static Task<bool> HasOtherOwnerAsync(CommandScope scope, PersonId id) =>
        scope
            .Db.UserRoles.Join(scope.Db.Roles, r => r.RoleId, r => r.Id, (r, role) => new { r.UserId, role.Name })
            .Where(r => r.Name == nameof(Role.Owner) && r.UserId != id.Value)
            .Join(scope.Db.Users.Where(u => u.IsActive), r => r.UserId, u => u.Id, (_, u) => u.Id)
            .AnyAsync(scope.Cancellation);
}
