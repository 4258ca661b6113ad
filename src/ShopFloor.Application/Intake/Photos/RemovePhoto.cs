using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Application.Intake.Photos;

/// <summary>Deletes a picture for good, because it shows what it should not. The record and its hashes stay.</summary>
public sealed class RemovePhoto(CommandRunner runner, PhotoContent content) : IUseCase
{
    public async Task<Outcome<PhotoView>> RunAsync(PhotoId id, Envelope envelope, CancellationToken ct)
    {
        var removed = await runner.RunAsync(
            Permission.BookIn,
            envelope,
            new { id },
            async scope =>
            {
                var photo = await scope.Db.Set<Photo>().SingleOrDefaultAsync(p => p.Id == id, ct);
                if (photo is null)
                {
                    return Failure.Missing("photo");
                }

                if (scope.Stale(photo) is { } stale)
                {
                    return stale;
                }

                if (photo.ReadingId is not null)
                {
                    return Failure.Because(
                        "photoProves",
                        "This photo proves a reading and stays with the inspection record."
                    );
                }

                if (!photo.Remove(scope.Now).TryGet(out _, out var failure))
                {
                    return failure;
                }

                scope.Record(
                    new EventDraft("photo.removed", "photo", photo.Id.Value, photo.JobId, Before: PhotoTrace.Of(photo))
                );
                await scope.SaveAsync();
                return Outcome<PhotoView>.Success(PhotoView.Of(photo));
            },
            ct
        );
        if (removed.IsSuccess)
        {
            await content.DeleteUnusedAsync([id], CancellationToken.None);
        }

        return removed;
    }
}
