using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Files;

/// <summary>The one list of what refers to stored files by their hash: content that anything here names is never deleted, and is missed when it is gone.</summary>
internal static class FileUses
{
    /// <summary>Every use, with the sentence for one that has lost its content.</summary>
    public static async Task<IReadOnlyList<(string Hash, string Lost)>> AllAsync(ShopDbContext db, CancellationToken ct)
    {
        List<(string, string)> uses = [];
        foreach (
            var photo in await db.Set<Photo>()
                .AsNoTracking()
                .Where(p => p.RemovedAt == null)
                .Select(p => new
                {
                    p.Id,
                    p.StoredHash,
                    p.ThumbnailHash,
                })
                .ToListAsync(ct)
        )
        {
            uses.Add((photo.StoredHash, $"Photo {photo.Id} has lost its picture."));
            uses.Add((photo.ThumbnailHash, $"Photo {photo.Id} has lost its thumbnail."));
        }

        foreach (
            var picture in await db.Set<RoutePicture>()
                .AsNoTracking()
                .Select(p => new
                {
                    p.Id,
                    p.StoredHash,
                    p.ThumbnailHash,
                })
                .ToListAsync(ct)
        )
        {
            uses.Add((picture.StoredHash, $"Picture {picture.Id} of a route has lost its picture."));
            uses.Add((picture.ThumbnailHash, $"Picture {picture.Id} of a route has lost its thumbnail."));
        }

        uses.AddRange(
            (
                await db.Set<JobCost>()
                    .AsNoTracking()
                    .Where(c => c.PaperHash != null)
                    .Select(c => new { c.Id, c.PaperHash })
                    .ToListAsync(ct)
            ).Select(c => (c.PaperHash!, $"Cost {c.Id} has lost its bill."))
        );
        foreach (var material in await db.Set<JobMaterial>().AsNoTracking().ToListAsync(ct))
        {
            uses.AddRange(
                material
                    .Entries.Select(e => e.Certificate?.StoredSha256)
                    .OfType<string>()
                    .Distinct(StringComparer.Ordinal)
                    .Select(h => (h, $"Material {material.Id} has lost its certificate."))
            );
        }

        uses.AddRange(
            (
                await db.Shops.AsNoTracking().Where(s => s.LogoHash != null).Select(s => s.LogoHash!).ToListAsync(ct)
            ).Select(h => (h, "The shop has lost its logo."))
        );
        return uses;
    }
}
