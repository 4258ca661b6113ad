using System.Buffers.Text;
using System.Security.Cryptography;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Data.Identity;
using ShopFloor.Domain.Common;

namespace ShopFloor.Application.People;

/// <summary>Makes an API key. The key itself is handed back once and never stored.</summary>
public sealed class CreateApiKey(CommandRunner runner) : IUseCase
{
    /// <summary>What a new key is to be.</summary>
    /// <param name="Name">What uses it.</param>
    /// <param name="Role">One of <see cref="RoleNames"/>.</param>
    /// <param name="User">E-mail address of whom it acts as; null for an integration.</param>
    /// <param name="Scopes">Names of permissions that it is limited to, as in the table of permissions; null or empty: all of its role.</param>
    /// <param name="IsReader">It may read only.</param>
    /// <param name="DaysValid">After so many days it ends; null: it serves until it is revoked.</param>
    public sealed record Request(
        string? Name,
        string? Role,
        string? User,
        IReadOnlyList<string>? Scopes = null,
        bool IsReader = false,
        int? DaysValid = null
    );

    /// <summary>Ten years.</summary>
    public const int MostDays = 3652;

    public sealed record Created(ApiKeyId Id, string Key);

    /// <summary>The role's name as written on the command line: <c>owner</c>, <c>front-desk</c>, <c>fabricator</c>, <c>inspector</c>.</summary>
    public static readonly IReadOnlyDictionary<string, Role> RoleNames = new Dictionary<string, Role>(
        StringComparer.Ordinal
    )
    {
        ["owner"] = Role.Owner,
        ["front-desk"] = Role.FrontDesk,
        ["fabricator"] = Role.Fabricator,
        ["inspector"] = Role.Inspector,
    };

    public Task<Outcome<Created>> RunAsync(Request request, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<Created>(
            Permission.KeepAccess,
            // No repeat by key: remembering the answer would store the secret.
            envelope with
            {
                IdempotencyKey = null,
            },
            request,
            async scope =>
            {
                var errors = new FieldErrors();
                var name = TextRules.Required(request.Name, "name", "The key's name", TextRules.Name, errors);
                errors.AddIf(
                    !RoleNames.ContainsKey(request.Role ?? ""),
                    "role",
                    "The role is owner, front-desk, fabricator or inspector."
                );
                errors.AddIf(request.DaysValid is < 1 or > MostDays, "daysValid", "A key serves for 1 to 3652 days.");
                var scopes = (request.Scopes ?? []).Distinct(StringComparer.Ordinal).ToList();
                errors.AddIf(
                    scopes.Count > Enum.GetValues<Permission>().Length
                        || scopes.Exists(s => !Enum.GetNames<Permission>().Contains(s)),
                    "scopes",
                    "Scopes are names of permissions, such as SeeOffice."
                );
                if (
                    RoleNames.TryGetValue(request.Role ?? "", out var held)
                    && scopes.Count > 0
                    && !scopes.Exists(s => Permissions.ByRole[held].Any(p => p.ToString() == s))
                )
                {
                    errors.Add("scopes", "This role has none of these permissions: such a key could do nothing.");
                }

                PersonId? person = null;
                if (!string.IsNullOrWhiteSpace(request.User))
                {
                    var email = request.User.Trim().ToUpperInvariant();
                    var id = await scope
                        .Db.Users.Where(u => u.NormalizedEmail == email && u.IsActive)
                        .Select(u => (Guid?)u.Id)
                        .SingleOrDefaultAsync(scope.Cancellation);
                    person = id is { } found ? new PersonId(found) : null;
                    errors.AddIf(person is null, "user", "Nobody with this e-mail address works here.");
                }

                if (errors.Any)
                {
                    return errors.ToFailure();
                }

                var key = "sf_" + Base64Url.EncodeToString(RandomNumberGenerator.GetBytes(32));
                var row = new ApiKey
                {
                    Id = scope.NewId<ApiKeyId>(),
                    Name = name,
                    Hash = FindApiKey.HashOf(key),
                    Role = RoleNames[request.Role!],
                    Person = person,
                    CreatedAt = scope.Now,
                    Scopes = scopes,
                    IsReader = request.IsReader,
                    EndsAt = request.DaysValid is { } days ? scope.Now.AddDays(days) : null,
                };
                scope.Db.ApiKeys.Add(row);
                scope.Record(
                    new EventDraft(
                        "apiKey.created",
                        "apiKey",
                        row.Id.Value,
                        After: new
                        {
                            role = row.Role,
                            person,
                            row.Scopes,
                            row.IsReader,
                            row.EndsAt,
                        }
                    )
                );
                return new Created(row.Id, key);
            },
            ct
        );
}

/// <summary>Ends a key's life; programs that use it get 401 from then on.</summary>
public sealed class RevokeApiKey(CommandRunner runner) : IUseCase
{
    public Task<Outcome<Done>> RunAsync(ApiKeyId id, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<Done>(
            Permission.KeepAccess,
            envelope,
            new { id },
            async scope =>
            {
                var row = await scope.Db.ApiKeys.SingleOrDefaultAsync(k => k.Id == id, scope.Cancellation);
                if (row is null)
                {
                    return Failure.Missing("key");
                }

                if (row.RevokedAt is null)
                {
                    row.RevokedAt = scope.Now;
                    scope.Record(new EventDraft("apiKey.revoked", "apiKey", id.Value));
                }

                return default(Done);
            },
            ct
        );
}
