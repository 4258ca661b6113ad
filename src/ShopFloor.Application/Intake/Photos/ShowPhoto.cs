using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Application.Intake.Photos;

/// <summary>Puts a photo on the customer's page, or takes it off there.</summary>
public sealed class ShowPhoto(CommandRunner runner) : IUseCase
{
    public sealed record Request(bool? IsShown);

    public Task<Outcome<PhotoView>> RunAsync(PhotoId id, Request request, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync(
            Permission.ShareProgress,
            envelope,
            new { id, request },
            async scope =>
            {
                if (request.IsShown is not { } isShown)
                {
                    return Failure.Field("isShown", "Say whether the customer sees the photo: true or false.");
                }

                var photo = await scope.Db.Set<Photo>().SingleOrDefaultAsync(p => p.Id == id, scope.Cancellation);
                if (photo is null)
                {
                    return Failure.Missing("photo");
                }

                if (isShown && !photo.IsShown && await IsFullAsync(scope, photo.JobId))
                {
                    return Failure.Because(
                        "tooManyPhotos",
                        $"The customer's page shows at most {MostShown} photos. Take one off first."
                    );
                }

                var wasShown = photo.IsShown;
                if (!photo.Show(isShown).TryGet(out _, out var failure))
                {
                    return failure;
                }

                if (wasShown != isShown)
                {
                    scope.Record(
                        new EventDraft(isShown ? "photo.shown" : "photo.hidden", "photo", id.Value, photo.JobId)
                    );
                    await scope.SaveAsync();
                }

                return Outcome<PhotoView>.Success(PhotoView.Of(photo));
            },
            ct
        );

    /// <summary>Most photos on one customer's page; keeps the page small.</summary>
    public const int MostShown = 40;

    private static async Task<bool> IsFullAsync(CommandScope scope, JobId job) =>
        await scope.Db.Set<Photo>().CountAsync(p => p.JobId == job && p.IsShown, scope.Cancellation) >= MostShown;
}
