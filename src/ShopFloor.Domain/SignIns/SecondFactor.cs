using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.SignIns;

/// <summary>The authenticator app of a person: a secret that both sides know (RFC 6238). It counts only once a code of the app was shown.</summary>
public sealed class SecondFactor : IVersioned
{
    private SecondFactor() { }

    public SecondFactor(PersonId person) => Person = person;

    public PersonId Person { get; private set; }
    public long Version { get; private set; }

    /// <summary>The secret, encrypted with the program's keys; never the secret itself.</summary>
    public string ProtectedSecret { get; private set; } = "";

    /// <summary>Since when it is asked for; null while it is being set up.</summary>
    public DateTimeOffset? ConfirmedAt { get; private set; }

    /// <summary>The time step of the code that was taken last: no code is taken twice (RFC 6238, 5.2).</summary>
    public long LastStep { get; private set; }

    /// <summary>A new secret, not yet confirmed.</summary>
    public void Begin(string protectedSecret) => (ProtectedSecret, ConfirmedAt, LastStep) = (protectedSecret, null, 0);

    /// <summary>Takes a right code; false where it, or a later one, was taken before.</summary>
    public bool Take(long step)
    {
        if (step <= LastStep)
        {
            return false;
        }

        LastStep = step;
        return true;
    }

    public void Confirm(DateTimeOffset now) => ConfirmedAt ??= now;
}

/// <summary>A code on paper that stands in for the app once.</summary>
public sealed class RecoveryCode : IVersioned
{
    /// <summary>How many are made at a time.</summary>
    public const int Many = 8;

    private RecoveryCode() { }

    public RecoveryCode(RecoveryCodeId id, PersonId person, string hash) => (Id, Person, Hash) = (id, person, hash);

    public RecoveryCodeId Id { get; private set; }
    public long Version { get; private set; }
    public PersonId Person { get; private set; }

    /// <summary>SHA-256, 64 lower-case hex digits; the code has 120 random bits, so that no salt is needed (OWASP ASVS 5.0, 6.5.2, asks for one below 112).</summary>
    public string Hash { get; private set; } = "";
    public DateTimeOffset? UsedAt { get; private set; }

    public void Use(DateTimeOffset now) => UsedAt ??= now;
}
