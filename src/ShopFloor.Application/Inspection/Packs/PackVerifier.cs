using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Files;
using ShopFloor.Application.History;
using ShopFloor.Application.Materials;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Inspection.Packs;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Inspection.Packs;

/// <summary>Every frozen record has its hash, its photos are the ones it names, and the readings of a car that is signed off are still those that were frozen.</summary>
public sealed class PackVerifier(IFileStore files) : IVerifier
{
    public async Task<IReadOnlyList<string>> VerifyAsync(ShopDbContext db, CancellationToken ct)
    {
        List<string> differences = [];
        var ids = await db.Set<InspectionPack>().OrderBy(p => p.FrozenAt).Select(p => p.SignOffId).ToListAsync(ct);
        var standing = await db.Set<SignOff>()
            .AsNoTracking()
            .Where(s => s.WithdrawnAt == null)
            .Select(s => s.Id)
            .ToListAsync(ct);
        var numbers = await db.Set<Job>().AsNoTracking().ToDictionaryAsync(j => j.Id, j => j.Number, ct);
        foreach (var id in ids)
        {
            // One at a time: all records of the years need not fit into memory.
            var pack = await db.Set<InspectionPack>().AsNoTracking().SingleAsync(p => p.SignOffId == id, ct);
            var found = pack.Audit().ToList();
            if (found.Count == 0)
            {
                var record = pack.Read();
                found.AddRange(await PhotosAsync(db, record, ct));
                found.AddRange(await CertificatesAsync(record, ct));
                if (standing.Contains(pack.SignOffId) && !await IsSameAsync(db, pack.JobId, record, ct))
                {
                    found.Add("the readings stored now are not those that were signed off");
                }

                if (standing.Contains(pack.SignOffId) && !await IsSameTraceAsync(db, pack.JobId, record, ct))
                {
                    found.Add("the materials and welds stored now are not those that were signed off");
                }
            }

            differences.AddRange(
                found.Select(f => $"The inspection pack of {numbers.GetValueOrDefault(pack.JobId)}: {f}.")
            );
        }

        return differences;
    }

    private static async Task<bool> IsSameAsync(ShopDbContext db, JobId job, PackRecord record, CancellationToken ct)
    {
        var inspection = await db.Inspections().AsNoTracking().SingleOrDefaultAsync(i => i.JobId == job, ct);
        return inspection is not null
            && InspectionPack.Write(PackParts.Lines(inspection)) == InspectionPack.Write(record.Lines)
            && InspectionPack.Write(PackParts.Nonconformances(inspection))
                == InspectionPack.Write(record.Nonconformances);
    }

    /// <summary>Records up to schema 2 say nothing of materials.</summary>
    private static async Task<bool> IsSameTraceAsync(
        ShopDbContext db,
        JobId job,
        PackRecord record,
        CancellationToken ct
    )
    {
        if (record.Materials is null)
        {
            return true;
        }

        var trace = await db.TraceAsync(job, ct);
        return InspectionPack.Write(TraceParts.Materials(trace)) == InspectionPack.Write(record.Materials)
            && InspectionPack.Write(TraceParts.Joints(trace)) == InspectionPack.Write(record.Joints)
            && InspectionPack.Write(TraceParts.Accepted(trace)) == InspectionPack.Write(record.Accepted);
    }

    private async Task<IReadOnlyList<string>> CertificatesAsync(PackRecord record, CancellationToken ct)
    {
        List<string> found = [];
        foreach (var material in record.Materials ?? [])
        {
            foreach (
                var hash in material
                    .Entries.Select(e => e.CertificateSha256)
                    .OfType<string>()
                    .Distinct(StringComparer.Ordinal)
            )
            {
                if (!await IsIntactAsync(hash, ct))
                {
                    found.Add($"the certificate of material {material.Number} was changed or is gone");
                }
            }
        }

        return found;
    }

    private async Task<IReadOnlyList<string>> PhotosAsync(ShopDbContext db, PackRecord record, CancellationToken ct)
    {
        List<string> found = [];
        foreach (var wanted in record.Photos)
        {
            var id = PhotoId.From(wanted.Id);
            var photo = await db.Set<Photo>().AsNoTracking().SingleOrDefaultAsync(p => p.Id == id, ct);
            if (photo is null || photo.StoredHash != wanted.StoredSha256 || photo.OriginalHash != wanted.OriginalSha256)
            {
                found.Add($"photo {wanted.Id} is not the one that was frozen");
                continue;
            }

            // A picture may be removed because a person asked for it; its hash still tells it.
            if (photo.RemovedAt is null && !await IsIntactAsync(wanted.StoredSha256, ct))
            {
                found.Add($"the picture of photo {wanted.Id} was changed or is gone");
            }
        }

        return found;
    }

    private async Task<bool> IsIntactAsync(string hash, CancellationToken ct)
    {
        try
        {
            return await files.ReadAsync(hash, ct) is not null;
        }
        catch (InvalidDataException)
        {
            return false;
        }
    }
}
