using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Data;
using ShopFloor.Data.Files;

namespace ShopFloor.Application.Files;

/// <summary>Keeps files in chunks in the database, so that several servers need nothing else in common.</summary>
public sealed class DatabaseFileStore(IDbContextFactory<ShopDbContext> contexts) : IFileStore
{
    public async Task<string> StoreAsync(CommandScope scope, ReadOnlyMemory<byte> content, string contentType)
    {
        var hash = FileHash.Of(content.Span);
        if (await scope.Db.StoredFiles.AnyAsync(f => f.Hash == hash, scope.Cancellation))
        {
            return hash;
        }

        scope.Db.Add(StoredFiles.Row(hash, content, contentType, scope.Now));
        List<FileChunkRow> chunks = [];
        for (var at = 0; at < content.Length; at += FileChunkRow.Size)
        {
            var bytes = content.Slice(at, Math.Min(FileChunkRow.Size, content.Length - at)).ToArray();
            chunks.Add(
                new FileChunkRow
                {
                    Hash = hash,
                    Index = chunks.Count,
                    Bytes = bytes,
                }
            );
        }

        scope.Db.AddRange(chunks);
        await scope.Db.SaveChangesAsync(scope.Cancellation);
        chunks.ForEach(c => scope.Db.Entry(c).State = EntityState.Detached);
        return hash;
    }

    public async Task<StoredFile?> ReadAsync(string hash, CancellationToken ct)
    {
        await using var db = await contexts.CreateDbContextAsync(ct);
        var row = await db.StoredFiles.AsNoTracking().SingleOrDefaultAsync(f => f.Hash == hash, ct);
        if (row is null)
        {
            return null;
        }

        using var content = new MemoryStream((int)row.Length);
        var chunks = db.Set<FileChunkRow>().AsNoTracking().Where(c => c.Hash == hash).OrderBy(c => c.Index);
        await foreach (var chunk in chunks.AsAsyncEnumerable().WithCancellation(ct))
        {
            await content.WriteAsync(chunk.Bytes, ct);
        }

        return new StoredFile(row.ContentType, FileHash.Checked(content.ToArray(), hash));
    }

    public async Task DeleteAsync(string hash, CancellationToken ct)
    {
        await using var db = await contexts.CreateDbContextAsync(ct);
        await using var transaction = await db.Database.BeginTransactionAsync(ct);
        await db.Set<FileChunkRow>().Where(c => c.Hash == hash).ExecuteDeleteAsync(ct);
        await db.StoredFiles.Where(f => f.Hash == hash).ExecuteDeleteAsync(ct);
        await transaction.CommitAsync(ct);
    }
}

internal static class StoredFiles
{
    public static StoredFileRow Row(string hash, ReadOnlyMemory<byte> content, string contentType, DateTimeOffset at) =>
        new()
        {
            Hash = hash,
            ContentType = contentType,
            Length = content.Length,
            StoredAt = at,
        };
}
