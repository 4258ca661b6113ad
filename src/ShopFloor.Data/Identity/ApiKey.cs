using ShopFloor.Domain.Common;

namespace ShopFloor.Data.Identity;

/// <summary>A key for programs. Only the SHA-256 of the key is kept; the key itself is shown once.</summary>
public sealed class ApiKey
{
    public ApiKeyId Id { get; init; }
    public required string Name { get; init; }

    /// <summary>64 lower-case hex digits.</summary>
    public required string Hash { get; init; }
    public Role Role { get; init; }

    /// <summary>The person the key acts as; null for an integration.</summary>
    public PersonId? Person { get; init; }
    public DateTimeOffset CreatedAt { get; init; }

    /// <summary>Names of the permissions it is limited to, within those of its role; empty: all of them.</summary>
    public IReadOnlyList<string> Scopes { get; init; } = [];

    /// <summary>It may read only.</summary>
    public bool IsReader { get; init; }

    /// <summary>From when it serves no more; null: until it is revoked.</summary>
    public DateTimeOffset? EndsAt { get; init; }

    /// <summary>When it was last used, to the nearest ten minutes; null: never.</summary>
    public DateTimeOffset? LastUsedAt { get; set; }
    public DateTimeOffset? RevokedAt { get; set; }
}
