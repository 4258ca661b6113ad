using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.SignIns;

/// <summary>By what a person showed who they are.</summary>
public enum SignInWay
{
    Password,

    /// <summary>Password and a code of an authenticator app.</summary>
    PasswordAndCode,

    /// <summary>Password and one of the codes kept on paper.</summary>
    PasswordAndRecoveryCode,
    Passkey,

    /// <summary>PIN at one of the shop's tablets.</summary>
    Pin,
}

/// <summary>One browser in which a person is signed in. Its cookie holds the id; ending it here ends it there with the next request.</summary>
public sealed class SignInSession : IVersioned
{
    public const int LongestBrowser = 80;
    public const int LongestNetwork = 32;

    /// <summary>Who did nothing for so long signs in again. Own choice; OWASP ASVS 5.0, 7.3.1, asks that there is such a limit.</summary>
    public static readonly TimeSpan LongestQuiet = TimeSpan.FromDays(14);

    /// <summary>Nobody stays signed in for longer, however busy. Own choice; OWASP ASVS 5.0, 7.3.2, asks that there is such a limit.</summary>
    public static readonly TimeSpan Longest = TimeSpan.FromDays(60);

    /// <summary>At a tablet: a long shift; the next one begins with a PIN.</summary>
    public static readonly TimeSpan LongestByPin = TimeSpan.FromHours(12);

    /// <summary>How exactly it is known when a session was last used: noted no more often, so that reading a page does not write.</summary>
    public static readonly TimeSpan SeenEvery = TimeSpan.FromMinutes(15);

    private SignInSession() { }

    public SessionId Id { get; private set; }
    public long Version { get; private set; }
    public PersonId Person { get; private set; }
    public SignInWay Way { get; private set; }

    /// <summary>Browser and system in a few words, as the browser says.</summary>
    public string Browser { get; private set; } = "";

    /// <summary>A hash of the network it began from, to recognise a network from which people of the shop sign in; no address.</summary>
    public string Network { get; private set; } = "";
    public DateTimeOffset BegunAt { get; private set; }
    public DateTimeOffset SeenAt { get; private set; }
    public DateTimeOffset? EndedAt { get; private set; }

    public static SignInSession Begin(
        SessionId id,
        PersonId person,
        SignInWay way,
        string browser,
        string network,
        DateTimeOffset now
    ) =>
        new()
        {
            Id = id,
            Person = person,
            Way = way,
            Browser = browser,
            Network = network,
            BegunAt = now,
            SeenAt = now,
        };

    /// <summary>Whether who holds its cookie is still signed in.</summary>
    public bool Holds(DateTimeOffset now) =>
        EndedAt is null
        && now - SeenAt < LongestQuiet
        && now - BegunAt < (Way == SignInWay.Pin ? LongestByPin : Longest);

    /// <summary>Whether its use is worth noting again.</summary>
    public bool IsSeenLongAgo(DateTimeOffset now) => now - SeenAt >= SeenEvery;

    public void See(DateTimeOffset now) => SeenAt = now > SeenAt ? now : SeenAt;

    public void End(DateTimeOffset now) => EndedAt ??= now;
}
