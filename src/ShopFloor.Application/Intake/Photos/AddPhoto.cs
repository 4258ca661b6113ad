using ShopFloor.Application.Common;
using ShopFloor.Application.Files;
using ShopFloor.Documents.Images;
using ShopFloor.Domain.Common;

namespace ShopFloor.Application.Intake.Photos;

/// <summary>A person adds a photo to a job. The picture is decoded and written anew before anything is stored, so that no metadata and no hidden content is kept.</summary>
public sealed class AddPhoto(
    CommandRunner runner,
    IImageProcessor images,
    IFileStore files,
    RememberRefusedInput remember
) : IUseCase
{
    public async Task<Outcome<PhotoView>> RunAsync(
        JobId jobId,
        PhotoInput input,
        ReadOnlyMemory<byte> original,
        Envelope envelope,
        CancellationToken ct
    )
    {
        if (!envelope.Actor.MayDo(Permission.AddPhotos))
        {
            return new Failure.Forbidden("You do not have the role that this needs. Ask the owner.");
        }

        if (!(await images.ProcessAsync(original, "file", ct)).TryGet(out var image, out var failure))
        {
            await remember.RunAsync(envelope, failure, ct);
            return failure;
        }

        return await runner.RunAsync(
            Permission.AddPhotos,
            envelope,
            new
            {
                jobId,
                input,
                image.OriginalSha256,
            },
            scope => PhotoIntake.AddAsync(scope, files, jobId, input, image),
            ct
        );
    }
}
