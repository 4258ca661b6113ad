using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Devices;

/// <summary>A tablet of the shop on which people change by PIN.</summary>
public sealed class ShopDevice : IVersioned
{
    private ShopDevice() { }

    public DeviceId Id { get; private set; }
    public long Version { get; private set; }

    /// <summary>As the history shows it, e.g. "Tablet bay 2".</summary>
    public string Name { get; private set; } = "";

    /// <summary>SHA-256 of the secret that the device keeps, 64 lower-case hex digits.</summary>
    public string SecretHash { get; private set; } = "";
    public DateTimeOffset EnrolledAt { get; private set; }

    /// <summary>Who made the code.</summary>
    public PersonId? EnrolledBy { get; private set; }
    public DateTimeOffset? RevokedAt { get; private set; }
    public PersonId? RevokedBy { get; private set; }

    public static ShopDevice Enrol(DeviceId id, string name, string secretHash, PersonId? by, DateTimeOffset now) =>
        new()
        {
            Id = id,
            Name = name,
            SecretHash = secretHash,
            EnrolledBy = by,
            EnrolledAt = now,
        };

    /// <summary>Nobody signs in on it any more, and who is signed in is signed out.</summary>
    public void Revoke(PersonId? by, DateTimeOffset now)
    {
        RevokedAt ??= now;
        RevokedBy ??= by;
    }
}

/// <summary>A code with which one tablet is enrolled once.</summary>
public sealed class EnrolmentCode : IVersioned
{
    /// <summary>Long enough to walk to the tablet.</summary>
    public static readonly TimeSpan Life = TimeSpan.FromMinutes(15);

    private EnrolmentCode() { }

    public EnrolmentCode(EnrolmentCodeId id, string hash, PersonId? by, DateTimeOffset now)
    {
        Id = id;
        Hash = hash;
        MadeBy = by;
        ExpiresAt = now + Life;
    }

    public EnrolmentCodeId Id { get; private set; }
    public long Version { get; private set; }

    /// <summary>SHA-256 of the code, 64 lower-case hex digits.</summary>
    public string Hash { get; private set; } = "";
    public PersonId? MadeBy { get; private set; }
    public DateTimeOffset ExpiresAt { get; private set; }
    public DateTimeOffset? UsedAt { get; private set; }

    public bool IsGood(DateTimeOffset now) => UsedAt is null && now < ExpiresAt;

    public void Use(DateTimeOffset now) => UsedAt = now;
}

/// <summary>A person's PIN, as a hash. Its length and what is too easy: own choice, no source.</summary>
public sealed class PersonPin : IVersioned
{
    public const int Shortest = 4;
    public const int Longest = 8;

    private PersonPin() { }

    public PersonPin(PersonId person) => Person = person;

    public PersonId Person { get; private set; }
    public long Version { get; private set; }

    /// <summary>By the program's password hasher; null where the PIN was taken away.</summary>
    public string? Hash { get; private set; }
    public DateTimeOffset SetAt { get; private set; }

    public void Set(string hash, DateTimeOffset now) => (Hash, SetAt) = (hash, now);

    public void Clear(DateTimeOffset now) => (Hash, SetAt) = (null, now);

    /// <summary>Why a PIN cannot be taken; null where it can.</summary>
    public static string? Problem(string? pin) =>
        pin is not { Length: >= Shortest and <= Longest } || !pin.All(char.IsAsciiDigit)
            ? $"A PIN has {Shortest} to {Longest} digits."
        : pin.Distinct().Count() == 1 || IsRun(pin, 1) || IsRun(pin, -1)
            ? "That PIN is guessed first: not all the same digit, and no run such as 1234."
        : null;

    private static bool IsRun(string pin, int step) =>
        pin.Zip(pin.Skip(1)).All(pair => pair.Second - pair.First == step);
}
