using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Devices;

/// <summary>How many wrong tries are allowed before a pause, and how long the first pause is. Own choice, no source.</summary>
/// <param name="Tries">Wrong tries in a row.</param>
/// <param name="FirstPause">Doubled with each further pause, up to the longest.</param>
/// <param name="LongestPause">No pause is longer.</param>
/// <param name="Window">Wrong tries older than this are forgotten with the next one; null keeps them until a right try.</param>
public sealed record AttemptRule(int Tries, TimeSpan FirstPause, TimeSpan LongestPause, TimeSpan? Window = null)
{
    private AttemptRule(int tries, TimeSpan firstPause)
        : this(tries, firstPause, TimeSpan.FromDays(1)) { }

    public static AttemptRule OfPerson { get; } = new(5, TimeSpan.FromMinutes(5));
    public static AttemptRule OfDevice { get; } = new(15, TimeSpan.FromMinutes(5));

    /// <summary>Codes for new tablets, tried from one address.</summary>
    public static AttemptRule OfAddress { get; } = new(10, TimeSpan.FromMinutes(15));

    /// <summary>
    /// The same from all addresses together. One address alone cannot reach it, because its own pause comes first. A thousand guesses at 40 bits in a quarter of an hour
    /// find a code once in a billion times; the pause does not grow, so that many strangers together cannot keep the shop out for long.
    /// </summary>
    public static AttemptRule OfAllAddresses { get; } = new(1000, TimeSpan.FromMinutes(15), TimeSpan.FromMinutes(15));

    /// <summary>Customers' links that open nothing, tried from one network within an hour. Several customers may share a network, and an old link is opened again and again by whoever kept it.</summary>
    public static AttemptRule OfLinksFrom { get; } =
        new(60, TimeSpan.FromMinutes(15), TimeSpan.FromHours(2), TimeSpan.FromHours(1));

    /// <summary>The same from all networks together: then wrong links are answered without being written down, so that strangers can neither fill the database nor shut the customers out.</summary>
    public static AttemptRule OfAllLinks { get; } =
        new(1000, TimeSpan.FromMinutes(15), TimeSpan.FromMinutes(15), TimeSpan.FromHours(1));

    /// <summary>Passwords and codes that were wrong, from one network within an hour. A whole shop shares a network; each account is locked after eight.</summary>
    public static AttemptRule OfSignInsFrom { get; } =
        new(40, TimeSpan.FromMinutes(15), TimeSpan.FromHours(2), TimeSpan.FromHours(1));

    /// <summary>The same from all networks together: then only networks are let in that somebody of the shop has used.</summary>
    public static AttemptRule OfAllSignIns { get; } =
        new(500, TimeSpan.FromMinutes(15), TimeSpan.FromMinutes(15), TimeSpan.FromHours(1));
}

/// <summary>Wrong tries at one secret, counted in the database so that all servers count together.</summary>
public sealed class AttemptLimit : IVersioned
{
    public const int LongestKey = 64;

    /// <summary>All tries at enrolment codes together: a code belongs to nobody until it is used.</summary>
    public const string Codes = "codes";

    /// <summary>What the keys of single addresses begin with.</summary>
    public const string CodesFrom = "codes:";

    /// <summary>All tries at customers' links together.</summary>
    public const string Links = "links";

    /// <summary>What the keys of single networks begin with, for links.</summary>
    public const string LinksFrom = "links:";

    /// <summary>All wrong sign-ins together.</summary>
    public const string SignIns = "signins";

    /// <summary>What the keys of single networks begin with, for sign-ins.</summary>
    public const string SignInsFrom = "signins:";

    private AttemptLimit() { }

    public AttemptLimit(string key) => Key = key;

    /// <summary>What is tried: <c>person:…</c>, <c>device:…</c>, <see cref="Codes"/> or <c>codes:…</c>.</summary>
    public string Key { get; private set; } = "";
    public long Version { get; private set; }

    /// <summary>Wrong tries since the last right one or the last pause.</summary>
    public int Failed { get; private set; }

    /// <summary>Pauses since the last right try.</summary>
    public int Pauses { get; private set; }

    /// <summary>Null or past: tries are taken.</summary>
    public DateTimeOffset? PausedUntil { get; private set; }

    /// <summary>When the tries that are counted now began; null before the first one that is counted by time.</summary>
    public DateTimeOffset? CountedFrom { get; private set; }

    public static string OfPerson(PersonId person) => $"person:{person}";

    public static string OfDevice(DeviceId device) => $"device:{device}";

    /// <param name="network">A name of the network that is tried from, at most 58 characters; no address in the clear.</param>
    public static string OfCodesFrom(string network) => CodesFrom + network;

    /// <param name="network">As for codes.</param>
    public static string OfLinksFrom(string network) => LinksFrom + network;

    /// <param name="network">As for codes.</param>
    public static string OfSignInsFrom(string network) => SignInsFrom + network;

    public bool IsPaused(DateTimeOffset now) => PausedUntil > now;

    public void Fail(AttemptRule rule, DateTimeOffset now)
    {
        if (rule.Window is { } window && !(now - CountedFrom < window))
        {
            // Whoever was quiet for a whole window after a pause begins with the first pause again.
            Pauses = PausedUntil + window > now ? Pauses : 0;
            (Failed, CountedFrom) = (0, now);
        }

        Failed++;
        if (Failed < rule.Tries)
        {
            return;
        }

        var pause = rule.FirstPause * Math.Pow(2, Math.Min(Pauses, 20));
        PausedUntil = now + (pause < rule.LongestPause ? pause : rule.LongestPause);
        Failed = 0;
        Pauses++;
    }

    /// <summary>A right try, or the owner's word, begins anew.</summary>
    public void Reset() => (Failed, Pauses, PausedUntil) = (0, 0, null);
}
