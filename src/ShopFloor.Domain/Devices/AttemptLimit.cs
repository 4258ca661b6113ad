using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Devices;

/// <summary>How many wrong tries are allowed before a pause, and how long the first pause is. Own choice, no source.</summary>
/// <param name="Tries">Wrong tries in a row.</param>
/// <param name="FirstPause">Doubled with each further pause, up to <see cref="AttemptLimit.LongestPause"/>.</param>
public sealed record AttemptRule(int Tries, TimeSpan FirstPause)
{
    public static AttemptRule OfPerson { get; } = new(5, TimeSpan.FromMinutes(5));
    public static AttemptRule OfDevice { get; } = new(15, TimeSpan.FromMinutes(5));
    public static AttemptRule OfCodes { get; } = new(10, TimeSpan.FromMinutes(15));
}

/// <summary>Wrong tries at one secret, counted in the database so that all servers count together.</summary>
public sealed class AttemptLimit : IVersioned
{
    public const int LongestKey = 64;
    public static readonly TimeSpan LongestPause = TimeSpan.FromDays(1);

    /// <summary>All tries at enrolment codes together: a code belongs to nobody until it is used.</summary>
    public const string Codes = "codes";

    private AttemptLimit() { }

    public AttemptLimit(string key) => Key = key;

    /// <summary>What is tried: <c>person:…</c>, <c>device:…</c> or <see cref="Codes"/>.</summary>
    public string Key { get; private set; } = "";
    public long Version { get; private set; }

    /// <summary>Wrong tries since the last right one or the last pause.</summary>
    public int Failed { get; private set; }

    /// <summary>Pauses since the last right try.</summary>
    public int Pauses { get; private set; }

    /// <summary>Null or past: tries are taken.</summary>
    public DateTimeOffset? PausedUntil { get; private set; }

    public static string OfPerson(PersonId person) => $"person:{person}";

    public static string OfDevice(DeviceId device) => $"device:{device}";

    public bool IsPaused(DateTimeOffset now) => PausedUntil > now;

    public void Fail(AttemptRule rule, DateTimeOffset now)
    {
        Failed++;
        if (Failed < rule.Tries)
        {
            return;
        }

        var pause = rule.FirstPause * Math.Pow(2, Math.Min(Pauses, 20));
        PausedUntil = now + (pause < LongestPause ? pause : LongestPause);
        Failed = 0;
        Pauses++;
    }

    /// <summary>A right try, or the owner's word, begins anew.</summary>
    public void Reset() => (Failed, Pauses, PausedUntil) = (0, 0, null);
}
