using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Intake;

/// <summary>A short-lived link by which a phone without an account adds photos to one job, and nothing else. Only the hash of its token is kept.</summary>
public sealed class UploadLink : IVersioned
{
    /// <summary>Random bytes in a token.</summary>
    public const int TokenBytes = 32;

    /// <summary>Photos one link takes.</summary>
    public const int MostPhotos = 100;

    /// <summary>How long a link works.</summary>
    public static readonly TimeSpan Lifetime = TimeSpan.FromHours(4);

    private UploadLink() { }

    public UploadLinkId Id { get; private set; }

    public JobId JobId { get; private set; }

    public PhotoKind Kind { get; private set; }

    /// <summary>SHA-256 of the token's text, 64 lower-case hex digits.</summary>
    public string TokenHash { get; private set; } = "";

    public DateTimeOffset CreatedAt { get; private set; }

    public DateTimeOffset ExpiresAt { get; private set; }

    public DateTimeOffset? RevokedAt { get; private set; }

    public int PhotosTaken { get; private set; }

    public long Version { get; private set; }

    public static UploadLink Create(
        UploadLinkId id,
        JobId jobId,
        PhotoKind kind,
        string tokenHash,
        DateTimeOffset at
    ) =>
        new()
        {
            Id = id,
            JobId = jobId,
            Kind = kind,
            TokenHash = tokenHash,
            CreatedAt = at,
            ExpiresAt = at + Lifetime,
        };

    /// <summary>Revoked, expired and unknown links are told apart by nobody outside.</summary>
    public bool IsOpen(DateTimeOffset now) => RevokedAt is null && now < ExpiresAt;

    /// <summary>Counts a photo; refused when the link is shut or full.</summary>
    public Outcome<Done> TakePhoto(DateTimeOffset now)
    {
        if (!IsOpen(now))
        {
            return Failure.Missing("page");
        }

        if (PhotosTaken >= MostPhotos)
        {
            return Failure.Because(
                "linkFull",
                $"This link has taken {MostPhotos} photos. Ask the front desk for a new code."
            );
        }

        PhotosTaken++;
        return Outcome.Ok;
    }

    /// <summary>Shuts the link; shutting it twice changes nothing.</summary>
    public void Revoke(DateTimeOffset at) => RevokedAt ??= at;
}
