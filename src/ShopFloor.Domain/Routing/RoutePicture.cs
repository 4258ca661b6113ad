using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Routing;

/// <summary>A picture that instructions of routes show. It is never changed: an edition that names it, and each job built by that edition, shows it for as long as they are kept.</summary>
public sealed class RoutePicture
{
    private RoutePicture() { }

    public RoutePictureId Id { get; private set; }

    /// <summary>SHA-256 of the file as it was sent, before its metadata was dropped.</summary>
    public string OriginalHash { get; private set; } = "";
    public string StoredHash { get; private set; } = "";
    public string ThumbnailHash { get; private set; } = "";
    public int Width { get; private set; }
    public int Height { get; private set; }
    public DateTimeOffset AddedAt { get; private set; }

    /// <summary>Null where a key or the program itself added it.</summary>
    public PersonId? AddedBy { get; private set; }

    public static RoutePicture Add(
        RoutePictureId id,
        string originalHash,
        string storedHash,
        string thumbnailHash,
        int width,
        int height,
        DateTimeOffset at,
        PersonId? by
    ) =>
        new()
        {
            Id = id,
            OriginalHash = originalHash,
            StoredHash = storedHash,
            ThumbnailHash = thumbnailHash,
            Width = width,
            Height = height,
            AddedAt = at,
            AddedBy = by,
        };
}

/// <summary>One picture in an operation's instruction.</summary>
public sealed record InstructionPicture
{
    /// <summary>Of a <see cref="RoutePicture"/> of this shop.</summary>
    public required Guid Id { get; init; }

    /// <summary>What is to be seen; read aloud where the picture cannot be seen.</summary>
    public string Caption { get; init; } = "";
}
