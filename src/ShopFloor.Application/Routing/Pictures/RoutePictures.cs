using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Files;
using ShopFloor.Application.Intake.Photos;
using ShopFloor.Documents.Images;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Routing;

/// <summary>A picture that an instruction can name by its id.</summary>
public sealed record RoutePictureView(RoutePictureId Id, int Width, int Height);

/// <summary>Takes in a picture for instructions; it is written anew like every photo. A draft shows it by its id.</summary>
public sealed class AddRoutePicture(
    CommandRunner runner,
    IImageProcessor images,
    IFileStore files,
    RememberRefusedInput remember
) : IUseCase
{
    public async Task<Outcome<RoutePictureView>> RunAsync(
        ReadOnlyMemory<byte> original,
        Envelope envelope,
        CancellationToken ct
    )
    {
        if (!envelope.Actor.MayDo(Permission.DecideOnRoutes))
        {
            return new Failure.Forbidden("You do not have the role that this needs. Ask the owner.");
        }

        if (!(await images.ProcessAsync(original, "file", ct)).TryGet(out var image, out var failure))
        {
            await remember.RunAsync(envelope, failure, ct);
            return failure;
        }

        return await runner.RunAsync<RoutePictureView>(
            Permission.DecideOnRoutes,
            envelope,
            new { image.OriginalSha256 },
            async scope =>
            {
                var picture = RoutePicture.Add(
                    scope.NewId<RoutePictureId>(),
                    image.OriginalSha256,
                    await files.StoreAsync(scope, image.Picture, ProcessedImage.ContentType),
                    await files.StoreAsync(scope, image.Thumbnail, ProcessedImage.ContentType),
                    image.Width,
                    image.Height,
                    scope.Now,
                    scope.Actor.Person
                );
                scope.Db.Add(picture);
                scope.Record(
                    new EventDraft(
                        "routePicture.added",
                        "routePicture",
                        picture.Id.Value,
                        After: new { original = picture.OriginalHash, stored = picture.StoredHash }
                    )
                );
                await scope.SaveAsync();
                return new RoutePictureView(picture.Id, picture.Width, picture.Height);
            },
            ct
        );
    }
}

/// <summary>The bytes behind instructions' pictures.</summary>
public sealed class RoutePictureContent(QueryRunner queries, IFileStore files) : IUseCase
{
    /// <summary>The picture, or its thumbnail.</summary>
    public async Task<Outcome<StoredFile>> ReadAsync(
        RoutePictureId id,
        bool thumbnail,
        Actor actor,
        CancellationToken ct
    )
    {
        var found = await queries.RunAsync<string>(
            Permission.SeeFloor,
            actor,
            async db =>
                await db.Set<RoutePicture>().SingleOrDefaultAsync(p => p.Id == id, ct) is { } picture
                    ? (thumbnail ? picture.ThumbnailHash : picture.StoredHash)
                    : Failure.Missing("picture"),
            ct
        );
        if (!found.TryGet(out var hash, out var failure))
        {
            return failure;
        }

        return await files.ReadAsync(hash, ct) is { } file ? file : Failure.Missing("picture");
    }
}
