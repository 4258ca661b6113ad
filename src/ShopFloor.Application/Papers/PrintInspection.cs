using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Files;
using ShopFloor.Application.Inspection;
using ShopFloor.Application.Inspection.Packs;
using ShopFloor.Application.Routing;
using ShopFloor.Data;
using ShopFloor.Documents.Papers;
using ShopFloor.Documents.Papers.Models;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Inspection.Packs;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Papers;

/// <summary>Prints what was measured and looked at on a job: the frozen record once it was signed off, how things stand before.</summary>
public sealed class PrintInspection(
    QueryRunner runner,
    PackComposer composer,
    PaperHeads heads,
    IFileStore files,
    IPapers papers,
    TimeProvider clock
) : IUseCase
{
    /// <param name="jobId">The job.</param>
    /// <param name="signOff">Which sign-off's pack; null gives the one that stands, or the open record where none does.</param>
    /// <param name="urlOf">Public address of a record by its hash.</param>
    /// <param name="size">Absent: the shop's usual sheet.</param>
    /// <param name="actor">Who prints.</param>
    /// <param name="ct">Gives up.</param>
    public Task<Outcome<PrintedPaper>> RunAsync(
        JobId jobId,
        SignOffId? signOff,
        Func<string, string> urlOf,
        PaperSize? size,
        Actor actor,
        CancellationToken ct
    ) =>
        runner.RunAsync<PrintedPaper>(
            Permission.SeeFloor,
            actor,
            async db =>
            {
                var job = await db.JobsWhole().SingleOrDefaultAsync(j => j.Id == jobId, ct);
                var inspection = await db.InspectionAsync(jobId, ct);
                if (job is null || inspection is null)
                {
                    return Failure.Missing("job");
                }

                var wanted = signOff ?? inspection.Current?.Id;
                var pack = wanted is null ? null : await ReadPacks.FindAsync(db, jobId, wanted, ct);
                if (signOff is not null && pack is null)
                {
                    return Failure.Missing("record");
                }

                var draft = pack is null
                    ? await composer.ComposeAsync(db, job, inspection, ct)
                    : new PackDraft(pack.Read(), pack.Names());
                var (shop, _, car) = await PaperHeads.ReadAsync(db, job.CustomerId, job.CarId, ct);
                var words = new PackWords(shop.Zone, draft);
                var paper = words.Paper(
                    await heads.LetterheadAsync(shop, ct),
                    job.CustomerId,
                    car?.Registration,
                    await PhotosAsync(db, words, draft.Record, ct),
                    pack is null ? null : words.SignOff(pack, inspection.SignOffs.Single(s => s.Id == pack.SignOffId)),
                    pack is null ? null : new PaperRecord(pack.RecordHash, urlOf(pack.RecordHash))
                );
                return new PrintedPaper(
                    papers.Inspection(paper, PaperHeads.SettingsOf(shop, size, clock.GetUtcNow())),
                    $"{job.Number}-inspection.pdf"
                );
            },
            ct
        );

    /// <summary>Thumbnails are enough on paper; the hashes name the pictures at full size.</summary>
    private async Task<IReadOnlyList<PaperPhoto>> PhotosAsync(
        ShopDbContext db,
        PackWords words,
        PackRecord record,
        CancellationToken ct
    )
    {
        var ids = record.Photos.Select(p => PhotoId.From(p.Id)).ToList();
        var stored = await db.Set<Photo>()
            .Where(p => ids.Contains(p.Id) && p.RemovedAt == null)
            .ToDictionaryAsync(p => p.Id.Value, p => p.ThumbnailHash, ct);
        var photos = new List<PaperPhoto>();
        foreach (var (caption, photo) in words.Photos())
        {
            var file = stored.TryGetValue(photo.Id, out var hash) ? await files.ReadAsync(hash, ct) : null;
            photos.Add(new PaperPhoto(caption, file?.Bytes, photo.StoredSha256));
        }

        return photos;
    }
}
