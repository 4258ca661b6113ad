using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Files;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Application.Intake.Photos;

/// <summary>The bytes behind the photos.</summary>
public sealed class PhotoContent(QueryRunner runner, IFileStore files, IDbContextFactory<ShopDbContext> contexts)
    : IUseCase
{
    /// <summary>The picture, or its thumbnail.</summary>
    public async Task<Outcome<StoredFile>> ReadAsync(PhotoId id, bool thumbnail, Actor actor, CancellationToken ct)
    {
        var found = await runner.RunAsync<string>(
            Permission.SeeFloor,
            actor,
            async db =>
            {
                var photo = await db.Set<Photo>().SingleOrDefaultAsync(p => p.Id == id && p.RemovedAt == null, ct);
                return photo is null ? Failure.Missing("photo")
                    : thumbnail ? photo.ThumbnailHash
                    : photo.StoredHash;
            },
            ct
        );
        if (!found.TryGet(out var hash, out var failure))
        {
            return failure;
        }

        return await files.ReadAsync(hash, ct) is { } file ? file : Failure.Missing("photo");
    }

    /// <summary>Deletes the content of removed photos that nothing else shows. Safe to repeat.</summary>
    public async Task DeleteUnusedAsync(IReadOnlyCollection<PhotoId> removed, CancellationToken ct)
    {
        await using var db = await contexts.CreateDbContextAsync(ct);
        var used = (await FileUses.AllAsync(db, ct)).Select(u => u.Hash).ToHashSet(StringComparer.Ordinal);
        foreach (var id in removed)
        {
            var photo = await db.Set<Photo>().AsNoTracking().SingleAsync(p => p.Id == id, ct);
            foreach (var hash in new[] { photo.StoredHash, photo.ThumbnailHash }.Where(h => !used.Contains(h)))
            {
                await files.DeleteAsync(hash, ct);
            }
        }
    }
}
