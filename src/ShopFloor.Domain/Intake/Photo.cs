using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Intake;

public enum PhotoKind
{
    WalkRound,
    Operation,
    Reading,
    HandOver,
}

/// <summary>A point on the plan of the car seen from above, nose up: x from the left side (0) to the right (1), y from the nose (0) to the tail (1).</summary>
public sealed record PlanPlace(double X, double Y)
{
    /// <summary>Checks that both lie on the plan.</summary>
    public static Outcome<PlanPlace> At(double x, double y) =>
        x is >= 0 and <= 1 && y is >= 0 and <= 1
            ? new PlanPlace(x, y)
            : Failure.Field("place", "The place on the plan has x and y from 0 to 1.");
}

/// <summary>What is known of a picture file after it was taken in.</summary>
/// <param name="OriginalHash">SHA-256 of the file as it was sent, before its metadata was dropped; 64 lower-case hex digits.</param>
/// <param name="StoredHash">Content address of the re-encoded picture.</param>
/// <param name="ThumbnailHash">Content address of the thumbnail.</param>
/// <param name="Width">Pixels of the stored picture.</param>
/// <param name="Height">Pixels of the stored picture.</param>
/// <param name="TakenAt">Capture time from the original's metadata; null where it had none.</param>
public sealed record PictureFacts(
    string OriginalHash,
    string StoredHash,
    string ThumbnailHash,
    int Width,
    int Height,
    DateTimeOffset? TakenAt
);

/// <summary>A photo of a job. It is never changed, only placed, captioned or removed; its hashes outlive its removal.</summary>
public sealed class Photo : IVersioned
{
    /// <summary>Most photos of one job.</summary>
    public const int MostOfJob = 500;

    private Photo() { }

    public PhotoId Id { get; private set; }

    public JobId JobId { get; private set; }

    public PhotoKind Kind { get; private set; }

    /// <summary>Code of the operation it shows, if any.</summary>
    public string? OperationCode { get; private set; }

    /// <summary>The reading it proves, if any.</summary>
    public ReadingId? ReadingId { get; private set; }

    public double? PlanX { get; private set; }

    public double? PlanY { get; private set; }

    public string? Caption { get; private set; }

    public string OriginalHash { get; private set; } = "";

    public string StoredHash { get; private set; } = "";

    public string ThumbnailHash { get; private set; } = "";

    public int Width { get; private set; }

    public int Height { get; private set; }

    public DateTimeOffset? TakenAt { get; private set; }

    public DateTimeOffset AddedAt { get; private set; }

    /// <summary>When the picture itself was deleted (a person asked for it); the hashes stay.</summary>
    public DateTimeOffset? RemovedAt { get; private set; }

    /// <summary>The shop shows it on the customer's page; off until the shop says so.</summary>
    public bool IsShown { get; private set; }

    public long Version { get; private set; }

    /// <summary>Where it belongs on the plan of the car; null until placed.</summary>
    public PlanPlace? Place => PlanX is { } x && PlanY is { } y ? new PlanPlace(x, y) : null;

    public static Outcome<Photo> Add(
        PhotoId id,
        JobId jobId,
        PhotoKind kind,
        PictureFacts picture,
        DateTimeOffset at,
        string? operationCode = null,
        ReadingId? readingId = null,
        PlanPlace? place = null,
        string? caption = null
    )
    {
        var photo = new Photo
        {
            Id = id,
            JobId = jobId,
            Kind = kind,
            OperationCode = operationCode,
            ReadingId = readingId,
            OriginalHash = picture.OriginalHash,
            StoredHash = picture.StoredHash,
            ThumbnailHash = picture.ThumbnailHash,
            Width = picture.Width,
            Height = picture.Height,
            TakenAt = picture.TakenAt,
            AddedAt = at,
        };
        var described = photo.Describe(place, caption);
        return described.IsSuccess ? photo : described.Failure;
    }

    /// <summary>Places it on the plan (null takes it off) and captions it. Refused after removal.</summary>
    public Outcome<Done> Describe(PlanPlace? place, string? caption)
    {
        if (RemovedAt is not null)
        {
            return Gone();
        }

        var errors = new FieldErrors();
        var clean = TextRules.Optional(caption, "caption", "The caption", TextRules.ShortText, errors);
        if (place is not null)
        {
            errors.Take(PlanPlace.At(place.X, place.Y));
        }

        if (errors.Any)
        {
            return errors.ToFailure();
        }

        PlanX = place?.X;
        PlanY = place?.Y;
        Caption = clean;
        return Outcome.Ok;
    }

    /// <summary>Ties it to the reading it proves.</summary>
    public Outcome<Done> Prove(ReadingId readingId)
    {
        if (RemovedAt is not null)
        {
            return Gone();
        }

        if (ReadingId is { } other && other != readingId)
        {
            return Failure.Because("photoTaken", "This photo already proves another reading. Take a new one.");
        }

        ReadingId = readingId;
        return Outcome.Ok;
    }

    /// <summary>The picture was deleted; what was proved by it can still be told by its hash.</summary>
    public Outcome<Done> Remove(DateTimeOffset at)
    {
        if (RemovedAt is not null)
        {
            return Gone();
        }

        RemovedAt = at;
        Caption = null;
        IsShown = false;
        return Outcome.Ok;
    }

    /// <summary>Shows it on the customer's page, or takes it off there.</summary>
    public Outcome<Done> Show(bool isShown)
    {
        if (RemovedAt is not null)
        {
            return Gone();
        }

        IsShown = isShown;
        return Outcome.Ok;
    }

    /// <summary>Forgets the caption, in which anything may have been written.</summary>
    public void ErasePersonalData() => Caption = null;

    private Failure Gone() => Failure.Because("photoRemoved", $"This photo was removed on {RemovedAt:yyyy-MM-dd}.");
}
