using ShopFloor.Domain.Common;
using ShopFloor.Domain.Progress;

namespace ShopFloor.Domain.Planning;

/// <summary>What a calendar that others subscribe to shows.</summary>
public enum FeedKind
{
    /// <summary>What one person is planned to do.</summary>
    Person,

    /// <summary>What is planned in one place.</summary>
    Place,

    /// <summary>Drop-offs and promised days.</summary>
    Appointments,
}

/// <summary>A secret address under which a calendar program finds a calendar, until it is revoked. The shop keeps only the hash of the secret.</summary>
public sealed class CalendarFeed : IVersioned
{
    /// <summary>Most that are in use at once.</summary>
    public const int MostInUse = 100;

    private CalendarFeed() { }

    public CalendarFeedId Id { get; private set; }
    public long Version { get; private set; }
    public FeedKind Kind { get; private set; }

    /// <summary>Whose, for <see cref="FeedKind.Person"/>.</summary>
    public PersonId? Person { get; private set; }

    /// <summary>Code of the place, for <see cref="FeedKind.Place"/>.</summary>
    public string? Place { get; private set; }

    /// <summary>SHA-256 of the secret; see <see cref="ProgressToken"/>.</summary>
    public string TokenHash { get; private set; } = "";
    public DateTimeOffset CreatedAt { get; private set; }
    public DateTimeOffset? RevokedAt { get; private set; }

    /// <summary>Makes a feed and its secret; the secret is handed out once.</summary>
    public static (CalendarFeed Feed, string Token) Create(
        CalendarFeedId id,
        FeedKind kind,
        PersonId? person,
        string? place,
        DateTimeOffset at
    )
    {
        var token = ProgressToken.New();
        var feed = new CalendarFeed
        {
            Id = id,
            Kind = kind,
            Person = kind == FeedKind.Person ? person : null,
            Place = kind == FeedKind.Place ? place : null,
            TokenHash = ProgressToken.Hash(token),
            CreatedAt = at,
        };
        return (feed, token);
    }

    public void Revoke(DateTimeOffset at) => RevokedAt ??= at;
}
