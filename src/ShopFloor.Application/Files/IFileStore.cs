using ShopFloor.Application.Common;

namespace ShopFloor.Application.Files;

/// <summary>A file's content and the content type it was stored with, which is the only one it is ever served with.</summary>
public sealed record StoredFile(string ContentType, byte[] Bytes);

/// <summary>Files by the SHA-256 of their content, outside the web root. The same content is kept once.</summary>
public interface IFileStore
{
    /// <summary>Keeps a file with the command's transaction: after a rollback nothing refers to it.</summary>
    /// <returns>Its hash, 64 lower-case hex digits.</returns>
    Task<string> StoreAsync(CommandScope scope, ReadOnlyMemory<byte> content, string contentType);

    /// <summary>The file, checked against its hash; null where there is none.</summary>
    /// <exception cref="InvalidDataException">What is stored is not what was stored once.</exception>
    Task<StoredFile?> ReadAsync(string hash, CancellationToken ct);

    /// <summary>Deletes the content for good; for a person who asked to be forgotten. Unknown hashes are no error.</summary>
    Task DeleteAsync(string hash, CancellationToken ct);
}
