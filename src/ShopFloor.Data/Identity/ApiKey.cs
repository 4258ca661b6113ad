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
    public DateTimeOffset? RevokedAt { get; set; }
}
