using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Files;
using ShopFloor.Application.Routing;
using ShopFloor.Documents.Images;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Application.Intake.Photos;

/// <summary>The part of taking in a photo that runs in a command's transaction: stores picture and thumbnail, adds the record.</summary>
internal static class PhotoIntake
{
    public static async Task<Outcome<PhotoView>> AddAsync(
        CommandScope scope,
        IFileStore files,
        JobId jobId,
        PhotoInput input,
        ProcessedImage image
    )
    {
        var ct = scope.Cancellation;
        if (await OpenJobs.RefusePhotoAsync(scope, jobId, input.Kind ?? PhotoKind.WalkRound) is { } refused)
        {
            return refused;
        }

        var count = await scope.Db.Set<Photo>().CountAsync(p => p.JobId == jobId, ct);
        if (count >= Photo.MostOfJob)
        {
            return Failure.Because("tooManyPhotos", $"This job has {count} photos; no more are kept.");
        }

        if (!input.Place().TryGet(out var place, out var failure))
        {
            return failure;
        }

        if (await CheckReferencesAsync(scope, jobId, input) is { } wrong)
        {
            return wrong;
        }

        var zone = (await scope.ShopAsync()).Zone;
        var picture = new PictureFacts(
            image.OriginalSha256,
            await files.StoreAsync(scope, image.Picture, ProcessedImage.ContentType),
            await files.StoreAsync(scope, image.Thumbnail, ProcessedImage.ContentType),
            image.Width,
            image.Height,
            image.CapturedAt?.ToInstant(zone)
        );
        var added = Photo.Add(
            scope.NewId<PhotoId>(),
            jobId,
            input.Kind ?? PhotoKind.WalkRound,
            picture,
            scope.OccurredAt,
            input.Operation,
            place: place,
            caption: input.Caption
        );
        if (!added.TryGet(out var photo, out failure))
        {
            return failure;
        }

        scope.Db.Add(photo);
        scope.Record(new EventDraft("photo.added", "photo", photo.Id.Value, jobId, After: PhotoTrace.Of(photo)));
        await scope.SaveAsync();
        return PhotoView.Of(photo);
    }

    private static async Task<Failure?> CheckReferencesAsync(CommandScope scope, JobId jobId, PhotoInput input)
    {
        if (input.Operation is { } code)
        {
            var job = await scope.Db.JobsWhole().AsNoTracking().SingleAsync(j => j.Id == jobId, scope.Cancellation);
            if (job.Operation(code) is null)
            {
                return Failure.Field("operation", "This job's route has no such operation.");
            }
        }

        return input.Kind == PhotoKind.Operation && input.Operation is null
            ? Failure.Field("operation", "Say which operation the photo shows.")
            : null;
    }
}

/// <summary>What the history keeps of a photo: hashes and places, no words.</summary>
internal sealed record PhotoTrace(
    PhotoKind Kind,
    string? Operation,
    string OriginalSha256,
    string StoredSha256,
    bool IsPlaced
)
{
    public static PhotoTrace Of(Photo photo) =>
        new(photo.Kind, photo.OperationCode, photo.OriginalHash, photo.StoredHash, photo.Place is not null);
}
