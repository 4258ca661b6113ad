namespace ShopFloor.Data.Files;

/// <summary>A file known by the SHA-256 of its content. Its bytes are in a folder (SQLite) or in chunks (PostgreSQL).</summary>
public sealed class StoredFileRow
{
    public required string Hash { get; init; }
    public required string ContentType { get; init; }
    public long Length { get; init; }
    public DateTimeOffset StoredAt { get; init; }
}

/// <summary>A part of a file kept in the database.</summary>
public sealed class FileChunkRow
{
    public const int Size = 512 * 1024;
    public required string Hash { get; init; }
    public int Index { get; init; }
    public required byte[] Bytes { get; init; }
}
