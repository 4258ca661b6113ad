using System.Text;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Papers;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection.Packs;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Inspection.Packs;

/// <summary>A frozen record in a list.</summary>
/// <param name="Record">SHA-256 of the record's canonical JSON.</param>
/// <param name="Withdrawn">The sign-off was taken back; the record stays.</param>
public sealed record PackView(SignOffId SignOff, DateTimeOffset FrozenAt, string Record, bool Withdrawn);

/// <summary>The frozen records of a job.</summary>
public sealed class ReadPacks(QueryRunner queries) : IUseCase
{
    /// <summary>Newest first.</summary>
    public Task<Outcome<IReadOnlyList<PackView>>> OfJobAsync(JobId job, Actor actor, CancellationToken ct) =>
        queries.RunAsync<IReadOnlyList<PackView>>(
            Permission.SeeFloor,
            actor,
            async db =>
            {
                if (!await db.Set<Job>().AnyAsync(j => j.Id == job, ct))
                {
                    return Failure.Missing("job");
                }

                return await db.Set<InspectionPack>()
                    .Where(p => p.JobId == job)
                    .OrderByDescending(p => p.FrozenAt)
                    .Select(p => new PackView(
                        p.SignOffId,
                        p.FrozenAt,
                        p.RecordHash,
                        db.Set<Domain.Inspection.SignOff>().Any(s => s.Id == p.SignOffId && s.WithdrawnAt != null)
                    ))
                    .ToListAsync(ct);
            },
            ct
        );

    /// <summary>The canonical JSON of one record, byte for byte what its hash was taken of.</summary>
    /// <param name="signOff">Null gives the newest.</param>
    public Task<Outcome<PrintedPaper>> JsonAsync(JobId job, SignOffId? signOff, Actor actor, CancellationToken ct) =>
        queries.RunAsync<PrintedPaper>(
            Permission.SeeFloor,
            actor,
            async db =>
            {
                var number = await db.Set<Job>().Where(j => j.Id == job).Select(j => j.Number).SingleOrDefaultAsync(ct);
                var pack = await FindAsync(db, job, signOff, ct);
                if (number is null || pack is null)
                {
                    return Failure.Missing("record");
                }

                return new PrintedPaper(Encoding.UTF8.GetBytes(pack.Record), $"{number}-{pack.RecordHash[..8]}.json");
            },
            ct
        );

    /// <summary>The pack of a sign-off, or the job's newest.</summary>
    internal static Task<InspectionPack?> FindAsync(
        ShopDbContext db,
        JobId job,
        SignOffId? signOff,
        CancellationToken ct
    ) =>
        db.Set<InspectionPack>()
            .AsNoTracking()
            .Where(p => p.JobId == job && (signOff == null || p.SignOffId == signOff))
            .OrderByDescending(p => p.FrozenAt)
            .FirstOrDefaultAsync(ct);
}
