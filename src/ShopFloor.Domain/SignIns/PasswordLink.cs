using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.SignIns;

/// <summary>A link with which its person chooses a password, once: their first one (an invitation) or a new one.</summary>
public sealed class PasswordLink : IVersioned
{
    /// <summary>For somebody who is told by the owner. Own choice.</summary>
    public static readonly TimeSpan Life = TimeSpan.FromDays(3);

    /// <summary>For somebody who stands at the server.</summary>
    public static readonly TimeSpan ShortLife = TimeSpan.FromHours(1);

    private PasswordLink() { }

    public PasswordLink(
        PasswordLinkId id,
        PersonId person,
        string tokenHash,
        PersonId? by,
        DateTimeOffset now,
        TimeSpan life
    ) => (Id, Person, TokenHash, MadeBy, MadeAt, ExpiresAt) = (id, person, tokenHash, by, now, now + life);

    public PasswordLinkId Id { get; private set; }
    public long Version { get; private set; }
    public PersonId Person { get; private set; }

    /// <summary>SHA-256 of 32 random bytes as they stand in the link, 64 lower-case hex digits.</summary>
    public string TokenHash { get; private set; } = "";

    /// <summary>Null where it was made at the server's command line.</summary>
    public PersonId? MadeBy { get; private set; }
    public DateTimeOffset MadeAt { get; private set; }
    public DateTimeOffset ExpiresAt { get; private set; }

    /// <summary>When it was used, or a newer one took its place.</summary>
    public DateTimeOffset? ClosedAt { get; private set; }

    public bool IsOpen(DateTimeOffset now) => ClosedAt is null && now < ExpiresAt;

    public void Close(DateTimeOffset now) => ClosedAt ??= now;
}
