namespace ShopFloor.Domain.Common;

/// <summary>What a person is trusted with; a person may hold several.</summary>
public enum Role
{
    Owner,
    FrontDesk,
    Fabricator,
    Inspector,
}

public enum ActorKind
{
    /// <summary>A person of the shop, signed in or acting through a key of their own.</summary>
    Person,

    /// <summary>A key without a person: it can neither record a passing reading nor sign off.</summary>
    Integration,

    /// <summary>Somebody who holds a secret link (a customer, a phone that adds photos).</summary>
    Link,

    /// <summary>The program itself: set-up, admin commands, the demo loader.</summary>
    System,
}

/// <summary>Who gives a command, and from where.</summary>
/// <param name="Kind">What sort of actor.</param>
/// <param name="Person">The person; null for integrations, links and the system.</param>
/// <param name="Through">Id of the key or link used, if any.</param>
/// <param name="Roles">Roles held at this moment.</param>
/// <param name="Device">What the device calls itself, for the history; at most 64 characters.</param>
public sealed record Actor(ActorKind Kind, PersonId? Person, Guid? Through, IReadOnlySet<Role> Roles, string? Device)
{
    /// <summary>Signed in by PIN on one of the shop's tablets: allowed only what the floor needs, whatever roles the person holds.</summary>
    public bool IsByPin { get; init; }

    /// <summary>Names of the permissions that a key is limited to, within those of its role; null: all of them.</summary>
    public IReadOnlySet<string>? Scopes { get; init; }

    /// <summary>A key that may read only: every command is refused.</summary>
    public bool IsReader { get; init; }

    /// <summary>A key with less than its role: some permissions, reading only, or a day on which it ends.</summary>
    public bool IsLimited { get; init; }

    public static Actor OfPerson(PersonId person, IEnumerable<Role> roles, string? device = null) =>
        new(ActorKind.Person, person, null, roles.ToHashSet(), device);

    public static Actor OfLink(Guid link, string? device = null) =>
        new(ActorKind.Link, null, link, new HashSet<Role>(), device);

    /// <summary>The program itself, which may do all that an owner may.</summary>
    public static Actor System { get; } =
        new(ActorKind.System, null, null, new HashSet<Role>(Enum.GetValues<Role>()), "server");

    public bool Is(Role role) => Roles.Contains(role);
}
