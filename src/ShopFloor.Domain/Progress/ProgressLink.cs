using System.Buffers.Text;
using System.Security.Cryptography;
using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Progress;

/// <summary>The secret in a customer's link: 32 random bytes as base64url, 43 characters. The shop keeps only its SHA-256.</summary>
public static class ProgressToken
{
    public const int Bytes = 32;
    public const int Characters = 43;

    public static string New() => Base64Url.EncodeToString(RandomNumberGenerator.GetBytes(Bytes));

    /// <summary>SHA-256 of the token's characters, as 64 lower-case hex digits; any text has one, so that a wrong token is looked up like a right one.</summary>
    public static string Hash(string token) => CanonicalJson.Sha256(token);
}

/// <summary>Permission to see one job's progress page without an account, until it expires or is revoked.</summary>
public sealed class ProgressLink : IVersioned
{
    public const int LeastDays = 1;
    public const int MostDays = 365;
    public const int DefaultDays = 90;

    private ProgressLink() { }

    public ProgressLinkId Id { get; private set; }

    public JobId JobId { get; private set; }

    public long Version { get; private set; }

    public string TokenHash { get; private set; } = "";

    public DateTimeOffset CreatedAt { get; private set; }

    public DateTimeOffset ExpiresAt { get; private set; }

    public DateTimeOffset? RevokedAt { get; private set; }

    /// <summary>How often its page was opened, as far as it was written down: openings are counted in memory and written together.</summary>
    public long Opened { get; private set; }

    public DateTimeOffset? LastOpenedAt { get; private set; }

    /// <summary>Makes a link and its token; the token is handed out once and cannot be read back.</summary>
    public static Outcome<(ProgressLink Link, string Token)> Create(JobId job, int? days, DateTimeOffset at)
    {
        if (days is < LeastDays or > MostDays)
        {
            return Failure.Field("validDays", $"A link is valid for {LeastDays} to {MostDays} days, not {days}.");
        }

        var token = ProgressToken.New();
        var link = new ProgressLink
        {
            Id = Ids.New<ProgressLinkId>(at),
            JobId = job,
            TokenHash = ProgressToken.Hash(token),
            CreatedAt = at,
            ExpiresAt = at.AddDays(days ?? DefaultDays),
        };
        return (link, token);
    }

    /// <summary>Whether it opens the page at this instant; at the very instant of expiry it no longer does.</summary>
    public bool IsValidAt(DateTimeOffset at) => RevokedAt is null && at < ExpiresAt;

    /// <summary>Revokes it; revoking again changes nothing.</summary>
    public void Revoke(DateTimeOffset at) => RevokedAt ??= at;
}
