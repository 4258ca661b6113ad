using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Application.Intake.Photos;

/// <summary>Places a photo on the plan of the car and captions it.</summary>
public sealed class DescribePhoto(CommandRunner runner) : IUseCase
{
    /// <param name="X">0 left to 1 right; absent together with <paramref name="Y"/> takes it off the plan.</param>
    /// <param name="Y">0 nose to 1 tail.</param>
    /// <param name="Caption">Absent takes the caption away.</param>
    public sealed record Request(double? X = null, double? Y = null, string? Caption = null);

    public Task<Outcome<PhotoView>> RunAsync(PhotoId id, Request request, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync(
            Permission.AddPhotos,
            envelope,
            request,
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

                var placed = new PhotoInput(X: request.X, Y: request.Y).Place();
                if (!placed.Then(p => photo.Describe(p, request.Caption)).TryGet(out _, out var failure))
                {
                    return failure;
                }

                scope.Record(
                    new EventDraft("photo.described", "photo", photo.Id.Value, photo.JobId, After: PhotoTrace.Of(photo))
                );
                await scope.SaveAsync();
                return Outcome<PhotoView>.Success(PhotoView.Of(photo));
            },
            ct
        );
}
