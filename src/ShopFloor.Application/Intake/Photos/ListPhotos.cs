using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Application.Intake.Photos;

/// <summary>The photos of a job that still exist, oldest first; all, or those of one kind or operation.</summary>
public sealed class ListPhotos(QueryRunner runner) : IUseCase
{
    public Task<Outcome<IReadOnlyList<PhotoView>>> RunAsync(
        JobId jobId,
        PhotoKind? kind,
        string? operation,
        Actor actor,
        CancellationToken ct
    ) =>
        runner.RunAsync<IReadOnlyList<PhotoView>>(
            Permission.SeeFloor,
            actor,
            async db =>
            {
                if (!await OpenJobs.ExistsAsync(db, jobId, ct))
                {
                    return Failure.Missing("job");
                }

                var photos = db.Set<Photo>().Where(p => p.JobId == jobId && p.RemovedAt == null);
                photos = kind is { } k ? photos.Where(p => p.Kind == k) : photos;
                photos = operation is { } code ? photos.Where(p => p.OperationCode == code) : photos;
                var rows = await photos.OrderBy(p => p.AddedAt).ThenBy(p => p.Id).ToListAsync(ct);
                return Outcome<IReadOnlyList<PhotoView>>.Success([.. rows.Select(PhotoView.Of)]);
            },
            ct
        );

    /// <summary>Whether a photo belongs to a job and was not taken away; asked by commands that show one.</summary>
    internal async Task<bool> IsOfJobAsync(JobId job, PhotoId photo, CancellationToken ct) =>
        (
            await runner.RunAsync<bool>(
                Permission.SeeFloor,
                Actor.System,
                async db =>
                    await db.Set<Photo>().AnyAsync(p => p.Id == photo && p.JobId == job && p.RemovedAt == null, ct),
                ct
            )
        ).Value;
}
