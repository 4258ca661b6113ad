using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.History;
using ShopFloor.Data;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Application.Files;

/// <summary>Every stored file has the content its hash says, and every photo that was not removed has its files.</summary>
public sealed class FilesVerifier(IFileStore files) : IVerifier
{
    public async Task<IReadOnlyList<string>> VerifyAsync(ShopDbContext db, CancellationToken ct)
    {
        List<string> differences = [];
        var known = await db.StoredFiles.AsNoTracking().Select(f => f.Hash).ToListAsync(ct);
        foreach (var hash in known)
        {
            try
            {
                if (await files.ReadAsync(hash, ct) is null)
                {
                    differences.Add($"The content of file {hash} is gone.");
                }
            }
            catch (InvalidDataException exception)
            {
                differences.Add(exception.Message);
            }
        }

        var wanted = await db.Set<Photo>()
            .AsNoTracking()
            .Where(p => p.RemovedAt == null)
            .Select(p => new
            {
                p.Id,
                p.StoredHash,
                p.ThumbnailHash,
            })
            .ToListAsync(ct);
        var have = known.ToHashSet(StringComparer.Ordinal);
        differences.AddRange(
            wanted
                .Where(p => !have.Contains(p.StoredHash) || !have.Contains(p.ThumbnailHash))
                .Select(p => $"Photo {p.Id} has lost its picture.")
        );
        var bills = await db.Set<JobCost>()
            .AsNoTracking()
            .Where(c => c.PaperHash != null)
            .Select(c => new { c.Id, c.PaperHash })
            .ToListAsync(ct);
        differences.AddRange(
            bills.Where(b => !have.Contains(b.PaperHash!)).Select(b => $"Cost {b.Id} has lost its bill.")
        );
        return differences;
    }
}
