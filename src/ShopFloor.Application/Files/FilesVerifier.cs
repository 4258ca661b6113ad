using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.History;
using ShopFloor.Data;

namespace ShopFloor.Application.Files;

/// <summary>Every stored file has the content its hash says, and everything that names a file has it.</summary>
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

        var have = known.ToHashSet(StringComparer.Ordinal);
        differences.AddRange((await FileUses.AllAsync(db, ct)).Where(u => !have.Contains(u.Hash)).Select(u => u.Lost));
        return differences;
    }
}
