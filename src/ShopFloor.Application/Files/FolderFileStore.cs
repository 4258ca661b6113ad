using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Data;
using ShopFloor.Data.Files;

namespace ShopFloor.Application.Files;

/// <summary>Keeps files in a folder beside the SQLite database.</summary>
public sealed class FolderFileStore(ShopDatabase database, IDbContextFactory<ShopDbContext> contexts) : IFileStore
{
    private readonly string folder = Path.Combine(database.DataFolder, "files");

    public async Task<string> StoreAsync(CommandScope scope, ReadOnlyMemory<byte> content, string contentType)
    {
        var hash = FileHash.Of(content.Span);
        var path = PathOf(hash);
        if (!File.Exists(path))
        {
            await WriteAsync(path, content, scope.NewId<Domain.Common.PhotoId>().Value, scope.Cancellation);
        }

        if (!await scope.Db.StoredFiles.AnyAsync(f => f.Hash == hash, scope.Cancellation))
        {
            scope.Db.Add(StoredFiles.Row(hash, content, contentType, scope.Now));
            await scope.Db.SaveChangesAsync(scope.Cancellation);
        }

        return hash;
    }

    public async Task<StoredFile?> ReadAsync(string hash, CancellationToken ct)
    {
        if (!FileHash.IsHash(hash))
        {
            return null;
        }

        await using var db = await contexts.CreateDbContextAsync(ct);
        var row = await db.StoredFiles.AsNoTracking().SingleOrDefaultAsync(f => f.Hash == hash, ct);
        return row is null || !File.Exists(PathOf(hash))
            ? null
            : new StoredFile(row.ContentType, FileHash.Checked(await File.ReadAllBytesAsync(PathOf(hash), ct), hash));
    }

    public async Task DeleteAsync(string hash, CancellationToken ct)
    {
        if (FileHash.IsHash(hash))
        {
            await using var db = await contexts.CreateDbContextAsync(ct);
            await db.StoredFiles.Where(f => f.Hash == hash).ExecuteDeleteAsync(ct);
            File.Delete(PathOf(hash));
        }
    }

    /// <summary>Written beside and moved, so that a file under its hash is always whole.</summary>
    private static async Task WriteAsync(string path, ReadOnlyMemory<byte> content, Guid unique, CancellationToken ct)
    {
        Directory.CreateDirectory(Path.GetDirectoryName(path)!);
        var part = $"{path}.{unique:N}.part";
        await using (var stream = new FileStream(part, FileMode.CreateNew, FileAccess.Write))
        {
            await stream.WriteAsync(content, ct);
            stream.Flush(flushToDisk: true);
        }

        File.Move(part, path, overwrite: true);
    }

    private string PathOf(string hash) => Path.Combine(folder, hash[..2], hash);
}
