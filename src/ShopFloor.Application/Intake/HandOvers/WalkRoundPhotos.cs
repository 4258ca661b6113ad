using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Intake.Photos;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Application.Intake.HandOvers;

/// <summary>The photos of a closing walk-round.</summary>
internal static class WalkRoundPhotos
{
    /// <summary>Photos of the car as it came and as it goes, in the order in which they were added.</summary>
    public static async Task<IReadOnlyList<PhotoView>> ToCompareAsync(
        ShopDbContext db,
        JobId jobId,
        CancellationToken ct
    )
    {
        var photos = await db.Set<Photo>()
            .Where(p =>
                p.JobId == jobId
                && p.RemovedAt == null
                && (p.Kind == PhotoKind.WalkRound || p.Kind == PhotoKind.HandOver)
            )
            .OrderBy(p => p.AddedAt)
            .ToListAsync(ct);
        return [.. photos.Select(PhotoView.Of)];
    }

    /// <summary>The walk-round photos of the drop-off that each need a look; refused where a look names a photo of another job.</summary>
    public static async Task<Outcome<IReadOnlyList<PhotoId>>> OfIntakeAsync(
        CommandScope scope,
        JobId jobId,
        IReadOnlyList<LookInput>? looks
    )
    {
        var photos = await scope
            .Db.Set<Photo>()
            .Where(p => p.JobId == jobId && p.RemovedAt == null)
            .Select(p => new { p.Id, p.Kind })
            .ToListAsync(scope.Cancellation);
        var errors = new FieldErrors();
        for (var i = 0; i < (looks?.Count ?? 0); i++)
        {
            errors.AddIf(
                looks![i]?.NewPhotoId is { } id && photos.TrueForAll(p => p.Id != id),
                $"looks[{i}].newPhotoId",
                "This is no photo of this job."
            );
            errors.AddIf(looks[i] is null, $"looks[{i}]", "An entry of the walk-round is empty.");
        }

        return errors.Any
            ? errors.ToFailure()
            : Outcome<IReadOnlyList<PhotoId>>.Success([
                .. photos.Where(p => p.Kind == PhotoKind.WalkRound).Select(p => p.Id),
            ]);
    }
}
